"""After a window was cut off it is asked once what was done since."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.services.books import restart
from partsbench.services.heard.wall import day_sheet
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.paper import text_of
from tests.support.shops import heron


@pytest.fixture
def tag(shop: Shop) -> str:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    return piece.tag


def asked(shop: Shop) -> bool:
    return any("Anything done between" in words for words in day(shop).said)


def test_a_window_that_was_closed_leaves_nothing_to_ask(
    shop: Shop, tag: str, clock: SetClock
) -> None:
    mark = restart.window_opened(shop)
    assert mark
    clock.pass_time(minutes=20)
    assert not asked(shop), "it is open"
    mark.close()
    clock.pass_time(hours=2)
    assert restart.after_restart(shop) is None
    assert not asked(shop)


def test_it_is_asked_of_the_time_since_the_newest_record(
    shop: Shop, tag: str, clock: SetClock
) -> None:
    mark = restart.window_opened(shop)
    assert mark
    clock.pass_time(minutes=3)
    record(shop, "D1", here=tag)
    began = clock.now
    mark.let_go()
    clock.pass_time(minutes=14)
    assert restart.after_restart(shop) is None, "a coffee is no gap"
    restart.was_asked(shop)
    clock.pass_time(minutes=24)
    assert restart.after_restart(shop) == (began, clock.now)
    local = began.astimezone(), clock.now.astimezone()
    words = f"Anything done between {local[0]:%H:%M} and {local[1]:%H:%M}?"
    assert restart.restart_words((began, clock.now)) == words
    assert words in day(shop).said
    clock.pass_time(days=3)
    assert restart.after_restart(shop) is None


def test_nothing_is_asked_of_the_time_before_the_window_was_opened(
    shop: Shop, tag: str, clock: SetClock
) -> None:
    clock.pass_time(hours=12)
    mark = restart.window_opened(shop)
    assert mark
    opened = clock.now
    mark.let_go()
    clock.pass_time(minutes=30)
    assert restart.after_restart(shop) == (opened, opened + timedelta(minutes=30))


def test_the_next_window_takes_the_question_with_it(shop: Shop, tag: str, clock: SetClock) -> None:
    mark = restart.window_opened(shop)
    assert mark
    mark.let_go()
    clock.pass_time(minutes=38)
    assert restart.after_restart(shop)
    again = restart.window_opened(shop)
    assert again
    assert not asked(shop)
    again.close()
    clock.pass_time(minutes=38)
    assert not asked(shop)


def test_closing_one_of_two_windows_does_not_clear_what_the_other_left(
    shop: Shop, tag: str, clock: SetClock
) -> None:
    first, second = restart.window_opened(shop), restart.window_opened(shop)
    assert first and second
    second.let_go()
    first.close()
    clock.pass_time(minutes=20)
    assert asked(shop)


def test_the_printed_day_asks_as_long_as_it_was_not_asked(
    shop: Shop, tag: str, clock: SetClock
) -> None:
    clock.pass_time(minutes=38)
    sheet = day_sheet(shop)
    assert isinstance(sheet, bytes) and "Anything done" not in text_of(sheet)
    mark = restart.window_opened(shop)
    assert mark
    mark.let_go()
    clock.pass_time(minutes=38)
    sheet = day_sheet(shop)
    assert isinstance(sheet, bytes) and "Anything done between" in text_of(sheet)
    restart.was_asked(shop)
    sheet = day_sheet(shop)
    assert isinstance(sheet, bytes) and "Anything done" not in text_of(sheet)


def test_the_answer_stays_in_the_history(shop: Shop, tag: str, clock: SetClock) -> None:
    from partsbench.services.acts.history import history

    restart.answer_restart(shop, "nothing")
    assert history(shop)[0].sentence == "Asked after a restart: nothing"
