from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.durations import parse_duration, say_duration


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("10 min", 10), ("2 h", 120), ("1 d 12 h", 2160), ("0.5 h", 30), ("1 h 30 min", 90)],
)
def test_written_lengths_are_read(text, minutes):
    assert parse_duration(text) == timedelta(minutes=minutes)


@pytest.mark.parametrize("text", ["", "10", "two hours", "2 hours", "-2 h", "2 h and more"])
def test_other_texts_are_not_lengths(text):
    assert parse_duration(text) is None


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(0, "0 min"), (8, "8 min"), (59.2, "1 h"), (190, "3 h 10"), (120, "2 h"), (2880, "2 d")],
)
def test_lengths_are_said_as_the_shop_says_them(minutes, said):
    assert say_duration(timedelta(minutes=minutes)) == said


@given(st.integers(0, 100_000))
def test_a_wait_is_never_said_shorter_by_more_than_the_hours_part(seconds):
    said = say_duration(timedelta(seconds=seconds))
    read = parse_duration(said if said.endswith(("min", "h", "d")) else f"{said} min")
    assert read is not None
    assert read > timedelta(seconds=seconds) - timedelta(hours=1)
