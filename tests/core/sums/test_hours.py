from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.effort import Own, Worked
from partsbench.core.finish.steps import Operation, Per, Step
from partsbench.core.sums.hours import (
    ClockSpan,
    HoursWorked,
    HowTimed,
    Marked,
    day_of,
    hours,
    recorded,
)
from tests.core.sums.answers import answered, refused

NINE = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
TODAY = day_of(NINE)
WASH = Step("wash", "Wash", "washed", Operation.WASH, minutes_per_part=8)
COAT = Step("coat", "Coat", "coated", Operation.COLOUR, minutes_per_face=2, minutes_per_batch=25)
RINSE = Step("rinse", "Rinse", "rinsed", Operation.RINSE)


def span(step: str, begun: float, ended: float, redo: bool = False) -> ClockSpan:
    """A span by the clock, in hours after nine."""
    return ClockSpan(step, after(begun), after(ended), redo)


def after(hours_later: float) -> datetime:
    return NINE + timedelta(hours=hours_later)


def mark(at: float, part: str = "D1", step: Step = WASH, redo: bool = False) -> list[Marked]:
    """A step recorded on a front and its edges, in hours after nine."""
    faces = ("front", "top edge", "left edge")
    return [Marked(Worked(step, part, face), after(at), redo) for face in faces]


def row(at: float, parts: int = 9, step: Step = WASH, every: float = 0) -> list[Marked]:
    """So many parts, the last of them recorded at `at`."""
    first = at - (parts - 1) * every
    return [m for n in range(parts) for m in mark(first + n * every, f"D{n + 1}", step)]


def told(
    clock: list[ClockSpan],
    marks: list[Marked],
    said: dict[tuple[str, str], timedelta] | None = None,
    own: Own | None = None,
) -> tuple[float, float, float]:
    """Hours measured, corrected and estimated."""
    found = answered(HoursWorked, hours(clock, marks, said, own))
    return tuple(pytest.approx(found.known(how)) for how in HowTimed)  # type: ignore[return-value]


def minutes(of: float) -> timedelta:
    return timedelta(minutes=of)


def test_waiting_between_spans_does_not_count() -> None:
    answer = answered(HoursWorked, hours([span("sand", 0, 1.5), span("stain", 5, 6)], []))
    assert answer.total == pytest.approx(2.5)
    assert answer.by_step == {"sand": 1.5, "stain": 1.0}
    assert answer.sentence == "You have 2.5 h in it."
    assert answer.sources == ("measured by the clock",)


def test_two_parts_in_one_go_count_once() -> None:
    spans = [span("sand", 0, 2), span("sand", 1, 3), span("sand", 1, 2)]
    assert answered(HoursWorked, hours(spans, [])).total == pytest.approx(3)


def test_what_was_put_right_by_hand_needs_no_figure_and_no_clock() -> None:
    """Of the day that was corrected; the same step of the next day still does."""
    said = {("Rinse", TODAY): minutes(30)}
    put_right = answered(HoursWorked, hours([], row(1, 1, RINSE), said))
    assert (put_right.sources, put_right.lacks) == (("corrected by hand",), ())
    further = answered(HoursWorked, hours([], [*row(1, 1, RINSE), *row(25, 1, RINSE)], said))
    assert further.lacks[0] == "how long it takes: Rinse" and len(further.lacks) == 2


def test_nine_washed_drawers_are_nine_times_eight_minutes() -> None:
    assert told([], row(3)) == (0, 0, 1.2)
    assert told([], row(3, every=1 / 60)) == (0, 0, 1.2), "recorded one after another"
    assert told([], row(3, every=8 / 60)) == (0, 0, 1.2), "recorded as they were washed"


def test_two_kinds_of_work_recorded_at_one_time_are_both_work() -> None:
    assert told([], [*row(3), *row(3.02, 5, COAT)]) == (0, 0, 1.2 + 35 / 60)


def test_the_gun_is_set_up_again_after_a_break() -> None:
    assert told([], [*row(3, 2, COAT), *mark(3.5, "D3", COAT)]) == (0, 0, 31 / 60)
    assert told([], [*row(3, 2, COAT), *mark(3.51, "D3", COAT)]) == (0, 0, (29 + 27) / 60)


def test_a_clock_that_ran_wins_over_an_estimate() -> None:
    assert told([span("washing", 0, 0.8)], row(0.8)) == (0.8, 0, 0)
    assert told([span("washing", 0, 0.8)], row(0.8, every=1 / 60)) == (0.8, 0, 0)


