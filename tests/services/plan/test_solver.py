"""CP-SAT, where it is installed, agrees with ours on tiny shops and goes on from our plans."""

from __future__ import annotations

import pytest

from partsbench.core.plan.check import faults
from partsbench.core.plan.search import best_plan
from partsbench.core.plan.workshop import cost
from partsbench.services.plan import solver
from tests.support import workshops
from tests.support.all_plans import least_cost


@pytest.mark.parametrize("seed", range(8))
def test_its_optimum_is_that_of_all_plans_and_ours(seed: int) -> None:
    pytest.importorskip("ortools")
    shop = workshops.tiny(seed)
    truth = least_cost(shop)
    found = solver.improved(shop, None, 10.0, workers=1)
    assert found is not None
    if truth == float("inf"):
        assert found.plan is None
        return
    assert found.optimal
    assert found.plan is not None
    assert faults(shop, found.plan) == []
    assert cost(shop, found.plan) == truth == best_plan(shop, seed=1, rounds=150).cost
    assert found.least_cost == pytest.approx(truth)


def test_it_goes_on_from_our_plan_and_never_makes_it_worse() -> None:
    pytest.importorskip("ortools")
    shop = workshops.shop(1, parts=3, steps=6, pieces=2)
    ours = best_plan(shop, rounds=5)
    found = solver.improved(shop, ours.plan, 3.0, workers=1)
    assert found is not None
    assert found.plan is not None
    assert faults(shop, found.plan) == []
    assert cost(shop, found.plan) <= ours.cost
    assert found.least_cost <= cost(shop, found.plan)


def test_without_the_package_there_is_no_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solver, "available", lambda: False)
    shop = workshops.tiny(1)
    assert solver.improved(shop, None, 1.0) is None
