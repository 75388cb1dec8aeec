from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from random import Random
from typing import Any

import pytest
from hypothesis import given, seed, settings
from hypothesis import strategies as st

from partsbench.core.sums.drilling import Holes, centres
from partsbench.core.sums.fronts import OldFront, Point, Pull
from partsbench.core.sums.holes import HolePlan, plan_holes
from partsbench.core.sums.places import LEAST_EDGE_MM, MIDDLE, SIXTH, Along
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


def old_front(name: str, spacing: float, shows: bool = True) -> OldFront:
    holes = (Point(300 - spacing / 2, 75), Point(300 + spacing / 2, 75))
    return OldFront(name, 600, 150, holes, shows)


def test_the_same_spacing_uses_the_old_holes() -> None:
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96, 110, 12), [old_front("D1", 96)]))
    assert plan.fronts[0].to_drill == 0
    assert plan.fronts[0].to_fill == ()
    assert plan.sentence == "96 mm uses or covers 2 of 2 old holes; none shows."


def test_a_plate_covers_what_it_reaches_over() -> None:
    wide = answered(HolePlan, plan_holes(Pull("3 in", 76.2, 120, 30), [old_front("D1", 96)]))
    assert len(wide.fronts[0].covered) == 2
    assert wide.fronts[0].to_drill == 2
    bare = answered(HolePlan, plan_holes(Pull("3 in", 76.2, foot=12), [old_front("D1", 96)]))
    assert len(bare.fronts[0].to_fill) == 2
    broad = answered(HolePlan, plan_holes(Pull("3 in", 76.2, foot=22), [old_front("D1", 96)]))
    assert len(broad.fronts[0].covered) == 2


def test_filling_shows_on_stain_and_not_under_paint() -> None:
    fronts = [old_front("D1", 76.2), old_front("D2", 76.2), old_front("D3", 76.2, shows=False)]
    plan = answered(HolePlan, plan_holes(Pull("128 mm", 128, foot=12), fronts))
    assert plan.rank == (4, 6, 6)
    said = "128 mm uses or covers 0 of 6 old holes; 4 fillings show on D1, D2."
    assert plan.sentence == said


def test_two_pulls_move_to_meet_old_holes() -> None:
    """Old pairs of 96 mm stand 110 mm from each side: not a quarter of the width, but symmetric."""
    holes = tuple(Point(x, 75) for x in (62, 158, 442, 538))
    plan = answered(
        HolePlan,
        plan_holes(Pull("96 mm", 96, 110, 12, 2), [OldFront("D5", 600, 150, holes, True)]),
    )
    assert plan.fronts[0].to_drill == 0
    assert [p.x for p in plan.fronts[0].centres] == [62, 158, 442, 538]


def test_the_candidate_that_needs_no_hole_ranks_first_and_what_does_not_fit_is_refused() -> None:
    fronts = [old_front("D1", 96)]
    offers = [
        Pull("128 mm", 128, foot=12),
        Pull("96 mm", 96, 110, 12),
        Pull("huge", 800, 820, 10),
    ]
    wide, same = (answered(HolePlan, plan_holes(offer, fronts)) for offer in offers[:2])
    assert same.rank < wide.rank
    assert "does not fit on D1" in refused(plan_holes(offers[2], fronts))


@given(
    st.lists(st.tuples(st.integers(0, 600), st.integers(0, 150)), max_size=8, unique=True),
    st.floats(0, 200),
    st.integers(1, 2),
)
def test_every_old_hole_is_accounted_for_and_the_layout_is_symmetric(
    holes: list[tuple[int, int]], spacing: float, count: int
) -> None:
    front = OldFront("D1", 600, 150, tuple(Point(x, y) for x, y in holes), True)
    plan = plan_holes(Pull("pull", spacing, 40, 12, count), [front])
    if not isinstance(plan, HolePlan):
        assert count == 2
        return
    one = plan.fronts[0]
    assert sorted(map(repr, (*one.reused, *one.covered, *one.to_fill))) == sorted(
        map(repr, front.holes)
    )
    across = sorted(p.x for p in one.centres)
    assert across == pytest.approx(sorted(600 - x for x in across))


