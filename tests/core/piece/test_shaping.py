from __future__ import annotations

from dataclasses import replace

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


def refused(front: Front | Refused) -> str:
    assert isinstance(front, Refused), front
    return front.sentence


def door_of(front: Front, number: int, *rows: int) -> Front:
    """The front with a door there that hides drawers, so many in each row."""
    door = ok(shaping.set_kind(front, number, OpeningKind.DOOR))
    return ok(shaping.put_behind(door, number, rows)) if rows else door


def test_an_opening_is_divided_into_two_or_more_of_a_centimetre_or_more():
    front = ok(shaping.scale(front_of(1), 30, 40))
    assert len(ok(shaping.split(front, 1, Axis.COLUMNS, 3)).openings) == 3
    assert refused(shaping.split(front, 1, Axis.COLUMNS, 4)) == (
        "Opening 1 is 30 mm; 4 parts of it would be too small to draw."
    )
    assert len(ok(shaping.split(front, 1, Axis.ROWS)).openings) == 2, "in two unless it is said"
    assert refused(shaping.split(front, 1, Axis.ROWS, 1)) == (
        "An opening is divided into two or more."
    )
    assert refused(shaping.split(front, 2, Axis.ROWS, 2)) == "There is no opening 2."


def test_the_parts_of_an_opening_stand_in_its_place_in_order_the_first_with_its_number():
    after = ok(shaping.split(front_of(3), 2, Axis.COLUMNS, 3))
    assert [o.number for o in after.openings] == [1, 2, 4, 5, 3]
    assert [boxes(after)[n][0] for n in (2, 4, 5)] == pytest.approx([300, 400, 500])
    down = ok(shaping.split(front_of(1), 1, Axis.ROWS, 4))
    assert [boxes(down)[o.number][1] for o in down.openings] == pytest.approx([0, 50, 100, 150])


def test_a_line_that_is_there_is_used_and_no_second_one_drawn_beside_it():
    """Two over four: the middle of the left half is where the row below has a line."""
    after = ok(shaping.split(front_of(2, 4), 1, Axis.COLUMNS, 2))
    assert len(after.columns) == 4
    near = Front((450.0, 0.4 + 225, 224.6), (200.0, 200.0),
                 (Opening(1, Span(0, 0, 3, 1)), Opening(2, Span(0, 1, 2, 1))))  # fmt: skip
    assert len(ok(shaping.split(near, 1, Axis.COLUMNS, 4)).columns) == 4, "0.4 mm off is that line"
    off = Front((450.0, 0.5 + 225, 224.5), (200.0, 200.0), near.openings)
    assert len(ok(shaping.split(off, 1, Axis.COLUMNS, 4)).columns) == 5, "and 0.5 mm is not"


@pytest.mark.parametrize(
    ("numbers", "why"),
    [
        ([1], "Choose two or more openings to join."),
        ([1, 1], "Choose two or more openings to join."),
        ([1, 99], "Choose two or more openings to join."),
        ([], "Choose two or more openings to join."),
        ([1, 4], "Openings 1, 4 do not make one rectangle."),
    ],
)
def test_what_is_not_joined_is_told(numbers, why):
    assert refused(shaping.merge(front_of(2, 2), numbers)) == why


def test_what_stands_behind_a_door_is_joined_only_with_its_like():
    front = door_of(front_of(2), 1, 2)
    inner = [o.number for o in front.behind(1)]
    assert refused(shaping.merge(front, [2, *inner])) == (
        "An opening in front of a door and one behind it cannot be joined."
    )
    assert len(ok(shaping.merge(front, inner)).behind(1)) == 1
    other = door_of(front_of(2), 2, 1)
    assert refused(shaping.merge(other, [1, 2])) == "Take out what stands behind the doors first."
    joined = ok(shaping.merge(front, [1, 2]))
    assert joined.behind(1) and boxes(joined)[1][2] == pytest.approx(900)


def test_openings_joined_keep_the_number_and_kind_of_the_first():
    front = ok(shaping.set_kind(front_of(2), 1, OpeningKind.SHELF))
    (one,) = ok(shaping.merge(front, [2, 1])).openings
    assert (one.number, one.kind) == (1, OpeningKind.SHELF)
    assert ok(shaping.merge(front, [1, 2])).columns == (900.0,), "no line is left that none uses"


@pytest.mark.parametrize("place", [-1, 2, 3])
def test_a_column_or_row_that_is_not_there_is_told_counted_from_one(place):
    front = front_of(2, 2)
    for axis, one in ((Axis.COLUMNS, "column"), (Axis.ROWS, "row")):
        said = refused(shaping.resize(front, axis, place, 300))
        assert said == f"There is no {one} {place + 1}."
    assert ok(shaping.resize(front, Axis.COLUMNS, 1, 300)).columns == (450, 300)
    assert ok(shaping.resize(front, Axis.ROWS, 0, 300)).rows == (300, 200)


def test_only_lines_between_are_moved_by_taking_from_one_side_and_giving_to_the_other():
    front = front_of(3, 1)
    assert ok(shaping.move_border(front, Axis.COLUMNS, 1, -50)).columns == (300, 250, 350)
    assert ok(shaping.move_border(front, Axis.ROWS, 0, 30)).rows == (230, 170)
    for place in (-1, 2, 3):
        said = refused(shaping.move_border(front, Axis.COLUMNS, place, 5))
        assert said == "The outer edge is moved by the size of the whole front."


