"""Plans are as good as they can be: against all plans of tiny shops, and beside the bound."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.check import faults
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.placing import place_all
from partsbench.core.plan.search import best_plan, oldest_first
from partsbench.core.plan.workshop import Lag, SprayGun, Stint, Workshop, cost
from tests.support import workshops
from tests.support.all_plans import least_cost


@pytest.mark.parametrize("seed", range(24))
def test_no_plan_of_a_tiny_shop_is_better(seed: int) -> None:
    shop = workshops.tiny(seed)
    truth = least_cost(shop)
    found = best_plan(shop, seed=1, rounds=150)
    if truth == float("inf"):
        assert found.plan.missed
        return
    assert found.cost == truth
    assert found.cost == cost(shop, found.plan)
    assert found.proven.cost <= truth
    assert faults(shop, found.plan) == []


@pytest.mark.parametrize("seed", range(50))
def test_a_random_shop_can_be_worked_as_planned(seed: int) -> None:
    shop = workshops.shop(seed, parts=4, steps=7, pieces=3)
    found = best_plan(shop, seed=seed, rounds=2)
    assert faults(shop, found.plan) == []
    ends = found.plan.ends(shop)
    assert found.proven.end <= max(ends.values())
    assert all(found.proven.ends[piece] <= end for piece, end in ends.items())


def test_planning_beats_the_oldest_piece_first() -> None:
    better = 0
    for seed in range(4):
        shop = replace(workshops.of_paths(seed, 6, 3), promised=())
        floor = Floor(shop)
        units = floor.units(())
        assert units is not None
        rule = place_all(floor, units, oldest_first(floor)).plan()
        assert faults(shop, rule) == []
        better += cost(shop, best_plan(shop, rounds=2).plan) < cost(shop, rule)
    assert better == 4


def test_the_same_seed_gives_the_same_plan() -> None:
    shop = workshops.shop(3, parts=5, steps=8)
    assert best_plan(shop, seed=7, rounds=30) == best_plan(shop, seed=7, rounds=30)


def test_it_is_stopped_at_once_and_has_a_plan_all_the_same() -> None:
    shop = workshops.shop(4, parts=5, steps=8)
    found = best_plan(shop, rounds=10_000, stop=lambda: True)
    assert found.rounds == 0
    assert faults(shop, found.plan) == []


def test_it_tells_how_far_it_is() -> None:
    told: list[float] = []
    shop = workshops.shop(5, parts=6, steps=10)
    best_plan(shop, rounds=30, told=told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_a_known_plan_is_not_made_worse() -> None:
    shop = workshops.shop(6, parts=5, steps=8)
    before = best_plan(shop, rounds=40)
    again = best_plan(shop, seed=9, rounds=1, from_plan=before.plan)
    assert again.cost <= before.cost


def test_coats_of_one_mix_share_a_cup_up_to_its_volume() -> None:
    stints = tuple(
        Stint(str(n), "P", str(n), 10, "colour", mix="m", ml=100.0, loud=True) for n in range(4)
    )
    shop = Workshop(stints, (), (workshops.worker(),), SprayGun(10, 15, 200.0))
    found = best_plan(shop)
    loads = [p.load for p in found.plan.placed]
    assert sorted(loads.count(load) for load in set(loads)) == [2, 2]
    # Two cups: 10 set up, 20 sprayed, 15 cleaned; 10 set up, 20 sprayed.
    assert found.cost == 10 + 20 + 15 + 10 + 20


def test_work_that_must_follow_soon_is_put_off_until_it_can() -> None:
    """Staining for an hour before the end of the day would leave the wipe for tomorrow."""
    shop = Workshop(
        (
            Stint("long", "A", "long", 500, "sand"),
            Stint("stain", "B", "stain", 60, "stain"),
            Stint("wipe", "B", "wipe", 60, "wipe"),
        ),
        (Lag("stain", "wipe", 0, 10),),
        (workshops.worker(),),
    )
    at = best_plan(shop).plan.at()
    assert at["wipe"].start - at["stain"].end <= 10
    assert at["stain"].start // 1440 == at["wipe"].start // 1440


def test_what_no_hours_can_keep_is_told_as_missed() -> None:
    shop = Workshop(
        (Stint("coat", "A", "coat", 60, "colour"), Stint("scuff", "A", "scuff", 600, "sand")),
        (Lag("coat", "scuff", 0, 30),),
        (workshops.worker(),),
    )
    assert best_plan(shop).plan.missed == (("coat", "scuff"),)


def test_the_bound_counts_what_lies_between_dust_and_gun() -> None:
    shop = Workshop(
        (
            Stint("sand", "A", "sand", 30, "sand", room="r", use="dust"),
            Stint("coat", "A", "coat", 20, "colour", room="r", use="spray", mix="m", ml=1.0),
        ),
        (Lag("sand", "coat"),),
        (workshops.worker(),),
        SprayGun(10, 15),
        {("dust", "spray"): 60},
    )
    assert Bounds(Floor(shop)).proven().end == 30 + 60 + 10 + 20


def test_the_bound_counts_the_hours_in_which_it_may_be_loud() -> None:
    """Twelve hours a day, but sanding in ten of them: the last is for the third day."""
    stints = tuple(Stint(str(n), "A", str(n), 100, "sand", loud=True) for n in range(13))
    shop = Workshop(stints, (), (workshops.worker(last=20 * 60, quiet_from=18 * 60),))
    found = best_plan(shop)
    assert found.cost == 2 * 1440 + 100
    assert found.proven.end > 2 * 1440
    silent = replace(shop, stints=tuple(replace(s, loud=False) for s in stints))
    assert best_plan(silent).cost == 1440 + 600


def test_the_bound_counts_what_a_room_settles_beside_other_work_in_it() -> None:
    """Turns of one chain cost two hours and a half that work in the same room cannot use."""
    dust, spray = {"room": "r", "use": "dust"}, {"room": "r", "use": "spray", "mix": "m", "ml": 1.0}
    chain = [
        Stint(f"c{n}", "A", f"c{n}", *((30, "sand") if n % 2 == 0 else (20, "colour")),
              **(dust if n % 2 == 0 else spray))  # type: ignore[arg-type]
        for n in range(4)
    ]  # fmt: skip
    lags = tuple(Lag(f"c{n}", f"c{n + 1}") for n in range(3))
    settles = {("dust", "spray"): 60, ("spray", "dust"): 30}
    other = Stint("b", "B", "b", 400, "sand", **dust)  # type: ignore[arg-type]
    one = Workshop((*chain, other), lags, (workshops.worker(),), SprayGun(10, 15), settles)
    # 525 minutes of work go into the ten hours of a day, 675 with the settling do not.
    assert Bounds(Floor(one)).proven().end > 1440
    assert best_plan(one).cost > 1440
    elsewhere = replace(one, stints=(*chain, replace(other, room="s")))
    assert Bounds(Floor(elsewhere)).proven().end <= 600


def test_a_night_takes_in_one_change_of_the_room() -> None:
    """What settles over a night costs no hours; the bound never says more than the best plan."""
    dust, spray = {"room": "r", "use": "dust"}, {"room": "r", "use": "spray", "mix": "m", "ml": 1.0}
    stints = (
        Stint("a", "A", "a", 590, "sand", **dust),  # type: ignore[arg-type]
        Stint("b", "A", "b", 580, "colour", **spray),  # type: ignore[arg-type]
    )
    shop = Workshop(
        stints, (Lag("a", "b"),), (workshops.worker(),), SprayGun(10, 10), {("dust", "spray"): 60}
    )
    assert Bounds(Floor(shop)).proven().end == best_plan(shop).cost == 1440 + 10 + 580
