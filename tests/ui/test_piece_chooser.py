"""Another piece is chosen in the head of the window: the page stays, or the bench comes."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.main_window import MainWindow
from partsbench.ui.piece_chooser import NONE, PieceChooser
from tests.support.shops import heron, quill


def chooser(window: MainWindow) -> PieceChooser:
    found = window.findChild(PieceChooser)
    assert found is not None
    return found


def choose(window: MainWindow, piece: Piece) -> None:
    """As by the list that drops down."""
    box = chooser(window)
    at = box.findData(piece.tag, Qt.ItemDataRole.UserRole)
    assert at >= 0
    box.setCurrentIndex(at)
    box.activated.emit(at)


@pytest.mark.parametrize(("before", "after"), [("layout", "layout"), ("pieces", "bench")])
def test_the_chosen_piece_is_at_work(
    window: MainWindow, shop: Shop, before: str, after: str
) -> None:
    first, second = heron(shop), quill(shop)
    window.show_page(before, first.tag if before == "layout" else "")
    window.on_changed()
    choose(window, second)
    assert (window.page_key(), window.tag) == (after, second.tag)


def test_no_piece_is_none_to_choose(window: MainWindow, shop: Shop) -> None:
    window.show_page("layout")
    box = chooser(window)
    assert box.itemText(0) == NONE
    chosen: list[str] = []
    box.piece_chosen.connect(chosen.append)
    box.activated.emit(0)
    assert chosen == [] and window.page_key() == "layout"
