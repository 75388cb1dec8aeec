"""One plan for the window: Day, Week and Pieces show the same, and a scan never waits for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from pytestqt.qtbot import QtBot

from partsbench.services.plan import plans
from partsbench.services.plan.evening import tonight
from partsbench.services.shop import Shop
from partsbench.store import promises as rows
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.day_page import DayPage
from partsbench.ui.pages.pieces_page import PiecesPage
from partsbench.ui.pages.week_page import WeekPage
from partsbench.ui.planner import PlanFound, ShopPlanner
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes

LONG = 20_000


@pytest.fixture
def clock() -> SetClock:
    return SetClock(datetime(2031, 3, 4, 9, 20, tzinfo=UTC))


@pytest.fixture
def planner(shop: Shop, qtbot: QtBot) -> ShopPlanner:
    return ShopPlanner(shop, seconds=0.2)


def found(planner: ShopPlanner, qtbot: QtBot) -> PlanFound:
    planner.ask()
    qtbot.waitUntil(lambda: not planner.busy, timeout=LONG)
    assert planner.last is not None
    return planner.last


def test_three_pages_show_one_plan_that_was_made_once(
    shop: Shop, window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = two_finishes(shop)
    made: list[float] = []
    real = plans.planned

    def counted(hand, seconds, *rest):  # type: ignore[no-untyped-def]
        made.append(seconds)
        return real(hand, min(seconds, 0.2), *rest)

    monkeypatch.setattr(plans, "planned", counted)
    pages = []
    for key in ("week", "pieces", "day"):
        window.show_page(key)
        pages.append(window.page())
        planner = pages[-1].planner
        qtbot.waitUntil(lambda p=planner: not p.busy and p.last is not None, timeout=LONG)
    week, pieces, day = pages
    assert isinstance(week, WeekPage)
    assert isinstance(pieces, PiecesPage)
    assert isinstance(day, DayPage)
    assert week.planner is pieces.planner is day.planner
    last = week.planner.last
    assert last is not None and last.tonight is not None
    assert made == [0.0, week.planner.seconds], "a first one and a better one, for all three"
    assert week.shown is last.shown
    assert day.tonight.text() == week.tonight == last.tonight.sentence
    card = pieces.board.cards[piece.tag]
    assert card.next.text() == week.next.text()


def test_a_record_asks_for_another_plan_and_time_alone_does_not(
    shop: Shop, planner: ShopPlanner, clock: SetClock, qtbot: QtBot
) -> None:
    piece = two_finishes(shop)
    first = found(planner, qtbot)
    assert found(planner, qtbot) is first
    do(shop, piece, "D1", "wash")
    second = found(planner, qtbot)
    assert second is not first
    clock.pass_time(minutes=20)
    third = found(planner, qtbot)
    assert third is not second and third.shown.at == clock()


def test_a_page_that_was_not_seen_tells_no_older_plan_than_the_others(
    shop: Shop, window: MainWindow, clock: SetClock, qtbot: QtBot
) -> None:
    """Week seen, then a record on Day, then another: back on Week while the plan is being made."""
    piece = two_finishes(shop)
    window.show_page("week")
    week = window.page()
    assert isinstance(week, WeekPage)
    planner = week.planner
    planner.seconds = 0.1
    qtbot.waitUntil(lambda: not planner.busy and planner.last is not None, timeout=LONG)
    old = week.tonight
    window.show_page("day")
    day = window.page()
    assert isinstance(day, DayPage)
    for short in ("D1", "D2", "D3"):
        do(shop, piece, short, "wash", "rinse")
    clock.pass_time(hours=11)
    day.refresh()
    qtbot.waitUntil(lambda: not planner.busy and planner.last is not None, timeout=LONG)
    assert day.tonight.text() not in ("", old)
    do(shop, piece, "D4", "wash")
    window.show_page("week")
    assert planner.busy and planner.last is None, "the plan after the last record is not there yet"
    assert week.tonight == day.tonight.text()
    assert week.tonight in week.said.lines()


def test_what_changed_stays_with_its_time_until_something_else_does(
    shop: Shop, planner: ShopPlanner, clock: SetClock, qtbot: QtBot
) -> None:
    piece = two_finishes(shop)
    assert found(planner, qtbot).moved == ""
    clock.pass_time(hours=30)
    do(shop, piece, "D1", "wash")
    moved = found(planner, qtbot)
    assert moved.moved == moved.shown.changed != ""
    hand = replace(moved.shown.hand, at=clock() + timedelta(minutes=16))
    planner.on_ended(replace(moved, shown=replace(moved.shown, hand=hand, changed="")))
    assert planner.last is not None
    assert planner.last.moved == f"Since {clock().astimezone():%H:%M}: {moved.shown.changed}"


def test_pieces_tells_what_moved_a_day_as_the_week_does(
    shop: Shop, window: MainWindow, clock: SetClock, qtbot: QtBot
) -> None:
    piece = two_finishes(shop)
    window.show_page("pieces")
    page = window.page()
    assert isinstance(page, PiecesPage)
    planner = page.planner
    planner.seconds = 0.1
    qtbot.waitUntil(lambda: not planner.busy and planner.last is not None, timeout=LONG)
    assert not page.moved.isVisible()
    clock.pass_time(hours=30)
    do(shop, piece, "D1", "wash")
    page.refresh()
    qtbot.waitUntil(lambda: not planner.busy and planner.last is not None, timeout=LONG)
    assert planner.last is not None and "Heron is done " in planner.last.moved
    assert page.moved.isVisible() and page.moved.text() == planner.last.moved


def test_what_a_first_plan_moved_is_not_said_of_the_better_one(
    shop: Shop, planner: ShopPlanner, qtbot: QtBot
) -> None:
    two_finishes(shop)
    last = found(planner, qtbot)
    planner.on_ended(replace(last, shown=replace(last.shown, changed="D1 moves."), first=True))
    assert planner.last is not None and planner.last.moved == "D1 moves."
    qtbot.waitUntil(lambda: not planner.busy, timeout=LONG)
    planner.on_ended(replace(last, shown=replace(last.shown, changed="")))
    assert planner.last.moved == ""


def test_the_first_plan_is_noted_as_shown_too(
    shop: Shop, planner: ShopPlanner, qtbot: QtBot
) -> None:
    """So a sheet or a command asked for while a better one is looked for tells the same."""
    two_finishes(shop)
    planner.seconds = 600
    planner.ask()
    qtbot.waitUntil(lambda: planner.last is not None, timeout=LONG)
    assert planner.last is not None and planner.last.first and planner.busy
    assert planner.last.tonight is not None
    assert tonight(shop) == planner.last.tonight
    planner.wait()


def test_the_book_is_read_after_a_pause_and_piece_by_piece(
    shop: Shop, planner: ShopPlanner, qtbot: QtBot
) -> None:
    piece = two_finishes(shop)
    found(planner, qtbot)
    do(shop, piece, "D1", "wash")
    planner.ask()
    assert planner.busy and planner._reader is None
    assert planner._beat.isActive() and planner._beat.interval() >= 100
    do(shop, piece, "D2", "wash")
    planner.ask()
    last = found(planner, qtbot)
    left = {s.name for s in last.shown.shop.stints}
    assert not any(name in ("Heron D1: Wash", "Heron D2: Wash") for name in left)


def test_who_asks_again_is_told_what_stands_at_once(
    shop: Shop, planner: ShopPlanner, qtbot: QtBot
) -> None:
    two_finishes(shop)
    first = found(planner, qtbot)
    told: list[PlanFound] = []
    planner.found.connect(told.append)
    planner.ask()
    assert told == [first]


def test_stopped_it_keeps_the_first_plan_and_says_nothing_of_chance(
    shop: Shop, planner: ShopPlanner, qtbot: QtBot
) -> None:
    two_finishes(shop)
    planner.seconds = 600
    planner.ask()
    qtbot.waitUntil(lambda: planner.last is not None, timeout=LONG)
    planner.stop()
    qtbot.waitUntil(lambda: not planner.busy, timeout=LONG)
    assert planner.last is not None and planner.last.sure == ()
    assert rows.shown(shop.book) is not None


def test_a_closed_book_is_read_no_more(shop: Shop, planner: ShopPlanner) -> None:
    planner.ask()
    shop.close()
    planner.on_beat()
    assert planner.last is None


def test_a_window_that_closes_lets_the_search_come_to_its_end(
    shop: Shop, window: MainWindow, qtbot: QtBot
) -> None:
    two_finishes(shop)
    window.show_page("week")
    page = window.page()
    assert isinstance(page, WeekPage)
    planner = page.planner
    planner.seconds = 600
    qtbot.waitUntil(lambda: planner.last is not None and planner.busy, timeout=LONG)
    window.close()
    assert not planner.busy and not planner._later._pool.activeThreadCount()


def test_after_it_was_let_go_who_asks_again_gets_a_plan(
    shop: Shop, planner: ShopPlanner, qtbot: QtBot
) -> None:
    two_finishes(shop)
    planner.ask()
    planner.wait()
    assert planner.last is None and not planner.busy
    assert found(planner, qtbot).shown.ends
