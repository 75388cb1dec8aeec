"""A good plan: many starts by rules that people use, then the best one changed again and again.

What is changed: the turn of one stint (most often one that the end hangs on), and which stints of
the gun share a cup. A change stays when the plan is not worse for it. The same seed and number of
rounds give the same plan on every machine; a caller who counts minutes ends it by `stop`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

from partsbench.core.plan.bound import Bounds, Proven, Stop, never
from partsbench.core.plan.dispatch import MANNERS, Dispatch
from partsbench.core.plan.floor import Cluster, Floor, Loads
from partsbench.core.plan.placing import Table, place_all
from partsbench.core.plan.workshop import MISSED_COSTS, ShopPlan, Workshop

Told = Callable[[float], None]
"""Told how much of the work is done, 0 to 1."""

JOIN_LATE = (0, 25, 120)
"""Minutes that a stint may start later so that it shares a cup."""

ROUNDS = 400
STARTS = 12


@dataclass(frozen=True, slots=True)
class Best:
    """The plan found, what it costs, and what no plan can beat. rounds: changes that were tried."""

    plan: ShopPlan
    cost: float
    proven: Proven
    rounds: int

    @property
    def gap(self) -> float:
        """By what share of the bound the plan may at most be worse than the best there is."""
        return self.cost / self.proven.cost - 1 if self.proven.cost else 0.0


@dataclass(frozen=True, slots=True, eq=False)
class _Tried:
    """One way to plan and what came of it: (cost, sum of the ends) is what is compared."""

    rank: list[float]
    loads: Loads
    clusters: tuple[Cluster, ...]
    join_late: int
    table: Table
    worth: tuple[float, float]


def best_plan(
    shop: Workshop,
    seed: int = 0,
    rounds: int = ROUNDS,
    stop: Stop = never,
    told: Told | None = None,
    from_plan: ShopPlan | None = None,
) -> Best:
    """The best plan found and the bound beside it. `from_plan`: one that is known already."""
    floor = Floor(shop)
    bounds = Bounds(floor)
    search = Search(floor, bounds, seed)
    search.start(stop, from_plan)
    first = search.best
    ends = first.table.plan().ends(shop)
    proven = bounds.proven(max(ends.values(), default=0), ends, stop)
    search.improve(rounds, proven.cost, stop, told)
    return Best(search.best.table.plan(), search.best.worth[0], proven, search.rounds)


class Search:
    """The search over one workshop."""

    def __init__(self, floor: Floor, bounds: Bounds, seed: int) -> None:
        self.floor = floor
        self.bounds = bounds
        self.random = Random(seed)
        self.rounds = 0
        self.best: _Tried
        self.tails = _tails(floor)

    def start(self, stop: Stop, from_plan: ShopPlan | None = None) -> None:
        """The rules, each with and without loads made beforehand; the best of them stays."""
        shop, floor = self.floor.shop, self.floor
        tried = []
        if from_plan is not None:
            tried.append(self._again(from_plan))
        due = {p.piece: p.by for p in shop.promised}
        heads, tails = self.bounds.heads, self.tails
        urgent = [due.get(s.piece, max(due.values(), default=0) + 1) - t
                  for s, t in zip(floor.stints, tails, strict=True)]  # fmt: skip
        rules: list[list[float]] = [
            [-float(t) for t in tails],
            [float(u) for u in urgent],
            [h - t / 4 for h, t in zip(heads, tails, strict=True)],
            [float(h) for h in heads],
            oldest_first(floor),
        ]
        for loads in (_in_step(floor, tails), ()):
            for rank in rules:
                for late in JOIN_LATE[:2]:
                    if tried and stop():
                        break
                    found = self.attempt(rank, loads, late)
                    if found:
                        tried.append(found)
        for manner in MANNERS:
            if stop():
                break
            dispatch = Dispatch(self.bounds, tails, manner, self.random)
            loads = dispatch.run()
            found = self.attempt(dispatch.rank, loads, 0)
            if found:
                tried.append(found)
        self.best = min(tried, key=lambda t: t.worth)

    def improve(self, rounds: int, enough: float, stop: Stop, told: Told | None) -> None:
        """Change the best plan until it is as good as can be, time is over, or rounds are."""
        now = self.best
        for n in range(rounds):
            if self.best.worth[0] <= enough or stop():
                break
            if told and n % 10 == 0:
                told(n / rounds)
            found = self._changed(now)
            self.rounds += 1
            if found is None:
                continue
            if found.worth <= now.worth:
                now = found
            if now.worth < self.best.worth:
                self.best = now
        if told:
            told(1.0)

    def attempt(
        self,
        rank: list[float],
        loads: Loads,
        join_late: int,
        clusters: tuple[Cluster, ...] | None = None,
    ) -> _Tried | None:
        made = clusters or self.floor.clusters(loads)
        if made is None:
            return None
        table = place_all(self.floor, made, rank, join_late)
        return _Tried(rank, loads, made, join_late, table, worth(table))

    def _again(self, plan: ShopPlan) -> _Tried:
        """A plan that is known, in its own order and with its own loads."""
        at = plan.at()
        far = max((p.end for p in plan.placed), default=0)
        rank = [float(at[s.key].start if s.key in at else far) for s in self.floor.stints]
        cups: dict[int, list[int]] = {}
        for p in plan.placed:
            if p.load and p.stint in self.floor.number:
                cups.setdefault(p.load, []).append(self.floor.number[p.stint])
        loads = tuple(tuple(members) for members in cups.values() if len(members) > 1)
        found = self.attempt(rank, loads, 0) or self.attempt(rank, (), 0)
        assert found is not None
        return found

    def _changed(self, now: _Tried) -> _Tried | None:
        if any(s.mix for s in self.floor.stints) and self.random.random() < 0.3:
            loads = self._other_loads(now)
            if loads is not None:
                return self.attempt(list(now.rank), loads, now.join_late)
        rank = [float(s) for s in now.table.start]
        for _ in range(self.random.choice((1, 1, 2, 3))):
            self._move(now.table, rank)
        late = self.random.choice(JOIN_LATE) if self.random.random() < 0.1 else now.join_late
        return self.attempt(rank, now.loads, late, now.clusters)

    def _move(self, table: Table, rank: list[float]) -> None:
        """Another turn for one stint: often one that the end hangs on comes sooner."""
        chain = self._hangs_on(table)
        if chain and self.random.random() < 0.7:
            i, sooner = self.random.choice(chain), self.random.random() < 0.75
        else:
            i, sooner = self.random.randrange(len(rank)), self.random.random() < 0.5
        by = self.random.choice((15, 60, 240, 1440)) * (1 + self.random.random())
        rank[i] += -by if sooner else by

    def _hangs_on(self, table: Table) -> list[int]:
        """The stints from the last end back: each because of a wait, or of the hands before it."""
        floor, start = self.floor, table.start
        order = self._judged(table)
        at, chain = order, list[int]()
        by_worker: dict[int, list[tuple[int, int]]] = {}
        for i, who in enumerate(table.who):
            for w in who:
                by_worker.setdefault(w, []).append((start[i] + floor.stints[i].minutes, i))
        for each in by_worker.values():
            each.sort()
        while at >= 0 and len(chain) < 200:
            chain.append(at)
            waits = [(start[a] + floor.stints[a].minutes + least, a) for a, least, _ in
                     floor.into[at]]  # fmt: skip
            when, before = max(waits, default=(-1, -1))
            if start[at] - when > floor.single[at].before + 1:
                before = _just_before(by_worker, table.who[at], start[at])
            at = before
        return chain

    def _judged(self, table: Table) -> int:
        """The stint to begin from: the last one of all, or the last of a piece that is late."""
        floor, start = self.floor, table.start
        ends = [start[i] + s.minutes for i, s in enumerate(floor.stints)]
        last: dict[str, int] = {}
        for i, s in enumerate(floor.stints):
            if s.piece not in last or ends[i] > ends[last[s.piece]]:
                last[s.piece] = i
        late = [last[p.piece] for p in floor.shop.promised
                if p.piece in last and ends[last[p.piece]] > p.by]  # fmt: skip
        if late and self.random.random() < 0.6:
            return self.random.choice(late)
        return max(last.values(), key=lambda i: ends[i], default=-1)

    def _other_loads(self, now: _Tried) -> Loads | None:
        """One load more, fewer, or with other stints; None where nothing can be changed."""
        floor = self.floor
        spray = [i for i, s in enumerate(floor.stints) if s.mix]
        i = self.random.choice(spray)
        loads = [list(load) for load in now.loads]
        mine = next((load for load in loads if i in load), None)
        if mine is not None and self.random.random() < 0.5:
            mine.remove(i)
        else:
            others = [j for j in spray if j != i and floor.joins(floor.stints[i], floor.stints[j])]
            if not others:
                return None
            start = now.table.start
            others.sort(key=lambda j: abs(start[j] - start[i]))
            j = others[min(int(self.random.expovariate(0.5)), len(others) - 1)]
            theirs = next((load for load in loads if j in load), None)
            if theirs is None:
                theirs = [j]
                loads.append(theirs)
            if theirs is mine:
                return None
            if mine is not None:
                mine.remove(i)
            theirs.append(i)
            theirs.sort(key=lambda k: start[k])
            if not floor.one_cup(theirs):
                return None
        return tuple(tuple(load) for load in loads if len(load) > 1)


def worth(table: Table) -> tuple[float, float]:
    """The cost of what is on the table, and the sum of the pieces' ends to choose between equals."""
    shop = table.floor.shop
    ends: dict[str, int] = {}
    for stint, start in zip(table.floor.stints, table.start, strict=True):
        ends[stint.piece] = max(ends.get(stint.piece, 0), start + stint.minutes)
    late = sum(p.worth * max(0, ends[p.piece] - p.by) for p in shop.promised if p.piece in ends)
    missed = MISSED_COSTS * len(set(table.missed))
    return max(ends.values(), default=0) + late + missed, float(sum(ends.values()))


