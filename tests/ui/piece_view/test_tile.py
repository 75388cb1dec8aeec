"""What stands on one tile, where its outline leaves room."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QApplication, QWidget

from partsbench.core.piece.drawing import ShapeKind
from partsbench.ui.piece_view import Gauge
from partsbench.ui.piece_view.gauge import rim_width
from partsbench.ui.piece_view.looks import Pattern, TileLook
from partsbench.ui.piece_view.strokes import outline_width
from partsbench.ui.piece_view.tile import Tile
from partsbench.ui.theme import Theme


@pytest.fixture
def tile(qapp: QApplication, theme: Theme) -> Iterator[Tile]:
    under = QWidget()
    yield Tile("G1", ShapeKind.OPENING, None, under)
    under.deleteLater()


@pytest.mark.parametrize("high", range(30, 90, 3))
@pytest.mark.parametrize("behind", [False, True])
def test_words_stand_inside_the_outline(tile: Tile, high: int, behind: bool) -> None:
    gauge = Gauge(0.0, behind=behind)
    tile.box = QRectF(0, 0, 82, high)
    tile.show_look(TileLook("G1", "0/11, 2 inside", gauge=gauge))
    texts = tile.texts()
    assert texts and texts[0].text == "G1"
    rim = rim_width(tile.box, gauge)
    for text in texts:
        half = QFontMetricsF(text.font).capHeight() / 2
        assert text.middle.y() - half >= rim, text
        assert text.middle.y() + half <= high - rim, text


@pytest.mark.parametrize("high", range(24, 90, 3))
@pytest.mark.parametrize("pattern", [Pattern.NEXT, Pattern.WRONG])
def test_a_number_stands_inside_a_strong_outline(tile: Tile, high: int, pattern: Pattern) -> None:
    tile.box = QRectF(0, 0, 200, high)
    tile.show_look(TileLook("D6", "D6 goes here", pattern))
    texts = tile.texts()
    assert texts and texts[0].text == "D6"
    number = texts[0]
    half = QFontMetricsF(number.font).capHeight() / 2
    assert number.middle.y() - half >= outline_width(tile.box), number