def test_an_opening_over_several_columns_is_resized_in_step():
    """Two over three: the left of two spans columns of 300 and 150 mm."""
    front = front_of(2, 3)
    assert front.columns == (300, 150, 150, 300)
    wide = ok(shaping.resize_opening(front, 1, Axis.COLUMNS, 600))
    assert wide.columns == pytest.approx((400, 200, 150, 300))
    assert refused(shaping.resize_opening(front, 9, Axis.ROWS, 100)) == "There is no opening 9."
    high = ok(shaping.resize_opening(front, 4, Axis.ROWS, 250))
    assert high.rows == (200, 250)


def test_both_ways_of_the_whole_are_scaled_each_by_its_own():
    front = ok(shaping.scale(front_of(2, 1), 450, 800))
    assert (front.columns, front.rows) == ((225, 225), (400, 400))


def test_a_kind_that_cannot_be_is_told():
    front = door_of(front_of(2), 1, 1)
    (inner,) = front.behind(1)
    assert refused(shaping.set_kind(front, inner.number, OpeningKind.DOOR)) == (
        "A door behind a door is more than a front can hold."
    )
    shelf = ok(shaping.set_kind(front, inner.number, OpeningKind.SHELF))
    assert shelf.behind(1)[0].kind is OpeningKind.SHELF
    assert ok(shaping.set_kind(front, 1, OpeningKind.DOOR)) == front
    assert refused(shaping.set_kind(front, 99, OpeningKind.DOOR)) == "There is no opening 99."


def test_drawers_behind_a_door_stand_in_rows_as_they_are_told():
    hidden = door_of(front_of(1), 1, 1, 3)
    found = sorted(hidden.box(o.span) for o in hidden.behind(1))
    third = (300, 100)
    wanted = [(0, 0, 900, 100), *((x, 100, *third) for x in (0, 300, 600))]
    assert found == [pytest.approx(box) for box in wanted]
    assert min(o.number for o in hidden.behind(1)) == 2


def test_drawers_that_come_in_place_of_others_take_no_number_that_these_had():
    """A label may be stuck in each."""
    first = door_of(front_of(1), 1, 1)
    (before,) = first.behind(1)
    again = ok(shaping.put_behind(first, 1, [2]))
    assert {o.number for o in again.behind(1)} == {before.number + 1, before.number + 2}
    assert len(again.columns) == 2


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        ([0], "Each row behind a door has one drawer or more."),
        ([1, 0], "Each row behind a door has one drawer or more."),
        ([1] * 21, "would be too small to draw"),
        ([91], "would be too small to draw"),
    ],
)
def test_drawers_that_do_not_fit_behind_a_door_are_refused(rows, why):
    door = door_of(front_of(1), 1)
    assert why in refused(shaping.put_behind(door, 1, rows))
    assert len(ok(shaping.put_behind(door, 1, [1] * 20)).behind(1)) == 20
    assert len(ok(shaping.put_behind(door, 1, [90])).behind(1)) == 90


@pytest.mark.parametrize("number", [1, 99])
def test_nothing_stands_behind_what_is_no_door(number):
    said = refused(shaping.put_behind(front_of(1), number, [1]))
    assert said == f"Opening {number} is no door, so nothing can stand behind it."


def test_a_place_taken_out_leaves_no_line_that_nobody_uses():
    front = ok(shaping.remove(front_of(2, 3), 1))
    front = ok(shaping.remove(front, 2))
    assert front.columns == pytest.approx((300, 300, 300))
    assert refused(shaping.remove(front, 1)) == "There is no opening 1."


@pytest.mark.parametrize(
    ("taken", "filled"),
    [
        ([1, 2], [(0, 0, 600, 200)]),
        ([1, 4], [(0, 0, 300, 400)]),
        ([1, 2, 4, 5], [(0, 0, 600, 400)]),
        ([1, 5], [(0, 0, 300, 200), (300, 200, 300, 200)]),
        ([1, 2, 4], [(0, 0, 600, 200), (0, 200, 300, 200)]),
        ([2, 4, 5], [(300, 0, 300, 400), (0, 200, 300, 200)]),
        ([1, 2, 3, 4, 5, 6], [(0, 0, 900, 400)]),
    ],
)
def test_a_solid_place_is_filled_with_drawers_as_wide_and_then_as_high_as_they_can_be(
    taken, filled
):
    """Three over three, some of them taken out; what comes is numbered on."""
    front = front_of(3, 3)
    for number in taken:
        front = replace(front, openings=tuple(o for o in front.openings if o.number != number))
    after = ok(shaping.fill(front))
    kept = {o.number for o in front.openings}
    new = [boxes(after)[o.number] for o in after.openings if o.number not in kept]
    assert new == [pytest.approx(box) for box in filled]


def test_what_a_door_hides_fills_no_place():
    hidden = door_of(front_of(2), 1, 1)
    assert "nothing can be filled" in refused(shaping.fill(hidden))
    bare = ok(shaping.remove(hidden, 2))
    assert len(ok(shaping.fill(bare)).openings) == len(hidden.openings)


def test_a_grid_line_that_no_opening_ends_at_goes_and_the_rest_stay():
    front = Front((100.0, 200.0, 300.0), (50.0, 60.0), (Opening(1, Span(1, 0, 2, 1)),))
    plain = shaping.without_idle_lines(front)
    assert (plain.columns, plain.rows) == ((100, 500), (50, 60))
    assert boxes(plain) == boxes(front)
    low = Front((100.0, 200.0), (50.0, 60.0), (Opening(1, Span(0, 0, 1, 2)),))
    assert shaping.without_idle_lines(low).rows == (110,)
