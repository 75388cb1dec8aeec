"""Active minutes: per part, per face worked by itself, per m², per batch, and at one's own pace."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.effort import (
    Worked,
    effort,
    effort_alone,
    faces_apart,
    own_times_for,
    told_from,
)
from partsbench.core.finish.steps import Operation, Per, Step
from tests.support.faces import path, step

PAINT = path("paint", "seam")
STAIN = path("stain", "conditioner_oil")
FRONT = ("front", "top edge", "bottom edge", "left edge", "right edge")
EDGES = FRONT[1:]


def batch(of: Step, parts: int = 1, faces: tuple[str, ...] = FRONT, m2: float = 0) -> list[Worked]:
    return [Worked(of, f"D{n + 1}", face, m2) for n in range(parts) for face in faces]


def minutes(of: list[Worked], own: dict[tuple[Operation, Per], list[float]] | None = None) -> float:
    found = effort(of, own)
    assert found is not None
    return found / timedelta(minutes=1)


def test_a_figure_for_a_drawer_counts_once_however_many_faces() -> None:
    wash = step(PAINT, "wash")
    assert wash.minutes_per_part == 8 and wash.minutes_per_face is None
    assert minutes(batch(wash, 9)) == 72
    assert minutes(batch(wash, 9, ("front",))) == 72


def test_a_figure_for_a_front_counts_the_faces_worked_by_themselves() -> None:
    """Edges are done with their front; edges alone are done together; sides are two faces."""
    sand = step(STAIN, "sand_220")
    assert sand.minutes_per_face == 6
    assert minutes(batch(sand)) == 6
    assert minutes(batch(sand, 1, EDGES)) == 6
    assert minutes(batch(sand, 1, ("left side", "right side", "rails"))) == 18
    assert minutes(batch(sand, 9)) == 54


@pytest.mark.parametrize(
    ("faces", "apart"),
    [(FRONT, 1), (EDGES, 1), (("front",), 1), (("front", "back"), 2), (("top", "underside"), 2),
     (("front edge", "top", "back edge"), 1), ((), 1)],
)  # fmt: skip
def test_faces_that_are_worked_by_themselves(faces: tuple[str, ...], apart: int) -> None:
    assert faces_apart(faces) == apart


def test_the_gun_is_set_up_and_cleaned_once_a_batch() -> None:
    coat = step(PAINT, "colour_1")
    assert (coat.minutes_per_face, coat.minutes_per_batch) == (2, 25)
    assert minutes(batch(coat)) == 27
    assert minutes(batch(coat, 9)) == 25 + 9 * 2


def test_every_coat_of_the_gun_has_its_set_up_and_what_is_brushed_has_none() -> None:
    for key in ("paint", "shellac_paint"):
        coats = [s for s in path(key, "third_topcoat").steps
                 if s.operation in (Operation.COLOUR, Operation.TOPCOAT)]  # fmt: skip
        assert {s.minutes_per_batch for s in coats} == {25}
        assert len(coats) == 6
    assert all(s.minutes_per_batch is None for s in path("chalk_wax").steps)


def test_a_figure_per_area_counts_the_area() -> None:
    own = replace(step(PAINT, "sand_220"), minutes_per_face=None, minutes_per_m2=12.0)
    assert minutes(batch(own, 2, ("front",), m2=0.5)) == 12
    assert minutes(batch(replace(own, minutes_per_part=3.0), 2, ("front",), m2=0.5)) == 18


def test_what_nobody_has_a_figure_for_is_not_told() -> None:
    assert effort(batch(step(STAIN, "wipe"), 9)) is None
    assert effort([]) is None


def test_a_part_whose_faces_are_at_different_steps_counts_the_longest() -> None:
    wash = step(PAINT, "wash")
    other = replace(wash, key="wash_twice", minutes_per_part=12.0)
    assert minutes([Worked(wash, "D1", "front"), Worked(other, "D1", "top edge")]) == 12


def test_records_made_in_one_breath_are_no_working_times() -> None:
    stain = step(STAIN, "stain")
    assert minutes(batch(stain), {(Operation.STAIN, Per.FACE): [0.0] * 20}) == 6
    assert effort(batch(step(STAIN, "wipe")), {(Operation.WIPE, Per.FACE): [0.4] * 9}) is None


def test_parts_recorded_much_quicker_than_they_can_be_worked_tell_nothing() -> None:
    """Nine washed drawers scanned every minute were washed before; every two may be quick work."""
    wash = step(PAINT, "wash")
    of = (Operation.WASH, Per.PART)
    assert minutes(batch(wash, 9), {of: [1.9] * 9}) == 72
    assert minutes(batch(wash, 9), {of: [2.0] * 9}) == 18


def test_it_is_the_shops_own_pace_once_there_is_enough_of_it() -> None:
    stain = step(STAIN, "stain")
    assert minutes(batch(stain, 3)) == 18
    assert minutes(batch(stain), {(Operation.STAIN, Per.FACE): [4.0] * 4}) == 6
    washed = {(Operation.WASH, Per.PART): [5.0] * 5}
    assert minutes(batch(step(PAINT, "wash"), 2, ("left side", "right side")), washed) == 10
    own = {(Operation.STAIN, Per.FACE): [4.0, 4.0, 5.0, 30.0, 30.0]}
    assert minutes(batch(stain, 2), own) == 10
    assert minutes(batch(step(STAIN, "wipe"), 2), {(Operation.WIPE, Per.FACE): [3.0] * 5}) == 6


def test_times_of_that_kind_of_part_win_once_there_are_five_of_them() -> None:
    """A carcase is washed in other minutes than a drawer."""
    wash, of = step(PAINT, "wash"), (Operation.WASH, Per.PART)
    own = {of: [5.0] * 6 + [40.0] * 5, (*of, "D"): [5.0] * 6, (*of, "C"): [40.0] * 5}
    carcase = [Worked(wash, "C1", "left side")]
    assert minutes(batch(wash, 2), own) == 10
    assert minutes(carcase, own) == 40
    few = {**own, (*of, "C"): [40.0] * 4}
    assert minutes(carcase, few) == 5, "of all kinds, where there are too few of its own"
    assert own_times_for(wash, few, "C") == own[of]
    quick = {of: [5.0] * 5, (*of, "D"): [0.1] * 9}
    assert minutes(batch(wash, 2), quick) == 10, "what cannot be believed is no time of its kind"


def test_a_pace_by_the_face_says_nothing_of_what_is_counted_by_the_part() -> None:
    wash = step(PAINT, "wash")
    assert minutes(batch(wash, 2), {(Operation.WASH, Per.FACE): [3.0] * 5}) == 16


def test_the_gun_is_set_up_at_ones_own_pace_too() -> None:
    coat = step(PAINT, "colour_1")
    assert minutes(batch(coat, 9), {(Operation.COLOUR, Per.FACE): [1.0] * 5}) == 25 + 9


@given(st.integers(1, 30), st.integers(1, 30), st.sampled_from(PAINT.steps))
def test_two_goes_never_take_less_than_one(a: int, b: int, of: Step) -> None:
    """And no more than the set-up longer."""
    both = effort(batch(of, a + b)) or timedelta()
    apart = (effort(batch(of, a)) or timedelta()) + (effort(batch(of, b)) or timedelta())
    assert apart - both == timedelta(minutes=of.minutes_per_batch or 0)


@pytest.mark.parametrize("own", [{}, {(op, per): [4.0] * 5 for op in Operation for per in Per}])
def test_a_face_alone_is_a_batch_of_one(own: dict[tuple[Operation, Per], list[float]]) -> None:
    for of in (*PAINT.steps, *STAIN.steps):
        assert effort_alone(of, own) == (effort([Worked(of, "D1", "front")], own) or timedelta())


def test_each_figure_says_what_it_is_per_and_where_it_is_from() -> None:
    assert told_from(step(PAINT, "wash"), {}) == (
        "Wash: 8 min a part (5 to 10 min a drawer: trade experience (from memory))"
    )
    coat = told_from(step(PAINT, "colour_1"), {})
    assert "2 min a face (" in coat and "and 25 min a batch (the gun, 10 min to set up" in coat
    own = told_from(step(PAINT, "wash"), {(Operation.WASH, Per.PART): [5.0] * 5})
    assert own == "Wash: 5.0 min a part, the shop's own pace"
    assert told_from(step(STAIN, "wipe"), {}) == ""


def test_ones_own_pace_by_the_face_counts_each_face_worked_by_itself() -> None:
    own = {(Operation.SAND, Per.FACE): [3.0] * 5}
    assert minutes(batch(step(STAIN, "sand_220"), 1, ("left side", "right side")), own) == 6


def test_the_gun_is_set_up_where_one_of_several_steps_wants_it() -> None:
    coat, wash = step(PAINT, "colour_1"), step(PAINT, "wash")
    mixed = [Worked(coat, "D1", "front"), Worked(wash, "D2", "front")]
    assert minutes(mixed) == minutes(mixed[::-1]) == 25 + 2 + 8


def test_the_fifth_time_is_enough_and_half_a_minute_is_a_time() -> None:
    stain = replace(step(STAIN, "stain"), minutes_per_face=None)
    for times, told in (([0.5] * 5, 0.5), ([0.5] * 4, None), ([0.4] * 5, None)):
        found = effort(batch(stain), {(Operation.STAIN, Per.FACE): times})
        assert found == (None if told is None else timedelta(minutes=told))
