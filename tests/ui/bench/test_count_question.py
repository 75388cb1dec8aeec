"""In the real window, by keys alone: pulls and legs that are alike come home by count."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.acts.teardown import take_out
from partsbench.services.books.pieces import make_alike
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.return_page import ReturnPage
from tests.support.shops import code, lay_out, made

PULLS = tuple(f"P{n}" for n in range(1, 5))
LEGS = tuple(f"L{n}" for n in range(1, 5))


@pytest.fixture
def piece(shop: Shop) -> Piece:
    """Four drawers with a pull each, all alike and taken off; four legs alike, that stand."""
    chest = made(lay_out(shop, "Heron", "2 2", legs=4, equal_legs=True, pulls=1))
    chest = made(make_alike(shop, chest.tag, PULLS))
    assert take_out(shop, chest.tag, list(PULLS)).recorded
    return chest


@pytest.fixture
def page(window: MainWindow, piece: Piece) -> ReturnPage:
    window.show_page("return", piece.tag)
    shown = window.page()
    assert isinstance(shown, ReturnPage)
    return shown


def home(shop: Shop, piece: Piece) -> set[str]:
    parts = piece_state(shop, piece).parts
    return {short for short, own in parts.items() if own.where is Where.HOME}


def says(qtbot: QtBot, page: ReturnPage, text: str) -> None:
    qtbot.keyClicks(page.ask.field, text)
    qtbot.keyClick(page.ask.field, Qt.Key.Key_Return)


def test_a_count_brings_them_home_and_undo_takes_it_back(
    window: MainWindow, page: ReturnPage, shop: Shop, piece: Piece, qtbot: QtBot
) -> None:
    assert page.board.count_button.isVisible()
    qtbot.keyClick(page, Qt.Key.Key_C)
    assert page.ask.question == "How many of P1–P4 are home now?"
    says(qtbot, page, "3")
    assert len(home(shop, piece)) == 3
    assert window.answer_bar.showing() == "DONE P1–P4: 3 of 4 are home. 1 still missing."
    assert "1 of 4 pulls, any of them" in page.board.tray.text()
    assert not page.ask.isVisible() and page.hasFocus()
    qtbot.keyClick(page, Qt.Key.Key_C)
    assert page.ask.question.startswith("How many of P1–P4 are home now, the 3 from before")
    qtbot.keyClick(page.ask.field, Qt.Key.Key_Escape)
    window.actions_by_key["undo"].trigger()
    assert home(shop, piece) == set()
    assert "4 of 4 pulls, any of them" in page.board.tray.text()


def test_all_of_them_is_one_press(page: ReturnPage, shop: Shop, piece: Piece, qtbot: QtBot) -> None:
    qtbot.keyClick(page, Qt.Key.Key_C)
    page.ask.answered.emit("count", "4")
    assert set(PULLS) <= home(shop, piece)
    assert not page.board.count_button.isVisible()
    before = len(history(shop))
    qtbot.keyClick(page, Qt.Key.Key_C)
    assert not page.ask.isVisible() and len(history(shop)) == before


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("5", "P1–P4 are 4; 5 of them cannot be home."),
        ("0", "0 of P1–P4 are home already; say how many are home now, 1 to 4."),
        ("some", "Say how many are home now, as a number."),
        ("", "Say how many are home now, as a number."),
    ],
)
def test_a_count_that_cannot_be_leaves_the_question_open(
    text: str, why: str, page: ReturnPage, shop: Shop, piece: Piece, qtbot: QtBot
) -> None:
    qtbot.keyClick(page, Qt.Key.Key_C)
    says(qtbot, page, text)
    assert page.ask.isVisible() and page.ask.fault == why
    assert home(shop, piece) == set()


def test_of_several_sorts_it_is_first_asked_which(
    page: ReturnPage, shop: Shop, piece: Piece, qtbot: QtBot
) -> None:
    assert take_out(shop, piece.tag, list(LEGS)).recorded
    page.refresh()
    qtbot.keyClick(page, Qt.Key.Key_C)
    assert page.ask.question == "Count which parts?"
    says(qtbot, page, "D1")
    assert page.ask.fault == "Choose which parts."
    page.ask.field.clear()
    qtbot.keyClicks(page.ask.field, "1")
    assert page.ask.question == "How many of L1–L4 are home now?"
    says(qtbot, page, "4")
    assert home(shop, piece) == set(LEGS)


def test_what_was_in_the_hand_is_not_brought_home_a_second_time(
    window: MainWindow, page: ReturnPage, shop: Shop, piece: Piece, qtbot: QtBot
) -> None:
    assert take_out(shop, piece.tag, ["D1"]).recorded
    window.take_code(code(piece, "P2"), trigger=True)
    assert page.lit == "P2"
    qtbot.keyClick(page, Qt.Key.Key_C)
    says(qtbot, page, "4")
    assert (page.lit, page.hand.code) == ("", "")
    before = len(history(shop))
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert len(history(shop)) == before


def test_what_is_alike_to_nothing_is_not_counted(
    page: ReturnPage, shop: Shop, piece: Piece, qtbot: QtBot
) -> None:
    made(make_alike(shop, piece.tag, PULLS, False))
    page.refresh()
    assert not page.board.count_button.isVisible()
    qtbot.keyClick(page, Qt.Key.Key_C)
    assert not page.ask.isVisible()
