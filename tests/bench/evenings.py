"""Whether a shop can be done an evening sooner than it was planned, asked of CP-SAT.

`python -m tests.bench.evenings [--seeds 8] [--seconds 60]`: shops of whole paths, as in `plan.py`
here, planned by us in 2 s; then the solver looks for a plan that ends at an earlier close of hours,
the earliest that the bound does not refute first. It is another model than that of the package:
the room is visited so often a day, for one use or from one cup, and each stint belongs to a visit.
It uses nothing of ours but the heads and latest ends of the bound. The parts of a piece go in one
order throughout, and a day has at most so many visits; so INFEASIBLE is of such plans only: with
six visits it was said of a shop for which our own search found that evening later.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from time import process_time
from typing import Any

from ortools.sat.python import cp_model

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.check import faults
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.search import best_plan
from partsbench.core.plan.workshop import Booked, ShopPlan, Workshop
from tests.support import workshops

DAY = 24 * 60


class ByVisits:
    """A shop of one pair of hands and one room, to be done by a close of hours."""

    def __init__(self, shop: Workshop, floor: Floor, bounds: Bounds, end: int, visits: int) -> None:
        self.shop, self.floor, self.model = shop, floor, cp_model.CpModel()
        self.a_day = visits
        (self.worker,) = shop.workers
        late, _ = bounds.latest_ends([end] * len(floor.stints))
        new = self.model.new_int_var
        self.span = [(bounds.heads[i], late[i] - m) for i, m in enumerate(floor.minutes)]
        self.start = [new(low, high, "") for low, high in self.span]
        self.hands = [
            self.model.new_fixed_size_interval_var(self.start[i], m, "")
            for i, m in enumerate(floor.minutes)
            if m
        ]
        self.visits: list[list[Any]] = [[] for _ in floor.stints]
        self.uses = sorted({s.use for s in floor.stints if s.use and not s.mix})
        self.mixes = sorted({s.mix for s in floor.stints if s.mix})
        self._lags()
        self._order_of_parts()
        self._days(end)
        for i, s in enumerate(floor.stints):
            if s.mix or s.use:
                self.model.add_exactly_one([visited for _, visited in self.visits[i]])
        self.model.add_no_overlap(self.hands)

    def _lags(self) -> None:
        for b, into in enumerate(self.floor.into):
            for a, least, most in into:
                over = self.start[a] + self.floor.minutes[a]
                self.model.add(self.start[b] >= over + least)
                if most is not None:
                    self.model.add(self.start[b] <= over + most)

    def _order_of_parts(self) -> None:
        chains: dict[str, dict[str, list[int]]] = {}
        for i, s in enumerate(self.floor.stints):
            chains.setdefault(s.piece, {}).setdefault(s.where, []).append(i)
        for parts in chains.values():
            for one, two in pairwise(parts.values()):
                for i, j in zip(one, two, strict=False):
                    if self.floor.stints[i].does == self.floor.stints[j].does:
                        self.model.add(self.start[i] <= self.start[j])

    def _days(self, end: int) -> None:
        at = 0
        for day, (opens, closes) in enumerate(self.worker.here):
            if opens > at:
                self.hands.append(self.model.new_fixed_size_interval_var(at, opens - at, ""))
            at = closes
            if opens >= end:
                break
            before: tuple[Any, ...] = ()
            for visit in range(self.a_day):
                before = self._visit(day * self.a_day + visit + 1, day, before)

    def _visit(self, number: int, day: int, before: tuple[Any, ...]) -> tuple[Any, ...]:
        """One visit, behind the one before; of one use, or from one cup."""
        model, gun = self.model, self.shop.gun
        (opens, closes), loud = self.worker.here[day], self.worker.loud[day][1]
        begin, end = model.new_int_var(opens, closes, ""), model.new_int_var(opens, closes, "")
        kinds = {k: model.new_bool_var("") for k in (*self.uses, *self.mixes)}
        there, spray = model.new_bool_var(""), model.new_bool_var("")
        model.add(sum(kinds.values()) == there)
        model.add(sum(kinds[k] for k in self.mixes) == spray)
        first, over = model.new_int_var(opens, closes, ""), end + gun.clean * spray
        model.add(first == begin - gun.set_up * spray)
        for at, minutes in ((first, gun.set_up), (end, gun.clean)):
            self.hands.append(model.new_optional_fixed_size_interval_var(at, minutes, spray, ""))
        model.add(over <= loud).only_enforce_if(spray)
        mine = list(self._members(number, kinds, (begin, end), (opens, closes, loud)))
        work = sum(self.floor.minutes[i] * v for i, v in mine)
        model.add(end - begin >= work)
        model.add(end - begin == work).only_enforce_if(spray)
        model.add(sum(v for _, v in mine) >= 1).only_enforce_if(there)
        ml = sum(round(self.floor.stints[i].ml * 10) * v for i, v in mine)
        model.add(ml <= int(gun.cup_ml * 10))
        if before:
            kinds_before, there_before, over_before, spray_before = before
            model.add_implication(there, there_before)
            model.add(first >= over_before)
            for use in self.uses:
                settles = self.shop.settles.get((use, "spray"), 0)
                model.add(first >= over_before + settles).only_enforce_if(kinds_before[use], spray)
                settles = self.shop.settles.get(("spray", use), 0)
                model.add(first >= over_before + settles).only_enforce_if(spray_before, kinds[use])
        return kinds, there, over, spray

    def _members(
        self, number: int, kinds: dict[str, Any], span: tuple[Any, Any], day: tuple[int, int, int]
    ) -> Iterator[tuple[int, Any]]:
        """The stints that can be of this visit, each with whether it is."""
        (begin, end), (opens, closes, loud) = span, day
        for i, s in enumerate(self.floor.stints):
            low, high = self.span[i]
            if not (s.mix or s.use) or high < opens or low >= closes:
                continue
            mine = self.model.new_bool_var("")
            self.visits[i].append((number, mine))
            self.model.add_implication(mine, kinds[s.mix or s.use])
            self.model.add(self.start[i] >= begin).only_enforce_if(mine)
            self.model.add(self.start[i] + s.minutes <= end).only_enforce_if(mine)
            if s.loud:
                self.model.add(self.start[i] + s.minutes <= loud).only_enforce_if(mine)
            yield i, mine

    def solved(self, seconds: float) -> tuple[str, ShopPlan | None]:
        solver = cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = seconds
        solver.parameters.num_workers = 2
        status = solver.solve(self.model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return solver.status_name(status), None
        placed = []
        for i, s in enumerate(self.floor.stints):
            at = solver.value(self.start[i])
            cups = [n for n, v in self.visits[i] if s.mix and solver.boolean_value(v)]
            placed.append(Booked(s.key, at, at + s.minutes, (self.worker.name,), sum(cups)))
        return "found", ShopPlan(tuple(sorted(placed, key=lambda p: (p.start, p.end))))


def sooner(shop: Workshop, planned: int, seconds: float, visits: int) -> Iterator[str]:
    """What comes of each close of hours before the one by which it was planned."""
    floor = Floor(shop)
    bounds = Bounds(floor)
    everything = list(range(len(floor.stints)))
    for opens, closes in shop.workers[0].here:
        if planned <= closes:
            return
        if planned <= opens or bounds.refuted(everything, closes):
            continue
        began = process_time()
        told, plan = ByVisits(shop, floor, bounds, closes, visits).solved(seconds)
        if plan is not None:
            assert faults(shop, plan) == []
            told = f"found {max(plan.ends(shop).values()) / DAY:.2f}"
        yield f"by {closes / DAY:.2f} {told} ({process_time() - began:.0f} s)"
        if plan is not None:
            return


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=8)
    parser.add_argument("--first", type=int, default=0, help="the seed to begin with")
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--visits", type=int, default=6, help="of the room, a day at most")
    wanted = parser.parse_args()
    for seed in range(wanted.first, wanted.first + wanted.seeds):
        shop = replace(workshops.of_paths(seed, whole=True), promised=())
        began = process_time()
        found = best_plan(shop, rounds=10**9, stop=lambda: process_time() - began > 2)  # noqa: B023
        answers = sooner(shop, int(found.cost), wanted.seconds, wanted.visits)
        told = "; ".join(answers) or "no evening is left"
        print(f"{seed:3} ours {found.cost / DAY:.2f}, bound {found.proven.cost / DAY:.2f}: {told}",
              flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
