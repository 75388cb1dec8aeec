from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.piece import shaping
from partsbench.core.piece.front import (
    Front,
    Opening,
    OpeningKind,
    Span,
    check,
    front_from_rows,
)
from partsbench.core.piece.shaping import Axis


def front_of(*counts: int) -> Front:
    front = front_from_rows(counts)
    assert isinstance(front, Front)
    return front


def ok(front: Front | Refused) -> Front:
    assert isinstance(front, Front), front
    assert check(front) == []
    return front


def boxes(front: Front) -> dict[int, tuple[float, ...]]:
    return {o.number: tuple(round(v, 6) for v in front.box(o.span)) for o in front.openings}


def test_a_split_keeps_the_box_of_every_other_opening():
    before = front_of(2, 2, 3)
    after = ok(shaping.split(before, 5, Axis.COLUMNS, 2))
    old, new = boxes(before), boxes(after)
    assert {n: new[n] for n in old if n != 5} == {n: old[n] for n in old if n != 5}
    assert new[5] == pytest.approx((0, 400, 150, 200))
    assert new[8] == pytest.approx((150, 400, 150, 200))


def test_split_in_three_gives_equal_thirds():
    after = ok(shaping.split(front_of(1), 1, Axis.ROWS, 3))
    assert sorted(box[3] for box in boxes(after).values()) == pytest.approx([200 / 3] * 3)


def test_join_after_split_gives_the_front_back():
    before = front_of(2, 2, 3)
    halves = ok(shaping.split(before, 6, Axis.ROWS, 2))
    assert ok(shaping.merge(halves, [6, 8])) == before


def test_a_kneehole_is_three_places_joined_and_emptied():
    front = front_of(1, 3, 3, 3)
    hole = ok(shaping.merge(front, [3, 6, 9]))
    hole = ok(shaping.set_kind(hole, 3, OpeningKind.EMPTY))
    assert hole.opening(3) == Opening(3, Span(1, 1, 1, 3), OpeningKind.EMPTY)
    assert len(hole.openings) == 8


def test_a_drawer_can_span_columns():
    front = ok(shaping.merge(front_of(3, 3), [2, 3]))
    assert boxes(front)[2] == pytest.approx((300, 0, 600, 200))


def test_what_makes_no_rectangle_is_not_joined_and_named():
    fault = shaping.merge(front_of(2, 2), [1, 2, 3])
    assert fault == Refused("Openings 1, 2, 3 do not make one rectangle.")


def test_a_door_hides_two_drawers_and_keeps_its_place():
    front = ok(shaping.set_kind(front_of(1, 2), 3, OpeningKind.DOOR))
    hidden = ok(shaping.put_behind(front, 3, [1, 1]))
    inner = hidden.behind(3)
    assert len(inner) == 2
    assert boxes(hidden)[3] == boxes(front)[3]
    assert sorted(box[1] for box in (hidden.box(o.span) for o in inner)) == pytest.approx(
        [200, 300]
    )
    assert ok(shaping.put_behind(hidden, 3, [])) == front


def test_a_door_with_drawers_behind_it_stays_a_door():
    door = ok(shaping.set_kind(front_of(2), 1, OpeningKind.DOOR))
    full = ok(shaping.put_behind(door, 1, [2]))
    fault = shaping.set_kind(full, 1, OpeningKind.DRAWER)
    assert fault == Refused("Openings 3, 4 stand behind door 1; take them out first.")
    assert isinstance(shaping.put_behind(door, 2, [1]), Refused)


def test_taking_out_a_door_takes_what_it_hides_and_fill_brings_a_drawer():
    door = ok(shaping.set_kind(front_of(2), 1, OpeningKind.DOOR))
    full = ok(shaping.put_behind(door, 1, [2]))
    bare = ok(shaping.remove(full, 1))
    assert [o.number for o in bare.openings] == [2]
    filled = ok(shaping.fill(bare))
    assert boxes(filled)[3] == boxes(front_of(2))[1]