def test_what_is_recorded_as_the_clock_is_started_or_stopped_lies_under_it() -> None:
    clock = [span("washing", 1, 2)]
    assert told(clock, [*mark(1, "D1"), *mark(2, "D2")]) == (1, 0, 0)
    assert told(clock, [*mark(0.99, "D1"), *mark(2.2, "D2")]) == (1, 0, 16 / 60)


def test_what_was_done_before_the_clock_was_started_is_estimated() -> None:
    assert told([span("washing", 0.5, 1.3)], [*row(0.4, 3), *row(1.2, 6)]) == (0.8, 0, 0.4)


def test_what_is_recorded_after_the_clock_was_stopped_counts_only_what_lies_after_it() -> None:
    """72 min that ended at 10:15 began at 9:03; the clock ran from 9 to 10:06."""
    assert told([span("washing", 0, 1.1)], row(1.25)) == (1.1, 0, 0.15)


def test_a_break_in_the_clock_is_no_work() -> None:
    clock = [span("washing", 0, 0.5), span("washing", 0.75, 1.1)]
    assert told(clock, row(1.25)) == (0.85, 0, 0.4), "72 min, 48 of them under the clock"


def test_a_clock_begun_in_between_begins_another_go() -> None:
    """16 min before it and 8 after it: neither lies under it."""
    clock = [span("a talk", 0.2, 0.5)]
    assert told(clock, [*row(0.1, 2), *mark(0.65, "D3")]) == (0.3, 0, 0.4)


def test_a_correction_wins_over_clock_and_estimate() -> None:
    assert told([], row(3), {("Wash", TODAY): minutes(50)}) == (0, 50 / 60, 0)
    assert told([], row(3), {("Wash", TODAY): minutes(16 * 60)}) == (0, 16, 0)
    clock = [span("washing", 0, 0.8)]
    assert told(clock, row(0.8), {("washing", TODAY): minutes(65)}) == (0, 65 / 60, 0)
    twice = [span("Wash", 0, 0.5), span("Wash", 1, 2)]
    assert told(twice, row(5), {("Wash", TODAY): minutes(50)}) == (0, 50 / 60, 0)


def test_a_correction_is_of_its_step_and_its_day() -> None:
    said = {("Wash", TODAY): minutes(50)}
    assert told([], [*row(3), *row(27), *row(3, 5, COAT)], said) == (0, 50 / 60, 1.2 + 35 / 60)


def test_a_corrected_clock_that_was_left_open_covers_its_own_day_only() -> None:
    clock = [span("sanding", 0, 30)]
    said = {("sanding", TODAY): minutes(120)}
    assert told(clock, [*row(1, 5, COAT), *row(26)], said) == (0, 2, 1.2)
    assert ("Wash", day_of(after(26))) in recorded(clock, row(26), said)


def test_a_correction_of_what_no_clock_and_no_mark_tells_counts_nothing() -> None:
    assert told([], row(3), {("Sand", TODAY): minutes(50)}) == (0, 0, 1.2)


def test_a_correction_of_what_has_no_figure_counts() -> None:
    assert told([], row(3, 9, RINSE), {("Rinse", TODAY): minutes(20)}) == (0, 20 / 60, 0)


def test_what_nobody_knows_the_length_of_is_missing() -> None:
    found = answered(HoursWorked, hours([], row(3, 9, RINSE)))
    assert found.total == 0
    assert "how long it takes: Rinse" in found.lacks
    under = answered(HoursWorked, hours([span("all", 0, 4)], row(3, 9, RINSE)))
    assert under.lacks == ()


def test_what_can_be_put_right_lies_under_no_other_clock() -> None:
    clock = [span("washing", 0, 1)]
    assert recorded(clock, [*row(0.5), *row(3, 5, COAT)], {}) == [
        ("Coat", TODAY), ("washing", TODAY),
    ]  # fmt: skip


def test_the_shops_own_pace_is_used() -> None:
    own: Own = {(Operation.WASH, Per.PART): [5.0] * 5}
    assert told([], row(3), None, own) == (0, 0, 0.75)


