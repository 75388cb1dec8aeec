"""The clocks over a page that nobody is at, by themselves."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from partsbench.services.shop import Shop
from partsbench.ui.bench.idle_clocks import IdleClocks
from tests.support.shops import lay_out


def test_a_book_that_is_closed_has_no_clocks(qtbot: QtBot, shop: Shop) -> None:
    """The time may run out between the book and its window."""
    lay_out(shop, "Heron", "2")
    page = QWidget()
    qtbot.addWidget(page)
    page.show()
    clocks = IdleClocks(shop, page, lambda: False)
    clocks.on_went_idle()
    assert clocks.board.isVisible()
    clocks.on_came_back()
    shop.close()
    clocks.on_went_idle()
    assert not clocks.board.isVisible()
