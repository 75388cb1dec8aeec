"""A question opens below: number, large word, sentence, caution and drawing stay where they are."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.bench.ask import Ask
from partsbench.ui.bench.caution_band import CautionBand
from partsbench.ui.bench.shout import Shout
from partsbench.ui.big_word import BigWord
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pictures import settle
from partsbench.ui.piece_view import PieceView
from tests.support.shops import code, heron

Place = tuple[QPoint, tuple[int, int]]


def large(page: QWidget) -> dict[QWidget, Place]:
    """Where all stands that is read from two metres; an empty band holds nothing."""
    found = [w for kind in (BigWord, Shout, PieceView) for w in page.findChildren(kind)]
    found += [b for b in page.findChildren(CautionBand) if b.text()]
    return {w: (w.mapTo(page, QPoint()), (w.width(), w.height())) for w in found if w.isVisible()}


@pytest.fixture
def piece(window: MainWindow, shop: Shop) -> Iterator[Piece]:
    made = heron(shop)
    window.resize(1280, 720)
    yield made


@pytest.mark.parametrize(
    ("page", "key"),
    [
        ("bench", Qt.Key.Key_P),
        ("bench", Qt.Key.Key_N),
        ("teardown", Qt.Key.Key_P),
        ("teardown", Qt.Key.Key_N),
        ("teardown", Qt.Key.Key_O),
        ("return", Qt.Key.Key_P),
        ("return", Qt.Key.Key_N),
    ],
)
def test_nothing_large_moves_when_a_question_opens(
    page: str, key: Qt.Key, window: MainWindow, piece: Piece
) -> None:
    window.show_page(page, piece.tag)
    window.take_code(code(piece, "D1"))
    settle()
    shown = window.page()
    before = large(shown)
    QTest.keyClick(shown, key)
    settle()
    ask = shown.findChild(Ask)
    assert ask is not None and ask.isVisible()
    assert large(shown) == before
    ask.close_question()
    settle()
    assert large(shown) == before


def test_a_caution_that_comes_while_a_question_stands_is_shown(
    window: MainWindow, piece: Piece
) -> None:
    window.show_page("return", piece.tag)
    window.take_code(code(piece, "D1"))
    shown = window.page()
    band = shown.findChild(CautionBand)
    assert band is not None and not band.text()
    QTest.keyClick(shown, Qt.Key.Key_N)
    assert band.isHidden(), "its room is lent"
    band.show_text("It is not dry yet.")
    assert band.isVisible()