def test_work_done_again_is_shown_apart() -> None:
    answer = answered(
        HoursWorked, hours([span("sand", 0, 2), span("sand", 3, 4.25, redo=True)], [])
    )
    assert answer.redo == pytest.approx(1.25)
    assert answer.sentence == "You have 3.2 h in it. 1.2 h of that is work done again."
    again = answered(HoursWorked, hours([], [*mark(0), *mark(0.1, redo=True)]))
    assert (again.total, again.redo) == (pytest.approx(16 / 60), pytest.approx(8 / 60))


@pytest.mark.parametrize(
    ("clock", "marks", "said", "words"),
    [
        ([span("wash", 0, 2)], [], {}, "2.0 h in it"),
        ([span("wash", 0, 2)], row(5), {}, "3.2 h in it, 1.2 of it estimated"),
        ([], row(5), {}, "1.2 h in it, all of it estimated"),
        ([], mark(5)[:1], {}, "0.1 h in it, all of it estimated"),
        ([span("wash", 0, 2)], [], {("wash", TODAY): minutes(90)},
         "1.5 h in it, all of it corrected by hand"),
        ([span("wash", 0, 2), span("sand", 3, 4)], row(9), {("wash", TODAY): minutes(90)},
         "3.7 h in it, 1.5 of it corrected by hand and 1.2 of it estimated"),
    ],
)  # fmt: skip
def test_the_sentence_says_what_the_clock_did_not_measure(
    clock: list[ClockSpan], marks: list[Marked], said: dict[tuple[str, str], timedelta], words: str
) -> None:
    assert answered(HoursWorked, hours(clock, marks, said)).sentence == f"You have {words}."


def test_each_way_of_knowing_is_a_source_and_each_figure_has_its_own() -> None:
    found = answered(HoursWorked, hours([span("sand", 0, 2)], row(5)))
    assert found.sources[:2] == ("measured by the clock", "estimated")
    assert found.sources[2].startswith("Wash: 8 min a part")
    assert "when work began and ended: start and stop the clock" in found.lacks


@given(st.lists(st.tuples(st.floats(0, 20), st.floats(0, 10), st.sampled_from("ab")), max_size=8))
def test_steps_add_up_and_never_exceed_the_clock(drawn: list[tuple[float, float, str]]) -> None:
    answer = answered(HoursWorked, hours([span(step, a, a + b) for a, b, step in drawn], []))
    assert sum(answer.by_step.values()) == pytest.approx(answer.total)
    longest = max((b for _, b, _ in drawn), default=0)
    assert longest - 1e-6 <= answer.total <= sum(b for _, b, _ in drawn) + 1e-6


@given(
    st.lists(st.tuples(st.floats(0, 12), st.floats(0, 3)), max_size=4),
    st.lists(st.tuples(st.floats(0, 15), st.sampled_from("123"), st.sampled_from((WASH, COAT))),
             max_size=8),
)  # fmt: skip
def test_marks_never_add_less_than_nothing_and_a_clock_over_all_adds_nothing_to_itself(
    spans: list[tuple[float, float]], drawn: list[tuple[float, str, Step]]
) -> None:
    clock = [span("work", a, a + b) for a, b in spans]
    marks = [m for at, part, step in drawn for m in mark(at, f"D{part}", step)]
    alone = answered(HoursWorked, hours(clock, []))
    found = answered(HoursWorked, hours(clock, marks))
    assert found.known(HowTimed.MEASURED) == pytest.approx(alone.total)
    most = sum(8 if step is WASH else 27 for _, _, step in drawn) / 60
    assert 0 <= found.known(HowTimed.ESTIMATED) <= most + 1e-6
    under = answered(HoursWorked, hours([span("all", -1, 15)], marks))
    assert under.known(HowTimed.ESTIMATED) == 0


def test_nothing_recorded_is_told() -> None:
    assert answered(HoursWorked, hours([], [])).lacks == ("any record of work",)


def test_spans_that_cannot_be() -> None:
    assert refused(hours([span("sand", 2, 1)], [])) == "sand: ends before it begins."
    assert "left open" in refused(hours([span("sand", 0, 17)], []))
    assert "corrected" in refused(
        hours([span("sand", 0, 1)], [], {("sand", TODAY): timedelta(hours=-1)})
    )
    assert "corrected" in refused(
        hours([span("sand", 0, 1)], [], {("sand", TODAY): timedelta(hours=16.1)})
    )


def test_a_minute_done_again_is_not_shown_as_no_hours() -> None:
    found = answered(HoursWorked, hours([span("sanding", 0, 1 / 60, redo=True)], []))
    assert found.redo > 0
    assert "0.0 h of that" not in found.sentence
