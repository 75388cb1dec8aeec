"""Days with a chance are kept as often as is said, also when only a few own times are known."""

from __future__ import annotations

from dataclasses import replace
from math import exp, log
from random import Random
from statistics import median, stdev

import pytest

from partsbench.core.plan.chance import OURS, Chances, PaceSpread, chances, spread_of
from partsbench.core.plan.change import loads_of
from partsbench.core.plan.check import faults
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.placing import place_all
from partsbench.core.plan.search import best_plan
from partsbench.core.plan.workshop import Booked, ShopPlan, Stint, Worker, Workshop
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


def alone(minutes: int, **more: str) -> tuple[Workshop, ShopPlan]:
    """One stint of that length, and its plan, in hours without a night."""
    stint = Stint("s", "A", "s", minutes, "sand", **more)  # type: ignore[arg-type]
    shop = Workshop((stint,), (), (Worker("me", ((0, 10**6),), ()),))
    return shop, ShopPlan((Booked("s", 0, minutes, ("me",)),))


def test_a_share_of_the_runs_at_its_bounds() -> None:
    ends = Chances({"A": (10, 20, 30, 40)})
    assert [ends.by("A", share) for share in (0.0, 0.2, 0.21, 0.8, 0.81, 1.0)] == [
        10, 10, 20, 40, 40, 40,
    ]  # fmt: skip
    assert [ends.kept("A", by) for by in (9, 10, 39, 40)] == [0, 0.25, 0.75, 1]


def test_five_own_times_are_enough_and_a_time_of_nothing_tells_nothing() -> None:
    assert spread_of([7.0] * 5).sigma == pytest.approx(0)
    assert spread_of([7.0] * 5).times == 5
    assert spread_of([7.0] * 4 + [0.5]).sigma > 1
    assert (OURS.sigma, OURS.times) == (0.25, 0)


def test_who_has_no_time_is_told_by_one_run() -> None:
    shop, plan = alone(100)
    assert len(chances(shop, plan, {}, stop=lambda: True).ends["A"]) == 1
    usual = chances(shop, plan, {})
    assert len(usual.ends["A"]) == 200
    assert usual == chances(shop, plan, {}, seed=0, runs=200)


def test_the_spread_of_a_kind_of_part_wins_over_that_of_the_work() -> None:
    none, wide = PaceSpread(0.0), PaceSpread(2.0)
    shop, plan = alone(100, kind="D")
    exact = chances(shop, plan, {"sand": wide, "sand D": none}, runs=5)
    assert set(exact.ends["A"]) == {100}
    other = chances(shop, plan, {"sand": wide, "sand L": none}, runs=5)
    assert len(set(other.ends["A"])) == 5


def test_work_takes_a_minute_at_least_and_nothing_takes_nothing() -> None:
    quick = {"sand": PaceSpread(3.0)}
    assert min(chances(*alone(1), quick, runs=40).ends["A"]) == 1
    assert set(chances(*alone(0), quick, runs=40).ends["A"]) == {0}


def test_half_of_the_runs_are_slower_and_a_slow_one_is_as_many_times_longer() -> None:
    """Two of three lie between 0.77 and 1.3 of the plan: 0.25, and the middle that nobody knows
    well, 0.11."""
    ends = chances(*alone(10_000), {}, runs=2000).ends["A"]
    assert median(ends) == pytest.approx(10_000, rel=0.02)
    logs = [log(end / 10_000) for end in ends]
    assert stdev(logs) == pytest.approx((0.25**2 + 0.25**2 / 5) ** 0.5, rel=0.05)


@pytest.mark.parametrize(("times", "wider"), [(5, 1.243), (20, 1.058), (400, 1.0)])
def test_few_own_times_are_said_with_more_caution(times: int, wider: float) -> None:
    """How much wider the middle half of the runs is than that of the times: by the quartiles of
    Student's law (0.741 for 4 degrees, 0.688 for 19, 0.6745) and the error of a median beside it.
    """
    ends = chances(*alone(10_000), {"sand": PaceSpread(0.2, times)}, runs=3000).ends["A"]
    assert median(ends) == pytest.approx(10_000, rel=0.02)
    quarter = log(ends[2250] / ends[750]) / 2
    assert quarter / (0.6745 * 0.2) == pytest.approx(wider, rel=0.04)


def test_the_days_of_a_seed_are_these() -> None:
    """Pinned: one with own times and one without, two pieces, drawn in this order."""
    stints = (Stint("a", "A", "a", 1000, "sand"), Stint("b", "B", "b", 1000, "wash"))
    shop = Workshop(stints, (), (Worker("me", ((0, 10**6),), ()), Worker("you", ((0, 10**6),), ())))
    plan = ShopPlan((Booked("a", 0, 1000, ("me",)), Booked("b", 0, 1000, ("you",))))
    found = chances(shop, plan, {"sand": PaceSpread(0.3, 6)}, seed=3, runs=5)
    assert found.ends == {
        "A": (740, 751, 988, 996, 2654),
        "B": (550, 653, 691, 1047, 1077),
    }


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
