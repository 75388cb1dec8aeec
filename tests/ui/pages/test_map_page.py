"""The progress map as a page of the real window: a key leads to it, a part leads to the bench."""

from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from partsbench.services.shop import Shop
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.map_page import CHOOSE, MapPage
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import code, heron, quill


def page_of(window: MainWindow) -> MapPage:
    page = window.page()
    assert isinstance(page, MapPage)
    return page


def test_it_stands_among_the_pages_and_its_key_brings_it(shop: Shop, window: MainWindow) -> None:
    piece = heron(shop)
    window.show_page("bench", piece.tag)
    assert window.page_actions["map"].shortcut().toString() == "Ctrl+Shift+M"
    window.page_actions["map"].trigger()
    page = page_of(window)
    assert page.sentence.text() == "4 ready."
    assert page.told.text() == CHOOSE
    assert not page.bench.isEnabled()


def test_a_scan_shows_its_part_and_records_nothing(shop: Shop, window: MainWindow) -> None:
    piece = heron(shop)
    window.show_page("map", piece.tag)
    before = shop.book.version()
    window.take_code(code(piece, "D3"))
    page = page_of(window)
    assert page.chosen == "D3"
    assert page.told.text().startswith("D3: drawer, row 2, left: 0 of ")
    assert shop.book.version() == before
    tile = page.map.front.tile("H3")
    assert tile is not None and tile.isChecked()


def test_a_scan_of_another_piece_leaves_the_map_as_it_is(shop: Shop, window: MainWindow) -> None:
    piece, other = heron(shop), quill(shop)
    window.show_page("map", piece.tag)
    page = page_of(window)
    page.on_part_chosen("D1")
    page.scanned(code(other, "D3"))
    assert page.chosen == "D1"


def test_enter_takes_the_part_to_the_bench(shop: Shop, window: MainWindow, qtbot: QtBot) -> None:
    piece = heron(shop)
    window.show_page("map", piece.tag)
    page = page_of(window)
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert window.page_key() == "map", "no part is chosen yet"
    page.on_part_chosen("D2")
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert window.page_key() == "bench"
    assert window.tag == piece.tag


def test_escape_chooses_nothing_again(shop: Shop, window: MainWindow, qtbot: QtBot) -> None:
    window.show_page("map", heron(shop).tag)
    page = page_of(window)
    page.on_part_chosen("D2")
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert page.chosen == "" and page.told.text() == CHOOSE


def test_it_follows_the_book_and_the_clock(shop: Shop, window: MainWindow, clock: SetClock) -> None:
    piece = heron(shop)
    window.show_page("map", piece.tag)
    page = page_of(window)
    record(shop, "D1", here=piece.tag)
    page.refresh()
    tile = page.map.front.tile("H1")
    assert tile is not None and tile.look.words.startswith("1/")
    page.on_minute_passed()
    assert tile.look.words.startswith("1/")


def test_without_a_piece_it_says_how_to_get_one(shop: Shop, window: MainWindow) -> None:
    window.show_page("map")
    page = page_of(window)
    assert not page.map.isVisible()
    assert page.findChild(object, "no-piece") is not None
