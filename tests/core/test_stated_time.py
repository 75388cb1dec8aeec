from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.stated_time import parse_time

ZONE = timezone(timedelta(hours=2))
NOW = datetime(2031, 3, 4, 14, 30, tzinfo=UTC)
"""16:30 in the zone of the shop."""


def at(text: str) -> datetime:
    found = parse_time(text, NOW, ZONE)
    assert isinstance(found, datetime), found
    return found


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("14:20", datetime(2031, 3, 4, 14, 20, tzinfo=ZONE)),
        ("at 9:05", datetime(2031, 3, 4, 9, 5, tzinfo=ZONE)),
        ("today 16:30", datetime(2031, 3, 4, 16, 30, tzinfo=ZONE)),
        ("Yesterday 23:59", datetime(2031, 3, 3, 23, 59, tzinfo=ZONE)),
        ("yesterday at 9:05", datetime(2031, 3, 3, 9, 5, tzinfo=ZONE)),
        ("20 min ago", NOW - timedelta(minutes=20)),
        ("1 minute ago", NOW - timedelta(minutes=1)),
        ("3 h ago", NOW - timedelta(hours=3)),
        ("2 days ago", NOW - timedelta(days=2)),
        ("2031-03-04 08:00", datetime(2031, 3, 4, 8, 0, tzinfo=ZONE)),
        ("2031-03-04T08:00:05+00:00", datetime(2031, 3, 4, 8, 0, 5, tzinfo=UTC)),
        ("", NOW),
        ("now", NOW),
    ],
)
def test_times_as_people_state_them(text: str, said: datetime) -> None:
    assert at(text) == said
    assert at(text).tzinfo is not None


@pytest.mark.parametrize(
    "text",
    ["25:00", "12:60", "noon", "14", "14.20", "-5 min ago", "5 weeks ago", "2031-13-01", "ago"],
)
def test_what_is_no_time_is_told_with_examples(text: str) -> None:
    fault = parse_time(text, NOW, ZONE)
    assert isinstance(fault, Refused)
    assert text in fault.sentence
    assert "14:20" in fault.sentence


@pytest.mark.parametrize("text", ["16:31", "2031-03-04 16:31", "2031-03-05", "23:59"])
def test_a_time_to_come_is_refused(text: str) -> None:
    fault = parse_time(text, NOW, ZONE)
    assert isinstance(fault, Refused)
    assert "still to come" in fault.sentence


def test_the_minute_that_runs_is_not_to_come() -> None:
    assert at("16:30") == NOW


@given(st.text(max_size=25))
def test_any_text_is_a_time_not_to_come_or_a_fault(text: str) -> None:
    found = parse_time(text, NOW, ZONE)
    if isinstance(found, datetime):
        assert found.tzinfo is not None
        assert found <= NOW + timedelta(seconds=1)
    else:
        assert isinstance(found, Refused)


@given(st.integers(1, 60 * 24 * 365 * 100))
def test_written_dates_are_read_in_the_zone_of_the_shop(minutes: int) -> None:
    said = (NOW - timedelta(minutes=minutes)).astimezone(ZONE)
    assert at(said.strftime("%Y-%m-%d %H:%M")) == said


@given(st.integers(0, 9999), st.sampled_from(["min", "h", "d"]))
def test_so_long_ago_never_fails(count: int, unit: str) -> None:
    assert at(f"{count} {unit} ago") <= NOW


@pytest.mark.parametrize(("year", "taken"), [(1899, False), (1900, True)])
def test_no_work_is_older_than_the_shop_can_be(year: int, taken: bool) -> None:
    assert isinstance(parse_time(f"{year}-12-31 12:00", NOW, ZONE), datetime) is taken


@pytest.mark.parametrize(("year", "why"), [(9000, "still to come"), (9001, "no time of this work")])
def test_a_year_that_no_calendar_reaches_is_no_slip_of_the_hour(year: int, why: str) -> None:
    said = parse_time(f"{year}-01-01 12:00", NOW, ZONE)
    assert isinstance(said, Refused) and why in said.sentence


@pytest.mark.parametrize(("clock", "taken"), [("23:59", True), ("24:00", False), ("23:60", False)])
def test_the_last_minute_of_a_day(clock: str, taken: bool) -> None:
    assert isinstance(parse_time(f"yesterday {clock}", NOW, ZONE), datetime) is taken


@pytest.mark.parametrize(("ahead", "taken"), [(1.0, True), (1.01, False)])
def test_a_second_ahead_is_the_clock_and_more_is_to_come(ahead: float, taken: bool) -> None:
    text = (NOW + timedelta(seconds=ahead)).isoformat()
    assert isinstance(parse_time(text, NOW, ZONE), datetime) is taken