def oldest_first(floor: Floor) -> list[float]:
    """The rule of a person without a plan: whatever may be done now, the oldest piece first."""
    pieces = {p: n for n, p in enumerate(floor.shop.pieces)}
    return [pieces[s.piece] * 1000.0 + n / 1000 for n, s in enumerate(floor.stints)]


def _tails(floor: Floor) -> list[int]:
    """How long after its end each stint's chain of waits and work still goes on."""
    tails = [0] * len(floor.stints)
    for b in reversed(floor.order):
        for c, least, _ in floor.out[b]:
            tails[b] = max(tails[b], least + floor.stints[c].minutes + tails[c])
    return [t + s.minutes for t, s in zip(tails, floor.stints, strict=True)]


def _in_step(floor: Floor, tails: Sequence[int]) -> Loads:
    """Loads made beforehand: stints of one mix that have as many coats of it behind them, those
    with the longest way to go first, cup by cup."""
    coats = [0] * len(floor.stints)
    behind: list[dict[str, int]] = [{} for _ in floor.stints]
    for b in floor.order:
        for a, _, _ in floor.into[b]:
            for mix, count in behind[a].items():
                behind[b][mix] = max(behind[b].get(mix, 0), count)
        mix = floor.stints[b].mix
        if mix:
            coats[b] = behind[b].get(mix, 0)
            behind[b][mix] = coats[b] + 1
    groups: dict[tuple[object, ...], list[int]] = {}
    for i, s in enumerate(floor.stints):
        if s.mix:
            alike = (s.mix, s.room, s.use, s.hands, s.loud, floor.able[i], coats[i])
            groups.setdefault(alike, []).append(i)
    loads = []
    for members in groups.values():
        members.sort(key=lambda i: (-tails[i], i))
        load = list[int]()
        for i in members:
            if load and not floor.one_cup([*load, i]):
                loads.append(tuple(load))
                load = []
            load.append(i)
        loads.append(tuple(load))
    return tuple(load for load in loads if len(load) > 1)


def _just_before(
    by_worker: dict[int, list[tuple[int, int]]], who: Sequence[int], start: int
) -> int:
    """What these hands did last before then; -1 for nothing."""
    found = (-1, -1)
    for w in who:
        for end, i in reversed(by_worker[w]):
            if end <= start:
                found = max(found, (end, i))
                break
    return found[1]
