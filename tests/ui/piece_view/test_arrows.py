"""No arrow hides a number, and the number of a thin leg stands beside it."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from partsbench.services.shop import Shop
from partsbench.ui.piece_view import Pattern, PieceView, TileLook
from partsbench.ui.theme import Theme
from tests.support.shops import heron

BOTH = pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)


@pytest.fixture
def view(shop: Shop, theme: Theme, qtbot: QtBot) -> PieceView:
    made = PieceView()
    qtbot.addWidget(made)
    made.resize(620, 360)
    made.show_piece(heron(shop))
    made.show()
    qtbot.waitExposed(made)
    return made


def place_of_number(view: PieceView, key: str) -> QRectF:
    tile = view.tile(key)
    assert tile is not None
    return tile.texts()[0].chip.translated(tile.pos())


def share_of(view: PieceView, area: QRectF, colour: QColor) -> float:
    """How much of an area has that very colour."""
    picture = view.grab(area.toRect()).toImage()
    spots = [(x, y) for x in range(picture.width()) for y in range(picture.height())]
    return sum(picture.pixelColor(x, y) == colour for x, y in spots) / len(spots)


@BOTH
@pytest.mark.parametrize("ends", [("H1", "H7"), ("H5", "H2"), ("H1", "H4"), ("H5", "H7")])
def test_an_arrow_never_lies_over_a_number(
    view: PieceView, theme: Theme, ends: tuple[str, str]
) -> None:
    stop = theme.color("stop")
    view.show_arrows([ends])
    assert share_of(view, QRectF(view.rect()), stop) > 0.002, "the arrow itself is drawn"
    for key in (f"H{n}" for n in range(1, 8)):
        # The plate of a number has round corners, past which an arrow may be seen.
        inner = place_of_number(view, key).adjusted(2, 2, -2, -2)
        assert share_of(view, inner, stop) == 0, key


@BOTH
@pytest.mark.parametrize("size", [(620, 360), (800, 560), (420, 300)])
def test_the_turn_of_a_move_lies_on_no_number(
    view: PieceView, theme: Theme, size: tuple[int, int]
) -> None:
    view.resize(*size)
    stop = theme.color("stop")
    ring = [("H5", "H2"), ("H2", "H6"), ("H6", "H5"), ("H1", "H3")]
    view.show_arrows(ring, ["1", "2", "3", "4"])
    for key in (f"H{n}" for n in range(1, 8)):
        inner = place_of_number(view, key).adjusted(2, 2, -2, -2)
        assert share_of(view, inner, stop) == 0, key


def test_the_number_of_a_thin_leg_stands_beside_it_and_within_the_view(view: PieceView) -> None:
    for key in ("H8", "H9", "H10", "H11"):
        number = place_of_number(view, key)
        assert not number.adjusted(4, 0, -4, 0).intersects(view.tile_rect(key)), key
        assert QRectF(view.rect()).contains(number), key


def test_a_leg_bears_no_words_that_its_width_would_cut(view: PieceView) -> None:
    piece = view.piece
    assert piece is not None
    view.show_piece(piece, {"H8": TileLook("L1", "paint", Pattern.FILLED, fill="paint")})
    tile = view.tile("H8")
    assert tile is not None
    assert [text.text for text in tile.texts()] == ["L1"]
