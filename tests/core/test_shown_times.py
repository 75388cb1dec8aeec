from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.shown_times import (
    came_twice,
    day,
    day_and_hour,
    day_and_year,
    full_date,
    hour,
    hour_and_weekday,
    long_date_and_hour,
    long_day,
    long_moment,
    long_weekday_and_day,
    moment,
    month,
    never_came,
    short_month,
    time_of_day,
    weekday,
    weekday_and_date,
    weekday_and_day,
)
from partsbench.core.stated_time import parse_time

NOW = datetime(2031, 3, 4, 8, 30, tzinfo=UTC)
BACK, ON = datetime(2031, 10, 26, tzinfo=UTC), datetime(2031, 3, 30, tzinfo=UTC)
"""The days of 2031 on which the clocks are put back, and on."""
HOUR = timedelta(hours=1)
SHORE = ZoneInfo("America/New_York")


@pytest.fixture(autouse=True)
def in_berlin(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "Europe/Berlin")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize(
    ("later", "short", "near", "whole", "long"),
    [
        (timedelta(hours=1), "10:30", "Tue 10:30", "Tue 04 Mar 10:30", "Tuesday 04 Mar 10:30"),
        (timedelta(days=6), "Mon 09:30", "Mon 09:30", "Mon 10 Mar 09:30", "Monday 10 Mar 09:30"),
        (timedelta(days=-6), *["Wed 09:30"] * 2, "Wed 26 Feb 09:30", "Wednesday 26 Feb 09:30"),
        (timedelta(days=7), *["Tue 11 Mar 09:30"] * 3, "Tuesday 11 Mar 09:30"),
        (timedelta(days=400), *["Wed 07 Apr 2032 10:30"] * 3, "Wednesday 07 Apr 2032 10:30"),
        (timedelta(days=-400), *["Mon 28 Jan 2030 09:30"] * 3, "Monday 28 Jan 2030 09:30"),
    ],
)  # fmt: skip
def test_a_time_is_told_as_far_as_it_is_off_and_with_the_year_of_another(
    later: timedelta, short: str, near: str, whole: str, long: str
) -> None:
    at = NOW + later
    assert (time_of_day(at, NOW), weekday(at, NOW), moment(at, NOW)) == (short, near, whole)
    assert long_moment(at, NOW) == long


def test_the_year_turns_at_midnight_on_the_wall() -> None:
    eve = datetime(2031, 12, 31, 22, 59, tzinfo=UTC)
    assert day(eve, NOW) == "31 Dec"
    assert day(eve + timedelta(minutes=1), NOW) == "01 Jan 2032"
    assert day(eve, eve + timedelta(minutes=1)) == "31 Dec 2031"
    assert day(eve, NOW, year=True) == "31 Dec 2031"


def test_of_an_hour_that_came_twice_it_is_told_which() -> None:
    told = [hour(datetime(2031, 10, 25, 23, 30, tzinfo=UTC) + timedelta(hours=h)) for h in range(4)]
    assert told == ["01:30", "02:30 (first)", "02:30 (second)", "03:30"]
    assert moment(datetime(2031, 10, 26, 1, 30, tzinfo=UTC), NOW) == "Sun 26 Oct 02:30 (second)"
    assert hour(datetime(2026, 11, 1, 6, 30, tzinfo=UTC), SHORE) == "01:30 (second)"
    assert hour(datetime(2026, 11, 1, 5, 30, tzinfo=UTC), SHORE) == "01:30 (first)"


