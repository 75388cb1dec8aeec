from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.clock_runs import (
    NO_BOOK_YET,
    SLIP,
    STATED_BACK,
    STILL,
    ClockRun,
    Why,
    clock_fault,
    in_doubt,
    is_break,
    set_words,
)

NOW = datetime(2031, 3, 4, 12, tzinfo=UTC)
HOUR, MINUTE, DAY = timedelta(hours=1), timedelta(minutes=1), timedelta(days=1)
DEAD = datetime(2000, 1, 1, tzinfo=UTC)


def run(
    first: int, began: datetime, length: timedelta = HOUR, shift: timedelta | None = None
) -> ClockRun:
    return ClockRun(first, first + 9, began, began + length, shift)


def doubted(runs: list[ClockRun], now: datetime = NOW) -> list[tuple[int, Why]]:
    return [(d.run.first, d.why) for d in in_doubt(runs, now)]


@pytest.mark.parametrize(
    ("later", "broken"),
    [
        (timedelta(), False),
        (-SLIP, False),
        (-SLIP - timedelta(seconds=1), True),
        (STILL, False),
        (STILL + timedelta(seconds=1), True),
    ],
)
def test_a_clock_was_set_where_it_goes_back_or_on_by_half_a_year(
    later: timedelta, broken: bool
) -> None:
    assert is_break(NOW, NOW + later) is broken
    assert not is_break(None, NOW)


def test_a_clock_that_ran_on_leaves_no_doubt() -> None:
    assert doubted([]) == []
    assert doubted([run(1, NOW - 3 * HOUR)]) == []
    assert doubted([run(1, NOW - 30 * DAY, 10 * DAY)]) == []


def test_a_dead_battery_puts_only_its_own_records_in_doubt() -> None:
    before, dead = run(1, NOW - 9 * HOUR), run(11, DEAD)
    assert doubted([before, dead]) == [(11, Why.TOO_OLD)]
    assert doubted([before, dead, run(21, NOW - HOUR)]) == [(11, Why.TOO_OLD)]


def test_a_clock_that_begins_after_this_program_was_made_is_seen_by_its_jump() -> None:
    dead = run(11, NOW - 400 * DAY)
    assert doubted([run(1, NOW - 9 * HOUR), dead]) == [(11, Why.WENT_ON)]


def test_while_the_clock_stands_wrong_its_own_waits_are_right_and_those_from_before_are_not() -> (
    None
):
    before, dead = run(1, NOW - 9 * HOUR), run(11, DEAD)
    assert doubted([before, dead], DEAD + 2 * HOUR) == [(1, Why.WENT_BACK)]


def test_records_of_years_to_come_are_in_doubt_once_the_clock_is_right() -> None:
    early = run(11, NOW + 5 * 365 * DAY)
    before, after = run(1, NOW - 9 * HOUR), run(21, NOW - HOUR)
    assert doubted([before, early]) == [(11, Why.WENT_BACK)]
    assert doubted([before, early, after]) == [(11, Why.WENT_BACK)]


def test_of_a_clock_put_back_by_hours_only_the_later_records_are_in_doubt() -> None:
    morning = run(1, NOW - 5 * HOUR, 4 * HOUR)
    right = run(11, NOW - 3 * HOUR, HOUR)
    (found,) = in_doubt([morning, right], NOW)
    assert found.run is morning and found.why is Why.WENT_BACK
    assert found.covers(NOW - HOUR) and not found.covers(NOW - 3 * HOUR)
    assert not found.covers(NOW - 4 * HOUR)


def test_two_minutes_are_no_doubt() -> None:
    assert doubted([run(1, NOW - HOUR - SLIP, HOUR), run(11, NOW - 2 * SLIP, SLIP)]) == []


def test_a_doubt_stays_when_the_clock_has_caught_up() -> None:
    runs = [run(1, NOW - 5 * HOUR, 4 * HOUR), run(11, NOW - 3 * HOUR, HOUR)]
    assert doubted(runs, NOW + 100 * DAY) == [(1, Why.WENT_BACK)]


