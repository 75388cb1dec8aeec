from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.hours import ANY_TIME, DaySpan, Hours, parse_span
from partsbench.core.finish.steps import Operation

MIDNIGHT = datetime(2026, 11, 25, tzinfo=UTC)
SHOP = Hours(DaySpan(time(8), time(21)), DaySpan(time(20), time(7)), UTC)


def clock(hour: float) -> datetime:
    return MIDNIGHT + timedelta(hours=hour)


def start(hour: float, minutes: float = 30, operation: Operation = Operation.MASK) -> float:
    found = SHOP.next_start(clock(hour), timedelta(minutes=minutes), operation)
    assert found is not None
    return (found - MIDNIGHT).total_seconds() / 3600


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("8:00 to 21:00", "08:00 to 21:00"),
        ("from 8 until 21", "08:00 to 21:00"),
        ("20-7", "20:00 to 07:00"),
        ("7.30 – 18.00", "07:30 to 18:00"),
        ("8 to 24", "08:00 to 00:00"),
        ("8:59 to 20:30", "08:59 to 20:30"),
    ],
)
def test_hours_as_they_are_written(text, said):
    assert str(parse_span(text)) == said


@pytest.mark.parametrize(
    "text", ["", "8", "8 to 8", "25 to 3", "8:70 to 9", "24 to 7", "8:60 to 9", "8 to 24:30"]
)
def test_what_is_no_span_of_hours(text):
    assert parse_span(text) is None


def test_a_shop_that_has_said_nothing_works_at_any_time():
    assert ANY_TIME.next_start(clock(3), timedelta(hours=40), Operation.SAND) == clock(3)
    assert not ANY_TIME.is_quiet(clock(3)) and not ANY_TIME.is_off(clock(3))


def test_work_is_begun_and_ended_within_the_hours():
    assert start(10) == 10
    assert start(5) == 8
    assert start(20.5) == 20.5
    assert start(20.75) == 32
    assert start(22) == 32


def test_gun_and_sander_are_silent_in_quiet_hours_and_the_rest_is_not():
    for loud in (Operation.SAND, Operation.COLOUR, Operation.CLEAR):
        assert start(19.4, operation=loud) == 19.4
        assert start(19.75, operation=loud) == 32
    assert start(19.75, operation=Operation.STAIN) == 19.75
    assert SHOP.is_quiet(clock(20)) and SHOP.is_quiet(clock(6.9)) and not SHOP.is_quiet(clock(7))
    assert SHOP.is_off(clock(7.5)) and not SHOP.is_off(clock(8))
    assert SHOP.is_off(clock(21)) and not SHOP.is_off(clock(20.5))


@pytest.mark.parametrize(
    ("quiet", "asked", "begun"), [((6, 9), 8, 9), ((12, 14), 11.5, 14), ((12, 14), 11, 11)]
)
def test_quiet_hours_of_the_morning_and_of_noon_are_kept_too(quiet, asked, begun):
    hours = Hours(DaySpan(time(8), time(21)), DaySpan(*(time(h) for h in quiet)), UTC)
    hour = timedelta(hours=1)
    assert hours.next_start(clock(asked), hour, Operation.SAND) == clock(begun)
    assert hours.next_start(clock(asked), hour, Operation.MASK) == clock(asked)
    assert hours.fits(clock(asked), hour, Operation.SAND) is (asked == begun)


def test_work_longer_than_any_day_finds_no_time():
    assert SHOP.next_start(clock(8), timedelta(hours=14), Operation.MASK) is None
    quiet = Hours(None, DaySpan(time(20), time(7)), UTC)
    assert quiet.next_start(clock(8), timedelta(hours=30), Operation.MASK) == clock(8)
    assert quiet.next_start(clock(8), timedelta(hours=14), Operation.SAND) is None


def test_a_night_shift_is_one_stretch():
    night = Hours(DaySpan(time(22), time(6)), None, UTC)
    assert night.next_start(clock(23), timedelta(hours=6), Operation.SAND) == clock(23)
    assert night.next_start(clock(2), timedelta(hours=5), Operation.SAND) == clock(22)


def test_hours_are_those_of_the_wall_clock_when_the_hour_changes():
    zone = ZoneInfo("Europe/London")
    hours = Hours(DaySpan(time(8), time(21)), None, zone)
    before = datetime(2027, 3, 27, 22, tzinfo=zone)
    found = hours.next_start(before, timedelta(hours=1), Operation.MASK)
    assert found == datetime(2027, 3, 28, 7, tzinfo=UTC)


def test_the_morning_is_when_work_begins():
    assert SHOP.morning(clock(19), 9) == clock(32)
    assert SHOP.morning(clock(3), 9) == clock(8)
    assert SHOP.morning(clock(8), 9) == clock(32)
    assert Hours(zone=UTC).morning(clock(19), 9) == clock(33)


QUARTERS = st.integers(0, 4 * 48)


@given(QUARTERS, st.integers(1, 12), st.sampled_from([Operation.SAND, Operation.MASK]))
def test_the_soonest_start_is_that_of_a_plain_search(quarter, length, operation):
    """Quarter by quarter: every minute of the work must be inside the hours, and outside the quiet
    ones when it is loud."""

    def open_at(q: int) -> bool:
        hour = (q / 4) % 24
        loud = operation is Operation.SAND
        return 8 <= hour < 21 and not (loud and (hour >= 20 or hour < 7))

    found = next(q for q in range(quarter, quarter + 400)
                 if all(open_at(x) for x in range(q, q + length)))  # fmt: skip
    assert start(quarter / 4, 15 * length, operation) == found / 4


@given(QUARTERS, QUARTERS, st.integers(1, 12))
def test_a_later_ask_never_gets_a_sooner_start(one, other, length):
    first, last = sorted((one, other))
    assert start(first / 4, 15 * length) <= start(last / 4, 15 * length)


def test_a_stretch_that_has_just_ended_is_over():
    first = SHOP.stretches(clock(21), 1, loud=False)[0]
    assert first == (clock(32), clock(45))
    assert SHOP.stretches(clock(20.75), 1, loud=False)[0] == (clock(20.75), clock(21))
    assert SHOP.stretches(clock(19), 1, loud=True)[0] == (clock(19), clock(20))


def test_an_hour_of_work_that_ends_with_the_hours_fits_and_a_second_more_does_not():
    hour = timedelta(hours=1)
    assert SHOP.fits(clock(20), hour, Operation.MASK)
    assert not SHOP.fits(clock(20), hour + timedelta(seconds=1), Operation.MASK)
    assert SHOP.fits(clock(8), hour, Operation.MASK)
    assert not SHOP.fits(clock(7.99), hour, Operation.MASK)
