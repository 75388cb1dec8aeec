"""A workshop turned round: what fits there fits here, read from its end."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.plan.check import faults
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.mirror import SPARE, mirrored
from partsbench.core.plan.placing import place_all
from partsbench.core.plan.search import best_plan
from partsbench.core.plan.workshop import (
    Booked,
    Lag,
    Promised,
    ShopPlan,
    SprayGun,
    Stint,
    Worker,
    Workshop,
)
from tests.support import workshops

SHOP = Workshop(
    (
        Stint("a", "A", "a", 10, soonest=20, by=90),
        Stint("b", "A", "b", 30),
        Stint("c", "A", "c", 10, soonest=95, by=200),
    ),
    (Lag("a", "b", 5, 50, "dries", "closes"),),
    (Worker("me", ((0, 40), (60, 110)), ((5, 30), (70, 130))),),
    SprayGun(10, 15, 300.0),
    {("dust", "spray"): 20},
    promised=(Promised("A", 100),),
)


def test_days_hours_waits_and_the_gun_are_turned_round() -> None:
    turned = mirrored(SHOP, 100)
    assert [(s.key, s.soonest, s.by) for s in turned.stints] == [
        # From 20 on, ten minutes long, begun by 90: over by 100, and begun by 70.
        ("a", 0, 70),
        ("b", 0, None),
        # Its day is behind the end: at once, and as soon as can be.
        ("c", 0, 0),
    ]
    assert turned.lags == (Lag("b", "a", 5, 50),)
    before = (101, 100 + SPARE)
    assert turned.workers == (
        Worker("me", ((0, 40), (60, 100), before), ((0, 30), (70, 95), before)),
    )
    assert turned.gun == SprayGun(15, 10, 300.0)
    assert turned.settles == {("spray", "dust"): 20}
    assert turned.promised == ()


def test_a_latest_start_is_a_soonest_start_there() -> None:
    early = replace(SHOP, stints=(Stint("a", "A", "a", 10, by=30),), lags=())
    assert [(s.soonest, s.by) for s in mirrored(early, 100).stints] == [(60, None)]


def test_hours_that_only_begin_at_the_end_are_left_out() -> None:
    shop = replace(SHOP, workers=(Worker("me", ((0, 40), (100, 140)), ()),))
    assert mirrored(shop, 100).workers[0].here == ((60, 100), (101, 100 + SPARE))


def test_what_does_not_fit_has_two_weeks_before_minute_0() -> None:
    assert SPARE == 2 * 7 * 1440


def turned_back(plan: ShopPlan, end: int) -> ShopPlan:
    placed = (Booked(p.stint, end - p.end, end - p.start, p.workers, p.load) for p in plan.placed)
    return ShopPlan(tuple(sorted(placed, key=lambda p: p.start)))


def test_a_plan_made_there_can_be_worked_here() -> None:
    """Without the rack, which is looked at from the front only."""
    worked = 0
    for seed in range(12):
        shop = replace(workshops.tiny(seed), rack_m2=None)
        usual = best_plan(shop, rounds=5).plan
        end = max(usual.ends(shop).values()) + shop.gun.clean
        there = Floor(mirrored(shop, end))
        made = there.units(())
        assert made is not None
        back = place_all(there, made, [float(-usual.at()[s.key].end) for s in shop.stints]).plan()
        assert faults(there.shop, back) == []
        if not back.missed and max(p.end for p in back.placed) <= end:
            assert faults(shop, turned_back(back, end)) == []
            worked += 1
    assert worked >= 8