@pytest.mark.parametrize("value", NONSENSE)
def test_pulls_and_fronts_that_cannot_be(value: Any) -> None:
    front = old_front("D1", 96)
    assert "width of D1" in refused(
        plan_holes(Pull("p", 96, 110, 12), [replace(front, width=value)])
    )
    assert "spacing" in refused(plan_holes(Pull("p", value, 110, 12), [front]))


def test_a_hole_outside_its_front() -> None:
    front = OldFront("D1", 600, 150, (Point(610, 75),), True)
    assert "hole of D1: at 610 mm from the left, 75 mm from the top lies" in refused(
        plan_holes(Pull("p", 96, 110, 12), [front])
    )
    assert refused(plan_holes(Pull("p", 96, 110, 12), [])) == "fronts: there are none."


def test_pulls_of_a_row_sit_on_one_line_though_one_front_would_rather_not() -> None:
    """D1 and D2 have their holes 60 mm down, D3 in the middle: D3 is filled, not set apart."""
    low = tuple(Point(x, 60) for x in (252, 348))
    middle = tuple(Point(x, 75) for x in (252, 348))
    fronts = [OldFront(f"D{i}", 600, 150, low, True) for i in (1, 2)]
    fronts.append(OldFront("D3", 600, 150, middle, True))
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96, foot=12), fronts))
    assert {c.y for front in plan.fronts for c in front.centres} == {60}
    assert plan.looks[0].say() == "60.0 mm from the top"
    assert plan.rank == (2, 2, 2)
    assert plan.sentence == "96 mm uses or covers 4 of 6 old holes; 2 fillings show on D3."


def test_a_front_that_shows_its_filler_outweighs_two_under_paint() -> None:
    low = (Point(300, 60),)
    painted = [OldFront(f"D{i}", 600, 150, low, False) for i in (1, 2)]
    stained = OldFront("D3", 600, 150, (Point(300, 40),), True)
    plan = answered(HolePlan, plan_holes(Pull("knob", 0, foot=12), [*painted, stained]))
    assert plan.looks[0].down == Along(40)
    assert plan.rank == (0, 2, 2)


def test_what_is_seen_by_itself_has_a_line_of_its_own() -> None:
    outer = OldFront("D1", 600, 150, (Point(300, 60),), True, "drawers")
    inner = OldFront("D9", 400, 90, (Point(200, 30),), True, "inside")
    plan = answered(HolePlan, plan_holes(Pull("knob", 0, foot=12), [outer, inner]))
    assert [(look.group, look.down) for look in plan.looks] == [
        ("drawers", Along(60)),
        ("inside", Along(30)),
    ]


def test_fronts_of_a_row_measured_a_little_apart_keep_one_middle() -> None:
    fronts = [
        OldFront("D1", 300, 140, (), True, "", "top"),
        OldFront("D2", 300, 141, (), True, "", "top"),
    ]
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96, foot=12), fronts))
    assert {c.y for front in plan.fronts for c in front.centres} == {70.25}


def test_two_pulls_stand_as_far_from_the_side_on_every_front() -> None:
    """Old pairs 110 mm in on two fronts, 150 on a third: all stand 110 mm in."""
    holes = [
        tuple(Point(x, 75) for x in (m - 48, m + 48, 552 - m, 648 - m)) for m in (110, 110, 150)
    ]
    fronts = [OldFront(f"D{i}", 600, 150, h, True, count=2) for i, h in enumerate(holes, 1)]
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96, foot=12), fronts))
    assert [[c.x for c in f.centres] for f in plan.fronts] == [[62, 158, 442, 538]] * 3
    assert plan.looks[0].say() == "in the middle of the height; two 110.0 mm in from the sides"


def test_two_old_holes_in_one_place_do_not_spare_a_second_drilling() -> None:
    front = OldFront("D1", 600, 150, (Point(252, 75), Point(252.3, 75)), True)
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96, foot=12), [front]))
    assert (len(plan.fronts[0].reused), plan.fronts[0].to_drill) == (2, 1)