def test_what_was_said_is_believed_and_doubts_what_stands_against_it() -> None:
    morning = run(1, NOW - 5 * HOUR, 4 * HOUR, timedelta())
    behind = run(11, NOW - 3 * HOUR, HOUR)
    assert doubted([morning, behind, run(21, NOW - HOUR)]) == [(11, Why.HAD_GONE_BACK)]
    (found,) = in_doubt([morning, behind, run(21, NOW - HOUR)], NOW)
    assert found.covers(NOW - 2 * HOUR) and not found.covers(NOW - HOUR)


def test_a_clock_that_still_stands_before_what_was_said_runs_on_as_wrong() -> None:
    said = run(1, NOW - 5 * HOUR, 4 * HOUR, timedelta())
    behind = run(11, NOW - 3 * HOUR, HOUR)
    assert doubted([said, behind], NOW - HOUR - MINUTE) == []
    assert doubted([said, behind], NOW - HOUR) == [(11, Why.HAD_GONE_BACK)]


def test_once_said_where_it_belongs_nothing_is_in_doubt() -> None:
    moved = run(11, DEAD, HOUR, NOW - 3 * HOUR - DEAD)
    assert doubted([run(1, NOW - 9 * HOUR), moved, run(21, NOW - HOUR)]) == []
    assert doubted([run(1, NOW - 9 * HOUR), moved]) == []
    wrongly = run(11, DEAD, HOUR, NOW - 9 * HOUR - DEAD)
    assert doubted([run(1, NOW - 9 * HOUR), wrongly]) == [(1, Why.WENT_BACK)]


def test_a_shop_that_rested_is_asked_once() -> None:
    rested = run(1, NOW - 300 * DAY)
    assert doubted([rested]) == [(1, Why.WENT_ON)]
    assert doubted([rested, run(11, NOW - HOUR)]) == [(1, Why.WENT_ON)]
    said = run(1, NOW - 300 * DAY, HOUR, timedelta())
    assert doubted([said, run(11, NOW - HOUR)]) == []


def test_the_clock_as_it_stands_is_told_until_it_is_right() -> None:
    before = run(1, NOW - 9 * HOUR, HOUR)
    assert "before this program was made: set it right" in clock_fault([before], DEAD)
    dead = run(11, DEAD)
    assert "before this program was made" in clock_fault([before, dead], DEAD + HOUR)
    assert "01 Jan 2000" in clock_fault([before, dead], DEAD + HOUR)
    assert "2 h before the last record" in clock_fault([before], NOW - 10 * HOUR)
    assert clock_fault([before], NOW - 8 * HOUR - SLIP) == ""
    assert clock_fault([before], NOW) == clock_fault([], NOW) == ""


def test_a_clock_that_stands_years_on_is_told_and_believed_once_somebody_says_so() -> None:
    before, on = run(1, NOW - 9 * HOUR, HOUR), run(11, NOW + 5 * 365 * DAY)
    later = NOW + 5 * 365 * DAY + 2 * HOUR
    for runs in ([before], [before, on]):
        assert "5 years after the last record: is that so?" in clock_fault(runs, later)
    said = run(1, before.began, HOUR, timedelta())
    assert clock_fault([said, on], later) == ""
    assert clock_fault([before, on], NOW) == ""


@given(st.lists(st.integers(-400, 400), min_size=1, max_size=6), st.integers(-400, 400))
def test_nothing_in_doubt_means_times_in_order_and_never_half_a_year_apart(
    hours: list[int], to_now: int
) -> None:
    """Whatever the clock did: a wait from a record that is not in doubt is the time that passed."""
    starts = [NOW + sum(hours[: i + 1]) * DAY for i in range(len(hours))]
    runs = [ClockRun(i, i, at, at) for i, at in enumerate(starts)]
    now = starts[-1] + to_now * DAY
    sound = {r.first for r in runs} - {d.run.first for d in in_doubt(runs, now)}
    times = [r.began for r in runs if r.first in sound]
    for earlier, later in pairwise([*times, now]):
        assert earlier <= later + SLIP and later <= earlier + STILL
    assert all(at >= NO_BOOK_YET for at in times[:-1])


SECOND = timedelta(seconds=1)


def test_the_limits_stand_where_they_are_said_to() -> None:
    assert timedelta(minutes=2) == SLIP
    assert timedelta(days=180) == STILL
    assert timedelta(days=2) == STATED_BACK
    assert datetime(2026, 1, 1, tzinfo=UTC) == NO_BOOK_YET


