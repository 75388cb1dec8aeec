"""One way to plan and what comes of it: what is aimed at, compared, and planned back again."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from partsbench.core.plan.attempts import Attempts, worth
from partsbench.core.plan.batches import batches
from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.check import faults
from partsbench.core.plan.dispatch import MANNERS
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.placing import place_all
from partsbench.core.plan.search import oldest_first
from partsbench.core.plan.workshop import Lag, Promised, Stint, Worker, Workshop, cost
from tests.support import workshops

SAND = Stint("s", "A", "s", 30, "sand")


def attempts(shop: Workshop, seed: int = 0) -> Attempts:
    floor = Floor(shop)
    return Attempts(floor, Bounds(floor), Random(seed))


def test_aiming_at_an_end_leaves_each_its_latest_end_and_promises_bind_their_piece() -> None:
    stints = (replace(SAND, key="a"), replace(SAND, key="b"), replace(SAND, key="c", piece="C"))
    promised = (Promised("C", 90), Promised("gone", 5))
    shop = Workshop(stints, (Lag("a", "b", 10),), (workshops.worker(),), promised=promised)
    tries = attempts(shop)
    tries.aim(300)
    assert tries.late == [260, 300, 90]
    tries.aim(80)
    assert tries.late == [40, 80, 80]
    # What cannot be kept is aimed at as soon as it can be.
    tries = attempts(replace(shop, promised=(Promised("A", 20),)))
    tries.aim(300)
    assert tries.late == [30, 70, 300]


@pytest.mark.parametrize("seed", range(6))
def test_what_is_compared_is_the_cost_and_then_the_sum_of_the_ends(seed: int) -> None:
    shop = workshops.mixed(seed)
    shop = replace(shop, promised=(*shop.promised, Promised("gone", 0)))
    floor = Floor(shop)
    units = floor.units(())
    assert units is not None
    table = place_all(floor, units, oldest_first(floor))
    plan = table.plan()
    assert worth(table) == (cost(shop, plan), sum(plan.ends(shop).values()))


def test_batches_that_wait_for_each_other_come_to_nothing() -> None:
    """b comes after a, and d after c; a with d and b with c would each wait for the other."""
    stints = tuple(replace(SAND, key=k) for k in "abcd")
    shop = Workshop(stints, (Lag("a", "b"), Lag("c", "d")), (workshops.worker(),))
    tries = attempts(shop)
    assert tries.attempt([0.0] * 4, ((0, 3), (1, 2)), 0) is None
    found = tries.attempt([0.0] * 4, ((0, 2), (1, 3)), 0)
    assert found is not None
    assert found.turns == [0, 60, 30, 90]
    assert found.end == 120


def test_part_by_part_an_evening_falls_into_a_batch() -> None:
    """Forty minutes are left of the day behind the first: one of two goes into them."""
    stints = (replace(SAND, key="long"), replace(SAND, key="x"), replace(SAND, key="y"))
    worker = Worker("me", ((0, 70), (100, 200)), ((0, 70), (100, 200)))
    tries = attempts(Workshop(stints, (), (worker,)))
    found = tries.attempt([0.0, 1.0, 2.0], ((1, 2),), 25)
    assert found is not None
    assert found.turns == [0, 100, 130]
    loose = tries.loosened(found)
    assert loose.turns == [0, 30, 100]
    assert (loose.batches, loose.join_late) == ((), 25)
    assert tries.loosened(loose) is loose


def test_the_evenings_beside_an_end_are_closes_of_hours_that_are_not_refuted() -> None:
    stints = (replace(SAND, minutes=60), replace(SAND, key="t", minutes=60))
    worker = Worker("me", ((0, 60), (100, 200), (300, 400)), ((0, 60), (100, 180), (300, 400)))
    tries = attempts(Workshop(stints, (Lag("s", "t"),), (worker,)))
    assert tries.least == 160
    assert tries.evenings(160) == (180, 180), "60 is too soon"
    assert tries.evenings(181) == (180, 200)
    assert tries.evenings(200) == (180, 200)
    assert tries.evenings(201) == (200, 400)
    assert tries.evenings(500) == (400, 500), "there are no more hours"
    early = replace(worker, here=((0, 60), (100, 160), (300, 400)), loud=())
    tries = attempts(Workshop(stints, (Lag("s", "t"),), (early,)))
    assert tries.evenings(161) == (160, 400), "what is not refuted may be the end"


def test_turned_round_a_plan_is_never_worse_and_often_better() -> None:
    better = 0
    for seed in range(12):
        shop = workshops.shop(seed, parts=5, steps=8)
        tries = attempts(shop, seed)
        cut = batches(tries.floor)
        tries.aim(tries.least)
        before = tries.through(MANNERS[seed], [0.0] * len(shop.stints), cut)
        after = tries.turned_round(before, 4)
        assert after.worth <= before.worth
        assert after.batches == cut
        assert faults(shop, after.table.plan()) == [] or after.table.missed
        better += after.worth < before.worth
    assert better >= 3


def test_turned_round_nothing_begins_in_the_minutes_behind_its_own_end() -> None:
    """The plan ends 30 before the close: gone through from there, the last thirty are taken."""
    tries = attempts(Workshop((SAND, replace(SAND, key="t")), (), (workshops.worker(),)))
    floor = tries._mirror(600, 540)
    made = floor.units(())
    assert made is not None
    assert min(place_all(floor, made, [0.0, 1.0]).start) == 540