def gone(front: OldFront, centres: tuple[Point, ...], wide: float, high: float) -> int:
    """Old holes that lie under a plate round one of the centres; reckoned anew, without a plan."""
    return sum(
        any(abs(hole.x - c.x) < wide / 2 and abs(hole.y - c.y) < high / 2 for c in centres)
        for hole in front.holes
    )


def every_look(fronts: list[OldFront], two: bool, wide: int, high: int) -> Iterator[int]:
    """Fillings for a knob on every common line and side in whole mm, and for the middle line."""
    edge = 10  # wood beside a hole
    lines = [None, *range(edge, min(int(f.height) for f in fronts) - edge + 1)]
    room = min(int(f.width) for f in fronts) // 2
    sides = [*range(edge, room - edge + 1)] if two else [None]
    for line, side in product(lines, sides):
        total = 0
        for f in fronts:
            y = f.height / 2 if line is None else line
            xs = (f.width / 2,) if side is None else (side, f.width - side)
            total += len(f.holes) - gone(f, tuple(Point(x, y) for x in xs), wide, high)
        yield total


@seed(20261125)
@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.lists(st.tuples(st.integers(0, 80), st.integers(0, 40)), max_size=3),
        min_size=1,
        max_size=3,
    ),
    st.booleans(),
)
def test_no_common_place_in_whole_mm_leaves_fewer_fillings(
    holes: list[list[tuple[int, int]]], two: bool
) -> None:
    """Checked against all places that there are: a knob with a plate of 12 by 10 mm."""
    fronts = [
        OldFront(f"D{i}", 80, 40 + 2 * i, tuple(Point(x, y) for x, y in at), True)
        for i, at in enumerate(holes)
    ]
    plan = answered(HolePlan, plan_holes(Pull("knob", 0, 12, 10, 2 if two else 1), fronts))
    assert plan.rank[1] <= min(every_look(fronts, two, 12, 10))


@seed(20261125)
@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.lists(st.tuples(st.integers(0, 600), st.integers(0, 150)), max_size=4),
        min_size=1,
        max_size=4,
    ),
    st.sampled_from([0.0, 76.2, 96.0]),
    st.integers(1, 2),
    st.randoms(use_true_random=False),
)
def test_a_mirrored_piece_and_another_order_are_the_same_choice(
    holes: list[list[tuple[int, int]]], spacing: float, count: int, chance: Random
) -> None:
    fronts = [
        OldFront(f"D{i}", 600, 150, tuple(Point(x, y) for x, y in at), bool(i % 2))
        for i, at in enumerate(holes)
    ]
    pull = Pull("p", spacing, 110, 20, count, 12)
    plan = answered(HolePlan, plan_holes(pull, fronts))
    mirrored = [replace(f, holes=tuple(Point(600 - h.x, h.y) for h in f.holes)) for f in fronts]
    other = answered(HolePlan, plan_holes(pull, mirrored))
    assert (other.looks, other.rank) == (plan.looks, plan.rank)
    mixed = list(fronts)
    chance.shuffle(mixed)
    again = answered(HolePlan, plan_holes(pull, mixed))
    assert (again.looks, again.rank) == (plan.looks, plan.rank)


def test_sixty_drifted_fronts_are_planned_at_once() -> None:
    """Each hole somewhere else: the places that meet most holes are tried, no more."""
    chance = Random(7)
    fronts = [
        OldFront(
            f"D{i}", 600, 150,
            tuple(Point(x + chance.uniform(-2, 2), 60 + chance.uniform(-2, 2))
                  for x in (62, 158, 442, 538)),
            True, count=2,
        )
        for i in range(60)
    ]  # fmt: skip
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96, 110, 20), fronts))
    assert plan.rank[1] == 0
    assert plan.looks[0].down != MIDDLE


def test_no_hole_is_wanted_nearer_to_an_edge_than_a_drill_may_go() -> None:
    """An old hole 4 mm from the top drew a knob there; typed in, the same place was refused."""
    front = OldFront("D1", 600, 150, (Point(300, 4),), True)
    plan = answered(HolePlan, plan_holes(Pull("knob", 0, foot=12), [front]))
    assert min(c.y for c in plan.fronts[0].centres) >= LEAST_EDGE_MM
    low = OldFront("D2", 600, 18, (), True)
    assert "does not fit on D2" in refused(plan_holes(Pull("knob", 0), [low]))
    for centre in plan.fronts[0].centres:
        assert isinstance(centres(600, 150, 0, 1, centre.y), Holes)