def test_an_entry_is_believed_up_to_each_limit_and_in_doubt_beyond_it() -> None:
    after = run(21, NOW - HOUR)
    edge = after.began + SLIP
    assert doubted([run(1, edge - HOUR, HOUR), after]) == []
    assert doubted([run(1, edge - HOUR, HOUR + SECOND), after]) == [(1, Why.WENT_BACK)]
    (whole,) = in_doubt([run(1, edge + SECOND, HOUR), after], NOW)
    assert whole.after is None
    (part,) = in_doubt([run(1, edge, HOUR), after], NOW)
    assert part.after == after.began
    rested = after.began - STILL
    assert doubted([run(1, rested - HOUR, HOUR), after]) == []
    assert doubted([run(1, rested - HOUR - SECOND, HOUR), after]) == [(1, Why.WENT_ON)]
    first = ClockRun(1, 1, NO_BOOK_YET, NO_BOOK_YET)
    assert doubted([first], NO_BOOK_YET + HOUR) == []
    assert doubted([first, run(2, NO_BOOK_YET + HOUR)], NO_BOOK_YET + DAY) == []
    old = ClockRun(1, 1, NO_BOOK_YET - SECOND, NO_BOOK_YET - SECOND)
    assert doubted([old, run(2, NO_BOOK_YET + HOUR)], NO_BOOK_YET + DAY) == [(1, Why.TOO_OLD)]


def test_what_was_said_is_held_against_the_latest_that_was_said() -> None:
    late, early = run(1, NOW - 5 * HOUR, HOUR, HOUR), run(11, NOW - 9 * HOUR, HOUR, timedelta())
    assert late.span == (NOW - 4 * HOUR, NOW - 3 * HOUR)
    at = NOW - 3 * HOUR - SLIP
    assert doubted([late, early, run(21, at), run(31, NOW - HOUR)]) == []
    assert doubted([late, early, run(21, at - SECOND), run(31, NOW - HOUR)]) == [
        (21, Why.HAD_GONE_BACK)
    ]


def test_how_the_clock_was_set_is_told_by_its_first_entry() -> None:
    before, back = run(1, NOW - 9 * HOUR, HOUR), run(11, NOW - 11 * HOUR, HOUR)
    on = run(21, NOW + 3 * 365 * DAY)
    assert set_words([before, back, on]) == {
        11: "the clock had gone back by 3 h",
        21: "the clock had gone on by 3 years",
    }
    assert set_words([before, run(11, before.ended + HOUR)]) == {}
    assert set_words([before, run(11, before.ended + 2 * 365 * DAY)])[11].endswith("by 2 years")
    assert set_words([before, run(11, before.ended + 365 * DAY)])[11].endswith("by 365 d")


def test_the_clock_is_told_from_the_newest_record_that_is_believed() -> None:
    before = run(1, NOW - 9 * HOUR, HOUR)
    behind = run(11, NOW - 12 * HOUR, HOUR)
    # What stands before it is not believed, so the newest is still the first.
    assert "2 h before the last record" in clock_fault([before, behind], NOW - 10 * HOUR)
    follows = run(11, before.ended - SLIP, HOUR)
    assert clock_fault([before, follows], follows.ended - SLIP) == ""
    assert "before the last record" in clock_fault([before, follows], follows.ended - SLIP - SECOND)
    near = run(11, before.ended + STILL, HOUR)
    assert clock_fault([before, near], near.ended + HOUR) == ""
    assert "is that so?" in clock_fault([before, run(11, before.ended + STILL + SECOND, HOUR)],
                                        before.ended + STILL + 2 * HOUR)  # fmt: skip
    assert clock_fault([before], before.ended + STILL) == ""
    assert "is that so?" in clock_fault([before], before.ended + STILL + SECOND)
    first = ClockRun(1, 1, NO_BOOK_YET, NO_BOOK_YET)
    assert clock_fault([first], NO_BOOK_YET) == ""
    assert "before this program" in clock_fault([first], NO_BOOK_YET - SECOND)
    assert "before the last record" in clock_fault([run(1, NO_BOOK_YET, DAY)], NO_BOOK_YET)
