"""The Week in the real window: the plan comes in the background, follows the book, is saved."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.services.plan import asking as promises
from partsbench.services.plan import evening
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import set_habit
from partsbench.store import promises as rows
from partsbench.ui import asking
from partsbench.ui.dialogs.print_dialog import PrintDialog
from partsbench.ui.dialogs.what_if_dialog import WhatIfDialog
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.week_page import WeekPage
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes
from tests.support.shops import code, lay_out

TUESDAY = datetime(2031, 3, 4, 9, 20, tzinfo=UTC)
LONG = 20_000
"""Ms; the machine may be busy."""


@pytest.fixture
def clock() -> SetClock:
    return SetClock(TUESDAY)


def week_page(window: MainWindow, qtbot: QtBot) -> WeekPage:
    """The page in front, with its plan made."""
    window.show_page("week")
    page = window.page()
    assert isinstance(page, WeekPage)
    page.planner.seconds = 0.2
    planned(page, qtbot)
    return page


def planned(page: WeekPage, qtbot: QtBot) -> None:
    page.refresh()
    qtbot.waitUntil(lambda: not page.planner.busy and page.shown is not None, timeout=LONG)


def test_the_plan_is_told_and_kept_as_the_one_that_was_shown(
    shop: Shop, window: MainWindow, qtbot: QtBot
) -> None:
    set_habit(shop, "work hours", "8:00 to 18:00")
    piece = two_finishes(shop)
    page = week_page(window, qtbot)
    assert page.shown is not None
    assert page.sentence.text() == page.shown.sentence
    assert page.sentence.text().startswith("Everything is done ")
    assert page.next.text().startswith("Now: Heron D")
    assert page.then.isVisible() and page.then.text() == page.view.week.then != ""  # type: ignore[union-attr]
    said = evening.tonight(shop, seconds=0.2)
    assert said is not None
    assert page.said.lines() == [said.sentence, *page.shown.sentences, *page.sure]
    assert page.sure[0].startswith("Heron: 8 of 10 by ")
    assert [lane.name for lane in page.view.week.lanes][:2] == ["You", "Gun"]  # type: ignore[union-attr]
    assert list(page.shown.ends) == [piece.tag]
    kept = rows.shown(shop.book)
    assert kept is not None and kept[0] == page.shown.at
    assert not page.progress.isVisible() and not page.stop.isVisible()


def test_a_record_moves_the_plan_and_the_line_says_why(
    shop: Shop, window: MainWindow, clock: SetClock, qtbot: QtBot
) -> None:
    set_habit(shop, "work hours", "8:00 to 18:00")
    piece = two_finishes(shop)
    page = week_page(window, qtbot)
    assert not page.moved.isVisible()
    before = page.shown
    clock.pass_time(hours=30)
    do(shop, piece, "D1", "wash")
    planned(page, qtbot)
    assert page.shown is not before
    assert "Heron is done" in page.moved.text() and " and not " in page.moved.text()
    assert page.moved.isVisible()


def test_with_four_pieces_and_what_moved_the_page_needs_no_scrolling(
    shop: Shop, window: MainWindow, clock: SetClock, qtbot: QtBot
) -> None:
    """Its keys stood below the edge of a window of 720 lines."""
    set_habit(shop, "work hours", "8:00 to 18:00")
    piece = two_finishes(shop)
    for name in ("Larch", "Quill", "Wren"):
        lay_out(shop, name, "2", paths=[("paint", ["drawers"])])
    page = week_page(window, qtbot)
    clock.pass_time(hours=30)
    do(shop, piece, "D1", "wash")
    planned(page, qtbot)
    assert page.moved.isVisible() and page.then.isVisible()
    lines = page.moved.heightForWidth(page.moved.width()) / page.moved.fontMetrics().lineSpacing()
    assert round(lines) == 2
    frame = window._stack.currentWidget()
    assert isinstance(frame, QScrollArea) and frame.verticalScrollBar().maximum() == 0
    assert len(page.view.week.lanes) == 7  # type: ignore[union-attr]


def test_a_promise_that_cannot_be_kept_is_told_with_its_chain(
    shop: Shop, window: MainWindow, clock: SetClock, qtbot: QtBot
) -> None:
    piece = two_finishes(shop)
    said = promises.note_promise(shop, piece.tag, clock() + timedelta(hours=5))
    assert isinstance(said, Done)
    page = week_page(window, qtbot)
    first = page.said.lines()[0]
    assert first.startswith("Heron cannot be done by Tuesday 04 Mar")
    assert "No plan is earlier than" in first and "Wash" in first
    assert [m.kept for m in page.view.week.marks if m.promised] == [False]  # type: ignore[union-attr]


def test_the_arrow_keys_go_through_the_lanes_and_escape_leaves_them(
    shop: Shop, window: MainWindow, qtbot: QtBot
) -> None:
    two_finishes(shop)
    page = week_page(window, qtbot)
    usual = page.said.lines()
    qtbot.keyClick(page.view, Qt.Key.Key_Right)
    assert page.view.place == (0, 0)
    span = page.view.span
    assert span is not None and page.said.lines() == list(span.sentences)
    assert page.told.text().startswith("You, Tue 09:20 to ")
    qtbot.keyClick(page.view, Qt.Key.Key_Down)
    assert page.view.place is not None and page.view.place[0] == 1
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert page.view.place is None and page.said.lines() == usual


def test_it_is_saved_as_a_calendar_and_as_a_table(
    shop: Shop, window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    two_finishes(shop)
    page = week_page(window, qtbot)
    monkeypatch.setattr(asking, "ask_new_file", lambda _, __, name: tmp_path / name)
    qtbot.keyClick(page, Qt.Key.Key_2)
    qtbot.keyClick(page, Qt.Key.Key_3)
    assert (tmp_path / "week.ics").read_bytes().startswith(b"BEGIN:VCALENDAR")
    table = (tmp_path / "week.csv").read_text(encoding="utf-8-sig").splitlines()
    assert page.shown is not None
    assert len(table) == 1 + len(page.shown.best.plan.placed)


def test_without_a_piece_it_says_so_and_offers_nothing(window: MainWindow, qtbot: QtBot) -> None:
    page = week_page(window, qtbot)
    assert page.sentence.text() == "Nothing is left to do on the pieces in hand."
    answers: list[object] = []
    page.answered.connect(answers.append)
    qtbot.keyClick(page, Qt.Key.Key_1)
    qtbot.keyClick(page, Qt.Key.Key_2)
    assert answers == [Refused(page.sentence.text())] * 2
    assert not page.next.isVisible()


def test_escape_stops_the_search_and_keeps_what_was_found(
    shop: Shop, window: MainWindow, qtbot: QtBot
) -> None:
    two_finishes(shop)
    window.show_page("week")
    page = window.page()
    assert isinstance(page, WeekPage)
    page.planner.seconds = 600
    assert page.planner.busy and page.stop.isVisible()
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not page.planner.busy, timeout=LONG)
    assert page.shown is not None and page.shown.ends


def test_it_is_printed_through_the_one_print_dialog(
    shop: Shop, window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    two_finishes(shop)
    page = week_page(window, qtbot)
    assert page.shown is not None
    dialog = page.print_dialog(page.shown)
    assert isinstance(dialog, PrintDialog)
    assert dialog.pane().key == "week"
    qtbot.waitUntil(dialog.save.isEnabled, timeout=LONG)
    dialog.save_to(tmp_path / "week.pdf")
    assert (tmp_path / "week.pdf").read_bytes().startswith(b"%PDF")
    dialog.close()


def test_a_plan_that_ends_when_the_book_is_closed_is_let_go(
    window: MainWindow, shop: Shop, qtbot: QtBot
) -> None:
    two_finishes(shop)
    planner = week_page(window, qtbot).planner
    told: list[object] = []
    planner.found.connect(lambda *found: told.append(found))
    assert planner._hand is not None
    made = planner._work(planner._hand, 0.1, first=False)()
    window.close()
    shop.close()
    planner.on_ended(made)
    assert shop.is_closed and told == []


def test_a_label_scanned_over_the_plan_is_shown_and_records_nothing(
    shop: Shop, window: MainWindow, qtbot: QtBot
) -> None:
    piece = two_finishes(shop)
    page = week_page(window, qtbot)
    answers: list[object] = []
    page.answered.connect(answers.append)
    before = shop.book.newest()
    page.scanned(code(piece, "D1"))
    (said,) = answers
    assert isinstance(said, Outcome) and (said.part, said.recorded) == ("D1", False)
    assert shop.book.newest() == before


def test_what_if_and_the_sheet_are_opened_by_their_keys_and_saving_may_be_left(
    shop: Shop, window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    two_finishes(shop)
    page = week_page(window, qtbot)
    answers: list[object] = []
    page.answered.connect(answers.append)
    monkeypatch.setattr(asking, "ask_new_file", lambda *_: None)
    qtbot.keyClick(page, Qt.Key.Key_2)
    qtbot.keyClick(page, Qt.Key.Key_3)
    assert answers == [], "nothing is written, and nothing is said of it"
    page.on_what_if_asked()
    what_if = page.findChild(WhatIfDialog)
    assert what_if is not None and what_if.isVisible()
    what_if.close()
    page.on_print_asked()
    sheet = page.findChild(PrintDialog)
    assert sheet is not None and sheet.pane().key == "week"
    qtbot.waitUntil(sheet.save.isEnabled, timeout=LONG)
    sheet.close()