def test_a_full_front_has_nothing_to_fill():
    assert isinstance(shaping.fill(front_of(2, 3)), Refused)


def test_a_border_moves_within_the_whole_and_stops_at_its_neighbour():
    moved = ok(shaping.move_border(front_of(2), Axis.COLUMNS, 0, 50))
    assert moved.columns == (500.0, 400.0)
    assert isinstance(shaping.move_border(moved, Axis.COLUMNS, 0, 395), Refused)
    assert isinstance(shaping.move_border(moved, Axis.COLUMNS, 1, 5), Refused)


def test_sizes_are_set_exactly():
    front = ok(shaping.resize(front_of(2, 2, 3), Axis.ROWS, 1, 187.5))
    assert front.rows == (200.0, 187.5, 200.0)
    wide = ok(shaping.resize_opening(front, 1, Axis.COLUMNS, 500))
    assert boxes(wide)[1][2] == pytest.approx(500)
    assert boxes(wide)[2][2] == pytest.approx(450)
    whole = ok(shaping.scale(front, 1000, 600))
    assert (whole.width, whole.height) == pytest.approx((1000, 600))


@pytest.mark.parametrize("size", [0.0, -5.0, float("nan"), float("inf"), 1e9])
def test_sizes_that_cannot_be_drawn_are_refused(size):
    front = front_of(2, 2)
    assert isinstance(shaping.resize(front, Axis.ROWS, 0, size), Refused)
    assert isinstance(shaping.resize_opening(front, 1, Axis.COLUMNS, size), Refused)
    assert isinstance(shaping.scale(front, size, 400), Refused)


def test_mirroring_twice_gives_the_front_back():
    front = ok(shaping.resize(front_of(2, 3), Axis.COLUMNS, 0, 410))
    twin = shaping.mirrored(front)
    assert twin.columns == tuple(reversed(front.columns))
    assert boxes(twin)[1][0] == pytest.approx(front.width - boxes(front)[1][2])
    assert shaping.mirrored(twin) == front


AXES = st.sampled_from(Axis)
NUMBERS = st.integers(1, 12)
CHANGES = st.one_of(
    st.tuples(st.just("split"), NUMBERS, AXES, st.integers(1, 4)),
    st.tuples(st.just("merge"), st.lists(NUMBERS, max_size=4)),
    st.tuples(st.just("resize"), AXES, st.integers(0, 5), st.floats(-10, 2000)),
    st.tuples(st.just("resize_opening"), NUMBERS, AXES, st.floats(0, 2000)),
    st.tuples(st.just("move_border"), AXES, st.integers(0, 5), st.floats(-300, 300)),
    st.tuples(st.just("scale"), st.floats(0, 5000), st.floats(0, 5000)),
    st.tuples(st.just("set_kind"), NUMBERS, st.sampled_from(OpeningKind)),
    st.tuples(st.just("put_behind"), NUMBERS, st.lists(st.integers(0, 3), max_size=3)),
    st.tuples(st.just("remove"), NUMBERS),
    st.tuples(st.just("fill")),
    st.tuples(st.just("mirrored")),
)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.integers(1, 4), min_size=1, max_size=4), st.lists(CHANGES, max_size=12))
def test_any_sequence_of_changes_leaves_a_front_without_fault(counts, changes):
    front = front_of(*counts)
    for name, *values in changes:
        after = getattr(shaping, name)(front, *values)
        if isinstance(after, Refused):
            assert after.sentence.endswith(".")
            continue
        assert check(after) == []
        front = after


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.integers(1, 4), min_size=1, max_size=4),
    st.lists(st.tuples(NUMBERS, AXES, st.integers(2, 4)), min_size=1, max_size=5),
)
def test_splits_move_no_other_opening(counts, splits):
    front = front_of(*counts)
    for number, axis, parts in splits:
        after = shaping.split(front, number, axis, parts)
        if isinstance(after, Refused):
            continue
        old, new = boxes(front), boxes(after)
        for other in old.keys() - {number}:
            assert new[other] == pytest.approx(old[other], abs=1e-5)
        front = after