@pytest.mark.parametrize(
    ("pull", "wide", "high"),
    [
        (Pull("knob", 0), 20, 20),  # wood of 10 mm all round the hole
        (Pull("knob", 0, foot=30), 30, 30),  # its foot is broader than that
        (Pull("96 mm", 96, foot=12), 116, 20),
        (Pull("96 mm", 96, foot=30), 126, 30),
        (Pull("plate", 96, 150, 44, foot=12), 150, 44),
        (Pull("slim plate", 96, 100, 8, foot=12), 116, 20),
    ],
)
def test_the_least_front_that_a_pull_fits_on(pull: Pull, wide: float, high: float) -> None:
    just = OldFront("D1", wide, high, (), True)
    assert answered(HolePlan, plan_holes(pull, [just])).rank[:2] == (0, 0)
    for narrower in (replace(just, width=wide - 0.1), replace(just, height=high - 0.1)):
        assert "does not fit on D1" in refused(plan_holes(pull, [narrower]))
    pair = replace(just, width=2 * wide, count=2)
    assert len(answered(HolePlan, plan_holes(pull, [pair])).fronts[0].centres) >= 2
    assert "does not fit" in refused(plan_holes(pull, [replace(pair, width=2 * wide - 0.1)]))


def test_what_is_used_and_covered_is_counted_together_and_one_filling_shows() -> None:
    """A pair of 96 mm is used; a third hole lies under the plate, a fourth beside it."""
    front = old_front("D1", 96)
    front = replace(front, holes=(*front.holes, Point(300, 80), Point(100, 30)))
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96, 110, 20, foot=12), [front]))
    assert plan.sentence == "96 mm uses or covers 3 of 4 old holes; 1 filling shows on D1."
    assert plan.fronts[0].covered == (Point(300, 80),)


@pytest.mark.parametrize(("off", "used"), [(0.5, True), (0.51, False)])
def test_half_a_millimetre_is_near_enough_for_the_screw(off: float, used: bool) -> None:
    """One pull sits in the middle of the width, so it cannot move to the side to meet a hole."""
    front = replace(old_front("D1", 96), holes=(Point(252, 75), Point(348 + off, 75)))
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96), [front]))
    assert (len(plan.fronts[0].reused) == 2) is used
    assert plan.fronts[0].to_drill == (0 if used else 1)


def test_a_line_that_one_front_is_too_low_for_is_no_common_line() -> None:
    """Old holes 120 mm down on tall fronts; a low one of the same look is 60 mm high."""
    tall = [OldFront(f"D{i}", 600, 150, (Point(300, 120),), True) for i in (1, 2)]
    low = OldFront("D3", 600, 60, (), True)
    plan = answered(HolePlan, plan_holes(Pull("knob", 0), [*tall, low]))
    down = plan.looks[0].down
    assert down == MIDDLE or down.mm <= 50
    assert {c.y for front in plan.fronts for c in front.centres} <= {75, 30, 50}


def test_two_pulls_stand_clear_of_each_other_on_the_narrowest_front() -> None:
    """Old knobs 145 mm in on wide fronts; 300 mm leave 140 mm to each of two knobs."""
    wide = [OldFront(f"D{i}", 600, 60, (Point(145, 30),), True, count=2) for i in (1, 2)]
    plan = answered(
        HolePlan, plan_holes(Pull("knob", 0), [*wide, OldFront("D3", 300, 60, (), True, count=2)])
    )
    left, right = (c.x for c in plan.fronts[2].centres)
    assert 10 <= left <= 140 and right == 300 - left