@pytest.mark.parametrize(
    ("wall", "twice", "never"),
    [
        (datetime(2031, 10, 26, 1, 59), False, False),  # noqa: DTZ001
        (datetime(2031, 10, 26, 2, 0), True, False),  # noqa: DTZ001
        (datetime(2031, 10, 26, 2, 59), True, False),  # noqa: DTZ001
        (datetime(2031, 10, 26, 3, 0), False, False),  # noqa: DTZ001
        (datetime(2031, 3, 30, 1, 59), False, False),  # noqa: DTZ001
        (datetime(2031, 3, 30, 2, 0), False, True),  # noqa: DTZ001
        (datetime(2031, 3, 30, 2, 59), False, True),  # noqa: DTZ001
        (datetime(2031, 3, 30, 3, 0), False, False),  # noqa: DTZ001
    ],
)
def test_the_wall_shows_an_hour_twice_and_leaves_one_out(
    wall: datetime, twice: bool, never: bool
) -> None:
    assert (came_twice(wall), never_came(wall)) == (twice, never)


@pytest.mark.parametrize(
    ("text", "now", "said"),
    [
        ("02:30 first", BACK + 3 * HOUR, BACK + 0.5 * HOUR),
        ("2:30 (second)", BACK + 3 * HOUR, BACK + 1.5 * HOUR),
        ("2031-10-26 02:30 second", BACK + 195 * HOUR, BACK + 1.5 * HOUR),
        ("yesterday 02:30 first", BACK + 27 * HOUR, BACK + 0.5 * HOUR),
        ("03:30 first", BACK + 3 * HOUR, BACK + 2.5 * HOUR),
        ("2031-10-26T02:30+01:00", BACK + 195 * HOUR, BACK + 1.5 * HOUR),
    ],
)  # fmt: skip
def test_which_of_the_two_is_said_with_the_time(text: str, now: datetime, said: datetime) -> None:
    assert parse_time(text, now) == said


@pytest.mark.parametrize(
    ("text", "now", "why"),
    [
        ("02:30", BACK + 3 * HOUR, "was there twice"),
        ("2031-10-26 02:00", BACK + 195 * HOUR, "Write “02:00 first”"),
        ("02:30", ON + 3 * HOUR, "never was"),
        ("yesterday 02:00", ON + 27 * HOUR, "never was"),
        ("02:30 second", BACK + 1 * HOUR, "still to come"),
        ("1066-10-14 09:00", NOW, "no time of this work"),
        ("9999-12-31 23:59", NOW, "no time of this work"),
    ],
)
def test_a_time_that_was_not_or_was_twice_is_told(text: str, now: datetime, why: str) -> None:
    said = parse_time(text, now)
    assert isinstance(said, Refused) and why in said.sentence


def test_each_way_of_telling_a_day_and_an_hour() -> None:
    """8:30 UTC of a Tuesday is 9:30 in Berlin; the day is told by two digits but in a sentence."""
    assert long_day(NOW, NOW) == "Tuesday 04 Mar"
    assert full_date(NOW) == "04 March 2031"
    assert day_and_year(NOW) == "04 Mar 2031"
    assert day_and_hour(NOW) == "04 Mar 2031, 09:30"
    assert weekday_and_date(NOW) == "Tuesday 4 March"
    assert long_date_and_hour(NOW) == "Tuesday 04 March 2031, 09:30"
    assert (long_weekday_and_day(NOW), weekday_and_day(NOW)) == ("Tuesday 04", "Tue 04")
    assert (month(NOW), short_month(NOW)) == ("March 2031", "Mar 2031")
    assert hour_and_weekday(NOW) == "Tue 09:30"
    late = datetime(2031, 3, 4, 23, 30, tzinfo=UTC)
    assert day_and_hour(late) == "05 Mar 2031, 00:30", "as the clock on the wall shows it"
    assert long_date_and_hour(late).startswith("Wednesday 05")
    assert hour_and_weekday(late) == "Wed 00:30"
    assert moment(NOW, NOW, year=True) == "Tue 04 Mar 2031 09:30"


def test_a_week_off_a_day_is_told_by_its_date() -> None:
    for days, told in ((6, "Mon 09:30"), (7, "Tue 11 Mar 09:30"), (-7, "Tue 25 Feb 09:30")):
        assert weekday(NOW + timedelta(days=days), NOW) == told
