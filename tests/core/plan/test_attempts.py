"""One way to plan and what comes of it: what is aimed at, what is compared, back and forward again."""

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