@pytest.mark.parametrize(("narrow", "sixth"), [(600, True), (348, True), (342, False)])
def test_a_sixth_in_from_the_sides_where_every_front_has_room_for_it(
    narrow: float, sixth: bool
) -> None:
    """A pull of 96 mm wants 58 mm to each side of its middle, a sixth of 348."""
    old = tuple(Point(x, 75) for x in (52, 148, 452, 548))
    fronts = [OldFront("D1", 600, 150, old, True), OldFront("D2", narrow, 150, (), True)]
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96, count=2), fronts))
    assert (plan.looks[0].aside == SIXTH) is sixth
    assert (plan.fronts[1].centres[1].x - 48 == pytest.approx(narrow / 6)) is sixth


def test_a_front_of_one_pull_keeps_it_in_the_middle_beside_fronts_of_two() -> None:
    wide = OldFront("D1", 600, 60, (Point(145, 30),), True, count=2)
    narrow = OldFront("D2", 300, 60, (), True, count=1)
    plan = answered(HolePlan, plan_holes(Pull("knob", 0), [wide, narrow]))
    assert [c.x for c in plan.fronts[0].centres] == [145, 455]
    assert [c.x for c in plan.fronts[1].centres] == [150]


@pytest.mark.parametrize(
    ("hole", "covered"),
    [
        (Point(300, 15 + 14.9), True),
        (Point(300, 15 + 15), False),
        (Point(300 + 59.9, 15), True),
        (Point(300 + 60, 15), False),
        (Point(300 - 59.9, 0.1), True),
        (Point(300 + 80, 15 + 5), False),
    ],
)
def test_a_plate_covers_what_lies_within_its_edges(hole: Point, covered: bool) -> None:
    """A plate of 120 by 30 mm on a front that is no higher than the plate."""
    front = OldFront("D1", 600, 30, (hole,), True)
    plan = answered(HolePlan, plan_holes(Pull("96 mm", 96, 120, 30), [front]))
    assert plan.fronts[0].covered == ((hole,) if covered else ())
    assert plan.rank[1] == (0 if covered else 1)


def test_under_paint_the_fewest_fillings_win() -> None:
    holes = [60, 60, 40]
    fronts = [OldFront(f"D{y}", 600, 150, (Point(300, y),), False) for y in holes]
    fronts = [replace(front, name=f"D{i}") for i, front in enumerate(fronts)]
    plan = answered(HolePlan, plan_holes(Pull("knob", 0), fronts))
    assert (plan.looks[0].down, plan.rank) == (Along(60), (0, 1, 1))


def test_a_broad_foot_between_two_old_holes_covers_both() -> None:
    """70 and 85 mm down: a foot of 22 mm in the middle between them reaches 11 mm each way."""
    fronts = [OldFront(f"D{y}", 600, 200, (Point(300, y),), False) for y in (70, 85)]
    plan = answered(HolePlan, plan_holes(Pull("knob", 0, foot=22), fronts))
    assert plan.rank[1] == 0
    assert [len(front.covered) for front in plan.fronts] == [1, 1]


def test_a_low_front_of_a_row_keeps_wood_under_its_pull() -> None:
    """The row's middle is 41 mm down; a front of 24 mm has wood for a hole at 14 mm at most."""
    fronts = [
        OldFront("D1", 300, 140, (), True, row="top"),
        OldFront("D2", 300, 24, (), True, row="top"),
    ]
    plan = answered(HolePlan, plan_holes(Pull("knob", 0), fronts))
    assert [front.centres[0].y for front in plan.fronts] == [41, 14]


def test_a_plan_tells_how_far_apart_the_holes_are_that_a_pull_sits_in() -> None:
    """Holes 96 mm apart round the middle of a front 400 mm wide, and 95.6 mm on the next."""
    fronts = [
        OldFront("D1", 400, 180, (Point(152, 90), Point(248, 90)), True),
        OldFront("D2", 400, 180, (Point(152.2, 90), Point(247.8, 90)), True),
    ]
    near = answered(HolePlan, plan_holes(Pull("bow", 95.25), fronts))
    assert near.apart == (95.6, 96.0)
    assert answered(HolePlan, plan_holes(Pull("wide", 128), fronts)).apart == ()
    assert answered(HolePlan, plan_holes(Pull("knob", 0), fronts)).apart == ()
    one = [OldFront("D1", 400, 180, (Point(152, 90),), True)]
    assert answered(HolePlan, plan_holes(Pull("bow", 95.25), one)).apart == ()
