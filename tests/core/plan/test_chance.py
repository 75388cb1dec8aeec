"""Days with a chance are kept as often as is said, also when only a few own times are known."""

from __future__ import annotations

from dataclasses import replace
from math import exp, log
from random import Random
from statistics import median

import pytest

from partsbench.core.plan.chance import OURS, Chances, chances, spread_of
from partsbench.core.plan.change import loads_of
from partsbench.core.plan.check import faults
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.placing import place_all
from partsbench.core.plan.search import best_plan
from partsbench.core.plan.workshop import ShopPlan, Workshop
from tests.support import workshops

TRUE_SIGMA = 0.35


def test_spread_of_own_times() -> None:
    assert spread_of([10.0] * 4) is OURS
    assert spread_of([10.0, 10.0, 0.0, 10.0, 10.0]) is OURS
    found = spread_of([5.0, 10.0, 10.0, 10.0, 20.0])
    assert found.times == 5
    assert found.sigma == pytest.approx((2 * log(2) ** 2 / 4) ** 0.5)


def test_shares_of_runs() -> None:
    ends = Chances({"A": tuple(range(1, 10))})
    assert (ends.by("A", 0.8), ends.by("A", 0.1), ends.by("A", 1.0)) == (8, 1, 9)
    assert ends.kept("A", 3) == pytest.approx(1 / 3)


def test_hands_that_never_differ_give_the_plan_itself() -> None:
    shop = workshops.shop(1, parts=4, steps=6)
    plan = best_plan(shop, rounds=2).plan
    exact = {s.work: replace(OURS, sigma=0.0) for s in shop.stints}
    found = chances(shop, plan, exact, runs=3)
    assert {p: set(ends) for p, ends in found.ends.items()} == {
        p: {end} for p, end in plan.ends(shop).items()
    }


def test_the_same_seed_gives_the_same_days() -> None:
    shop = workshops.shop(2, parts=3, steps=5)
    plan = best_plan(shop, rounds=2).plan
    assert chances(shop, plan, {}, seed=4, runs=20) == chances(shop, plan, {}, seed=4, runs=20)
    assert chances(shop, plan, {}, seed=4, runs=20) != chances(shop, plan, {}, seed=5, runs=20)


def _paced(shop: Workshop, factor: dict[str, float], random: Random, sigma: float) -> Workshop:
    return replace(
        shop,
        stints=tuple(
            replace(s, minutes=max(1, round(s.minutes * factor[s.work]
                                            * exp(random.gauss(0, sigma)))))
            for s in shop.stints
        ),
    )  # fmt: skip


def _placed_anew(went: Workshop, plan: ShopPlan) -> ShopPlan:
    """What came of it, in the order and the loads of the plan."""
    floor, at = Floor(went), plan.at()
    units = floor.units(loads_of(floor, plan))
    assert units is not None
    found = place_all(floor, units, [float(at[s.key].start) for s in went.stints]).plan()
    assert faults(went, found) == []
    return found


def test_of_days_said_with_8_in_10_three_quarters_to_17_in_20_are_kept() -> None:
    """Shops whose true pace nobody knows: eight own times of each work are seen, the plan is made
    with their middle, and then the work takes what it takes. What comes of it is not asked of the
    walk that the days were said from: it is placed anew in the plan's order, with windows and rack.
    """
    random, kept, said = Random(2), 0, 0
    for seed in range(2000, 2200):
        true = replace(workshops.shop(seed, parts=2, steps=7, pieces=1), promised=(), rack_m2=1.2)
        # Longer work, so that days are not rounded to the same minute.
        true = replace(
            true, stints=tuple(replace(s, minutes=4 * s.minutes, ml=1.0) for s in true.stints)
        )
        works = sorted({s.work for s in true.stints})
        seen = {w: [exp(random.gauss(0, TRUE_SIGMA)) for _ in range(8)] for w in works}
        planned = _paced(true, {w: median(times) for w, times in seen.items()}, random, 0.0)
        plan = best_plan(planned, rounds=0, stop=lambda: True).plan
        spreads = {w: spread_of(times) for w, times in seen.items()}
        day = chances(planned, plan, spreads, seed=seed, runs=40)
        went = _paced(true, dict.fromkeys(works, 1.0), random, TRUE_SIGMA)
        ends = _placed_anew(went, plan).ends(went)
        for piece, end in ends.items():
            said += 1
            kept += end <= day.by(piece, 0.8)
    assert 0.75 <= kept / said <= 0.85
