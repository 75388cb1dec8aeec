"""The plan made better by CP-SAT (OR-Tools), where it is installed; it starts from ours.

The same workshop in the solver's words, and nothing of ours but the model's values: what comes back
is looked at by the checker like any other plan. Without the package `improved` gives None.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Any

from partsbench.core.plan.workshop import Booked, ShopPlan, Stint, Worker, Workshop


@dataclass(frozen=True, slots=True)
class Solved:
    """The solver's plan (None: it found none), and what no plan can cost less than."""

    plan: ShopPlan | None
    least_cost: float
    optimal: bool


def available() -> bool:
    """Whether the package is installed."""
    return importlib.util.find_spec("ortools") is not None


def improved(
    shop: Workshop, start: ShopPlan | None, seconds: float, seed: int = 0, workers: int = 2
) -> Solved | None:
    """The best plan that the solver finds in so many seconds; None where it is not installed.

    Costs are counted in tenths of a minute's worth. A plan that misses windows is no start.
    """
    if not available():
        return None
    from ortools.sat.python import cp_model

    asked = _Asked(cp_model, shop, start)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = seed
    status = solver.solve(asked.model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    bound = solver.best_objective_bound / SCALE if status != cp_model.INFEASIBLE else 0.0
    plan = asked.plan(solver) if found else None
    return Solved(plan, max(bound, 0.0), status == cp_model.OPTIMAL)


SCALE = 10
"""Worths are whole numbers for the solver: tenths."""


class _Asked:
    """The workshop as a model of the solver."""

    def __init__(self, cp: Any, shop: Workshop, start: ShopPlan | None) -> None:
        self.cp, self.shop = cp, shop
        self.model = cp.CpModel()
        last = max((end for w in shop.workers for _, end in w.here), default=0)
        known = start if start and not start.missed else None
        far = max((p.end for p in known.placed), default=last) if known else last
        late = any(p.worth for p in shop.promised)
        self.horizon = min(last, far * 2 if late else far) if known else last
        self.stints = {s.key: s for s in shop.stints}
        new = self.model.new_int_var
        self.start = {s.key: new(s.soonest, self.horizon, s.key) for s in shop.stints}
        self.by: dict[tuple[str, str], Any] = {}
        self.same: dict[tuple[str, str], Any] = {}
        self.span: dict[str, tuple[Any, Any, Any]] = {}
        self._lags()
        self._cups()
        self._spans()
        self._hands()
        self._rooms()
        self._rack()
        self._cost()
        if known:
            self._hint(known)

    def end(self, key: str) -> Any:
        return self.start[key] + self.stints[key].minutes

    def _lags(self) -> None:
        for lag in self.shop.lags:
            self.model.add(self.start[lag.after] >= self.end(lag.before) + lag.least)
            if lag.most is not None:
                self.model.add(self.start[lag.after] <= self.end(lag.before) + lag.most)
        for stint in self.shop.stints:
            if stint.by is not None:
                self.model.add(self.start[stint.key] <= stint.by)

    def _cups(self) -> None:
        """Which stint follows which from the same cup, and how full the cup must have been."""
        gun = self.shop.gun
        sprayed = [s for s in self.shop.stints if s.mix]
        cup = round(min(gun.cup_ml, sum(s.ml for s in sprayed) + 1) * 10)
        used = {}
        for s in sprayed:
            least = round(s.ml * 10)
            used[s.key] = self.model.new_int_var(least, max(cup, least), "")
        following: dict[str, list[Any]] = {s.key: [] for s in sprayed}
        led: dict[str, list[Any]] = {s.key: [] for s in sprayed}
        ways = _apart(self.shop)
        for a, b in ((a, b) for a in sprayed for b in sprayed if a is not b):
            if not _alike(self.shop, a, b) or (b.key, a.key) in ways:
                continue
            if round(a.ml * 10) + round(b.ml * 10) > cup:
                continue
            same = self.model.new_bool_var("")
            self.same[a.key, b.key] = same
            following[b.key].append(same)
            led[a.key].append(same)
            self.model.add(self.start[b.key] == self.end(a.key)).only_enforce_if(same)
            more = used[a.key] + round(b.ml * 10)
            self.model.add(used[b.key] >= more).only_enforce_if(same)
            self.model.add(used[b.key] <= cup).only_enforce_if(same)
        self.following, self.led = following, led
        for s in sprayed:
            self.model.add_at_most_one(following[s.key])
            self.model.add_at_most_one(led[s.key])

    def _spans(self) -> None:
        """From when to when a stint takes hands and room: for the gun with set-up and cleaning."""
        gun = self.shop.gun
        for s in self.shop.stints:
            begin, end, size = self.start[s.key], self.end(s.key), s.minutes
            if s.mix:
                first = self.model.new_bool_var("")
                last = self.model.new_bool_var("")
                self.model.add(first == 1 - sum(self.following[s.key]))
                self.model.add(last == 1 - sum(self.led[s.key]))
                begin = self.model.new_int_var(0, self.horizon, "")
                over = self.model.new_int_var(0, self.horizon + 24 * 60, "")
                size = self.model.new_int_var(s.minutes, s.minutes + gun.set_up + gun.clean, "")
                self.model.add(begin == self.start[s.key] - gun.set_up * first)
                self.model.add(over == end + gun.clean * last)
                self.model.add(size == over - begin)
                end = over
            self.span[s.key] = begin, size, end
        whole = [self.model.new_interval_var(*self.span[s.key], "")
                 for s in self.shop.stints if s.mix]  # fmt: skip
        self.model.add_no_overlap(whole)

    def _hands(self) -> None:
        plain: dict[str, list[Any]] = {w.name: [] for w in self.shop.workers}
        loud: dict[str, list[Any]] = {w.name: [] for w in self.shop.workers}
        for s in self.shop.stints:
            able = [w for w in self.shop.workers if w.may(s)]
            takes = [self.model.new_bool_var("") for _ in able]
            self.model.add(sum(takes) == s.hands)
            for w, taken in zip(able, takes, strict=True):
                self.by[s.key, w.name] = taken
                begin, size, end = self.span[s.key]
                part = self.model.new_optional_interval_var(begin, size, end, taken, "")
                plain[w.name].append(part)
                if s.loud:
                    loud[w.name].append(part)
        for w in self.shop.workers:
            off = [self.model.new_fixed_size_interval_var(a, b - a, "")
                   for a, b in self._off(w.here)]  # fmt: skip
            self.model.add_no_overlap(plain[w.name] + off)
            if w.loud != w.here:
                off = [self.model.new_fixed_size_interval_var(a, b - a, "")
                       for a, b in self._off(w.loud)]  # fmt: skip
                self.model.add_no_overlap(loud[w.name] + off)
        for (a, b), same in self.same.items():
            for w in self.shop.workers:
                if (a, w.name) in self.by:
                    equal = self.by[a, w.name] == self.by[b, w.name]
                    self.model.add(equal).only_enforce_if(same)

    def _off(self, stretches: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
        found, at = [], 0
        far = self.horizon + 24 * 60
        for start, end in stretches:
            if start > at:
                found.append((at, min(start, far)))
            at = max(at, end)
        if at < far:
            found.append((at, far))
        return [(a, b) for a, b in found if a < b]

    def _rooms(self) -> None:
        using = [s for s in self.shop.stints if s.room and s.use]
        kept = _apart(self.shop)
        for a, b in combinations(using, 2):
            if a.room != b.room or a.use == b.use:
                continue
            there = self.shop.settles.get((a.use, b.use), 0)
            back = self.shop.settles.get((b.use, a.use), 0)
            if (a.key, b.key) in kept or (b.key, a.key) in kept:  # their order is known
                one, two, gap = (a, b, there) if (a.key, b.key) in kept else (b, a, back)
                self.model.add(self.span[two.key][0] >= self.span[one.key][2] + gap)
                continue
            first = self.model.new_bool_var("")
            a_first = self.span[b.key][0] >= self.span[a.key][2] + there
            b_first = self.span[a.key][0] >= self.span[b.key][2] + back
            self.model.add(a_first).only_enforce_if(first)
            self.model.add(b_first).only_enforce_if(~first)

    def _rack(self) -> None:
        room = self.shop.rack_m2
        if room is None:
            return
        lying, sizes = [], []
        for s in self.shop.stints:
            if s.m2:
                length = s.minutes + s.lies
                lying.append(self.model.new_fixed_size_interval_var(self.start[s.key], length, ""))
                sizes.append(round(min(s.m2, room) * 1000))
        self.model.add_cumulative(lying, sizes, round(room * 1000))

    def _cost(self) -> None:
        last = self.model.new_int_var(0, self.horizon + 24 * 60, "last")
        for s in self.shop.stints:
            self.model.add(last >= self.end(s.key))
        total = last * SCALE
        for p in self.shop.promised:
            mine = [s.key for s in self.shop.stints if s.piece == p.piece]
            late = self.model.new_int_var(0, self.horizon + 24 * 60, "")
            for key in mine:
                self.model.add(late >= self.end(key) - p.by)
            total = total + late * round(p.worth * SCALE)
        self.model.minimize(total)

    def _hint(self, plan: ShopPlan) -> None:
        loads: dict[int, list[Booked]] = {}
        for p in plan.placed:
            self.model.add_hint(self.start[p.stint], p.start)
            for w in self.shop.workers:
                if (p.stint, w.name) in self.by:
                    self.model.add_hint(self.by[p.stint, w.name], w.name in p.workers)
            if p.load:
                loads.setdefault(p.load, []).append(p)
        pairs = {(a.stint, b.stint) for load in loads.values() for a, b in pairwise(load)}
        for pair, same in self.same.items():
            self.model.add_hint(same, pair in pairs)

    def plan(self, solver: Any) -> ShopPlan:
        """What the solver found, as a plan."""
        before = {b: a for (a, b), same in self.same.items() if solver.boolean_value(same)}
        numbers: dict[str, int] = {}

        def load(key: str) -> int:
            first = key
            while first in before:
                first = before[first]
            return numbers.setdefault(first, len(numbers) + 1)

        placed = []
        for s in self.shop.stints:
            start = solver.value(self.start[s.key])
            who = tuple(
                w.name
                for w in self.shop.workers
                if (s.key, w.name) in self.by and solver.boolean_value(self.by[s.key, w.name])
            )
            number = load(s.key) if s.mix else 0
            placed.append(Booked(s.key, start, start + s.minutes, who, number))
        return ShopPlan(tuple(sorted(placed, key=lambda p: (p.start, p.end))))


def _alike(shop: Workshop, a: Stint, b: Stint) -> bool:
    able: list[list[Worker]] = [[w for w in shop.workers if w.may(s)] for s in (a, b)]
    alike = (a.mix, a.room, a.use, a.hands, a.loud) == (b.mix, b.room, b.use, b.hands, b.loud)
    return alike and able[0] == able[1]


def _apart(shop: Workshop) -> set[tuple[str, str]]:
    """(first, second) of stints of which one waits for the other, by however many in between."""
    after: dict[str, list[str]] = {}
    for lag in shop.lags:
        after.setdefault(lag.before, []).append(lag.after)
    found = set()
    for stint in shop.stints:
        todo = list(after.get(stint.key, ()))
        seen = set()
        while todo:
            key = todo.pop()
            if key not in seen:
                seen.add(key)
                found.add((stint.key, key))
                todo += after.get(key, ())
    return found
