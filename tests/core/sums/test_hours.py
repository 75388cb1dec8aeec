from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.hours import Hours, Span, hours
from tests.core.sums.answers import answered, refused

NINE = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def span(step: str, begun: float, ended: float, redo: bool = False) -> Span:
    """A span in hours after nine."""
    return Span(step, NINE + timedelta(hours=begun), NINE + timedelta(hours=ended), redo)


def test_waiting_between_spans_does_not_count() -> None:
    answer = answered(Hours, hours([span("sand", 0, 1.5), span("stain", 5, 6)]))
    assert answer.total == pytest.approx(2.5)
    assert answer.by_step == {"sand": 1.5, "stain": 1.0}
    assert answer.sentence == "You have 2.5 h in it."


def test_two_parts_in_one_go_count_once() -> None:
    answer = answered(Hours, hours([span("sand", 0, 2), span("sand", 1, 3), span("sand", 1, 2)]))
    assert answer.total == pytest.approx(3)


def test_a_correction_wins_and_is_told() -> None:
    forgot = replace(span("sand", 0, 30), corrected=timedelta(hours=2))
    answer = answered(Hours, hours([forgot]))
    assert answer.total == 2
    assert "corrected by hand" in answer.sources


def test_work_done_again_is_shown_apart() -> None:
    answer = answered(Hours, hours([span("sand", 0, 2), span("sand", 3, 4.25, redo=True)]))
    assert answer.redo == pytest.approx(1.25)
    assert answer.sentence == "You have 3.2 h in it, 1.2 h of that work done again."


@given(st.lists(st.tuples(st.floats(0, 20), st.floats(0, 10), st.sampled_from("ab")), max_size=8))
def test_steps_add_up_and_never_exceed_the_clock(drawn: list[tuple[float, float, str]]) -> None:
    answer = answered(Hours, hours([span(step, a, a + b) for a, b, step in drawn]))
    assert sum(answer.by_step.values()) == pytest.approx(answer.total)
    longest = max((b for _, b, _ in drawn), default=0)
    assert longest - 1e-6 <= answer.total <= sum(b for _, b, _ in drawn) + 1e-6


def test_nothing_recorded_is_told() -> None:
    assert answered(Hours, hours([])).lacks == ("any record of work",)


def test_spans_that_cannot_be() -> None:
    assert refused(hours([span("sand", 2, 1)])) == "sand: ends before it begins."
    assert "left open" in refused(hours([span("sand", 0, 17)]))
    assert "corrected" in refused(
        hours([replace(span("sand", 0, 1), corrected=timedelta(hours=-1))])
    )


def test_a_minute_done_again_is_not_shown_as_no_hours() -> None:
    begun = datetime(2026, 11, 25, 9, tzinfo=UTC)
    found = hours([Span("sanding", begun, begun + timedelta(minutes=1), redo=True)])
    assert isinstance(found, Hours) and found.redo > 0
    assert "0.0 h of that" not in found.sentence
