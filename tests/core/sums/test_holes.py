from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench import trade
from partsbench.core.sums import tables
from partsbench.core.sums.holes import (
    HolePlan,
    OldFront,
    Point,
    Pull,
    Spacing,
    Told,
    best_pulls,
    plan_holes,
    told_apart,
)
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


@pytest.fixture(scope="module")
def spacings() -> tuple[Spacing, ...]:
    return answered(tuple, tables.spacings(trade.load("pulls")))


def old_front(name: str, spacing: float, shows: bool = True) -> OldFront:
    holes = (Point(300 - spacing / 2, 75), Point(300 + spacing / 2, 75))
    return OldFront(name, 600, 150, holes, shows)


@pytest.mark.parametrize(
    ("measured", "names"),
    [
        (96.0, {"96 mm"}),
        (95.2, {"3-3/4 in"}),
        (95.6, {"96 mm", "3-3/4 in"}),
        (76.0, {"3 in"}),
        (128.0, {"128 mm"}),
        (128.3, {"128 mm", "5-1/16 in"}),
        (110.0, set()),
        (97.2, set()),
    ],
)
def test_near_spacings_are_told_apart_never_rounded(
    spacings: tuple[Spacing, ...], measured: float, names: set[str]
) -> None:
    assert set(answered(Told, told_apart(spacings, measured)).names) == names


def test_a_spacing_in_words(spacings: tuple[Spacing, ...]) -> None:
    assert answered(Told, told_apart(spacings, 96)).sentence == "96.0 mm is 96 mm."
    unsure = answered(Told, told_apart(spacings, 95.6))
    assert unsure.sentence == "95.6 mm may be 3-3/4 in or 96 mm: measure again."
    assert unsure.lacks
    odd = answered(Told, told_apart(spacings, 97.2)).sentence
    assert odd == "97.2 mm is no standard spacing; 96 mm is 1.2 mm off."


@given(st.floats(20, 300))
def test_what_is_named_is_within_the_measuring(
    spacings: tuple[Spacing, ...], measured: float
) -> None:
    found = answered(Told, told_apart(spacings, measured))
    by_name = {s.name: s.mm.value for s in spacings}
    assert all(abs(by_name[name] - measured) <= 0.4 for name in found.names)
    assert found.off_mm == min(abs(mm - measured) for mm in by_name.values())


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


def test_the_best_candidate_comes_first_and_what_does_not_fit_is_left_out() -> None:
    fronts = [old_front("D1", 96)]
    offers = [
        Pull("128 mm", 128, foot=12),
        Pull("96 mm", 96, 110, 12),
        Pull("huge", 800, 820, 10),
    ]
    assert [plan.pull for plan in best_pulls(offers, fronts)] == ["96 mm", "128 mm"]
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
def test_pulls_and_fronts_that_cannot_be(spacings: tuple[Spacing, ...], value: Any) -> None:
    refused(told_apart(spacings, value)) if value is not True else None
    front = old_front("D1", 96)
    assert "width of D1" in refused(
        plan_holes(Pull("p", 96, 110, 12), [replace(front, width=value)])
    )
    assert "spacing" in refused(plan_holes(Pull("p", value, 110, 12), [front]))


def test_a_hole_outside_its_front() -> None:
    front = OldFront("D1", 600, 150, (Point(610, 75),), True)
    assert "hole of D1: at 610, 75 mm lies outside" in refused(
        plan_holes(Pull("p", 96, 110, 12), [front])
    )
    assert refused(plan_holes(Pull("p", 96, 110, 12), [])) == "fronts: there are none."
