from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from partsbench.services.shop import Shop
from partsbench.ui.pages.layout_page import LayoutPage
from partsbench.ui.pages.load_page import LoadPage
from partsbench.ui.pages.page import Page
from partsbench.ui.pages.return_page import ReturnPage
from partsbench.ui.pages.teardown_page import TeardownPage
from partsbench.ui.theme import Theme
from tests.support.shops import heron


@pytest.fixture(params=[LayoutPage, TeardownPage, ReturnPage, LoadPage])
def page(request: pytest.FixtureRequest, shop: Shop, theme: Theme, qtbot: QtBot) -> Page:
    made: Page = request.param(shop)
    qtbot.addWidget(made)
    made.resize(1100, 640)
    made.show_piece("")
    made.show()
    qtbot.waitExposed(made)
    return made


def button(page: Page, name: str) -> QPushButton:
    found = page.findChild(QPushButton, name)
    assert isinstance(found, QPushButton)
    return found


def in_an_other_book(page: Page, shop: Shop) -> None:
    """There is a piece to choose, and none at work."""
    heron(shop)
    page.show_piece("")


@pytest.mark.parametrize(
    ("name", "asked"), [("no-piece-new", "start"), ("no-piece-choose", "pieces")]
)
def test_without_a_piece_two_ways_lead_on(
    page: Page, shop: Shop, qtbot: QtBot, name: str, asked: str
) -> None:
    in_an_other_book(page, shop)
    with qtbot.waitSignal(page.page_asked) as heard:
        qtbot.mouseClick(button(page, name), Qt.MouseButton.LeftButton)
    assert heard.args == [asked, ""]


def test_an_empty_book_leaves_one_thing_to_do(page: Page, shop: Shop) -> None:
    why = page.findChild(QLabel, "no-piece-why")
    assert why is not None
    shown = {b.objectName() for b in page.findChildren(QPushButton) if b.isVisible()}
    assert shown == {"no-piece-new"}
    assert why.text().startswith("Take a piece in: ")
    in_an_other_book(page, shop)
    assert why.text().startswith("Take a piece in, or choose one of the book: ")


def test_nothing_else_stands_on_the_page_until_there_is_a_piece(page: Page, shop: Shop) -> None:
    in_an_other_book(page, shop)
    shown = {b.objectName() for b in page.findChildren(QPushButton) if b.isVisible()}
    assert shown == {"no-piece-new", "no-piece-choose"}
    page.show_piece(heron(shop).tag)
    shown = {b.objectName() for b in page.findChildren(QPushButton) if b.isVisible()}
    assert shown and not shown & {"no-piece-new", "no-piece-choose"}
