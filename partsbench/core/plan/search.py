"""A good plan: many starts by rules that people use, then the best one changed again and again.

What is changed: the turn of one stint (most often one that the end hangs on), and which stints of
the gun share a cup. A change stays when the plan is not worse for it. The same seed and number of
rounds give the same plan on every machine; a caller who counts minutes ends it by `stop`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from partsbench.core.plan.bound import Bounds, Proven, Stop, never
from partsbench.core.plan.dispatch import MANNERS, Dispatch, Manner
from partsbench.core.plan.floor import Floor, Loads, Units
from partsbench.core.plan.mirror import mirrored
from partsbench.core.plan.placing import Table, place_all
from partsbench.core.plan.workshop import MISSED_COSTS, ShopPlan, Workshop, cost

HowFar = Callable[[float], None]
"""Told how much of the work is done, 0 to 1."""

JOIN_LATE = (0, 25, 120, -1_000_000)
"""Minutes that a stint may start later so that it shares a cup; the last: it never joins one that
was not meant for it."""

ROUNDS = 400
POOL = 6
"""So many of the best plans are kept to go on from."""


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
    units: Units
    join_late: int
    table: Table
    worth: tuple[float, float]
    manner: Manner | None = None
    leaning: Sequence[float] = ()


def best_plan(
    shop: Workshop,
    seed: int = 0,
    rounds: int = ROUNDS,
    stop: Stop = never,
    told: HowFar | None = None,
    from_plan: ShopPlan | None = None,
) -> Best:
    """The best plan found and the bound beside it. `from_plan`: one that is known already."""
    if not shop.stints:
        return Best(ShopPlan(()), 0.0, Proven(0, {}, 0.0), 0)
    floor = Floor(shop)
    bounds = Bounds(floor)
    search = Search(floor, bounds, seed)
    search.start(stop, from_plan)
    proven = _proven(shop, bounds, search.best.table.plan(), stop)
    search.improve(rounds, proven.cost, stop, told)
    plan = search.best.table.plan()
    if plan.missed:
        proven = _proven(shop, bounds, plan, stop)
    return Best(plan, search.best.worth[0], proven, search.rounds)


def proven_beside(shop: Workshop, best: Best, plan: ShopPlan) -> Best:
    """Another plan of the same workshop, with what was proven beside the first."""
    return replace(best, plan=plan, cost=cost(shop, plan))


def _proven(shop: Workshop, bounds: Bounds, plan: ShopPlan, stop: Stop) -> Proven:
    """The bound, of all plans that miss no more than this one does."""
    if plan.missed:
        bounds = Bounds(Floor(without(shop, plan.missed)))
    ends = plan.ends(shop)
    found = bounds.proven(max(ends.values(), default=0), ends, stop)
    return replace(found, cost=found.cost + MISSED_COSTS * len(plan.missed))


def without(shop: Workshop, missed: Sequence[tuple[str, str]]) -> Workshop:
    """The workshop without the latest ends that a plan misses."""
    pairs, own = set(missed), {a for pair in missed for a in pair}
    lags = (replace(x, most=None) if (x.before, x.after) in pairs else x for x in shop.lags)
    stints = (replace(s, by=None) if s.key in own else s for s in shop.stints)
    return replace(shop, lags=tuple(lags), stints=tuple(stints))


class Search:
    """The search over one workshop."""

    def __init__(self, floor: Floor, bounds: Bounds, seed: int) -> None:
        self.floor = floor
        self.bounds = bounds
        self.random = Random(seed)
        self.rounds = 0
        self.best: _Tried
        self.tails = _tails(floor)
        self.late = [0] * len(floor.stints)
        self._mirrors: dict[int, Floor] = {}
        self._least = max(
            (bounds.heads[i] + s.minutes for i, s in enumerate(floor.stints)), default=0
        )

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
        self.aim(self._least)
        rules.append([float(x) for x in self.late])
        for loads in (_in_step(floor, tails), ()):
            for rank in rules:
                for late in JOIN_LATE[:2]:
                    if stop() and _one_keeps_all(tried):
                        break
                    found = self.attempt(rank, loads, late)
                    if found:
                        tried.append(found)
        for manner in MANNERS:
            if stop() and _one_keeps_all(tried):
                break
            found = self.through(manner, [0.0] * len(floor.stints))
            if found:
                tried.append(found)
        self.best = min(tried, key=lambda t: t.worth)

    def aim(self, end: int) -> None:
        """Latest ends that a plan would have to keep to be done by then, and in time."""
        soonest: dict[str, int] = {}
        for i, s in enumerate(self.floor.stints):
            over = self.bounds.heads[i] + s.minutes
            soonest[s.piece] = max(soonest.get(s.piece, 0), over)
        limit = dict.fromkeys(soonest, end)
        for p in self.floor.shop.promised:
            if p.piece in limit:
                limit[p.piece] = min(end, max(p.by, soonest[p.piece]))
        self.late, _ = self.bounds.latest_ends([limit[s.piece] for s in self.floor.stints])

    def improve(self, rounds: int, enough: float, stop: Stop, told: HowFar | None) -> None:
        """Try further plans until one is as good as can be, time is over, or rounds are."""
        pool = [self.best]
        for n in range(rounds):
            if self.best.worth[0] <= enough or stop():
                break
            if told and n % 10 == 0:
                told(n / rounds)
            self.rounds += 1
            found = self._other(pool)
            if found is None:
                continue
            if found.worth < self.best.worth:
                self.best = found
            pool = sorted([*pool, found], key=lambda t: t.worth)[:POOL]
        if told:
            told(1.0)

    def _other(self, pool: list[_Tried]) -> _Tried | None:
        """One more plan: one of the best planned back from its end and forward again, gone through
        anew in another manner or with other leanings, or one of the best with other turns."""
        kind = self.random.random()
        low = self._least
        self.aim(int(low + (self._end(self.best) - low) * self.random.random()))
        if kind < 0.3:
            return self._turned_round(self.random.choice(pool[:3]))
        if kind < 0.55:
            return self.through(_manner(self.random), [0.0] * len(self.floor.stints))
        known = [t for t in pool if t.manner is not None]
        if kind < 0.72 and known:
            one = self.random.choice(known)
            assert one.manner is not None
            leaning = list(one.leaning)
            for _ in range(self.random.choice((1, 2, 4, 8))):
                by = self.random.choice((15, 60, 240)) * (1 + self.random.random())
                leaning[self.random.randrange(len(leaning))] += self.random.choice((-by, by))
            return self.through(one.manner, leaning)
        return self._changed(self.random.choice(pool[:2]))

    def _turned_round(self, now: _Tried) -> _Tried | None:
        """Planned back from an evening by which it may be done, in its order; then forward."""
        end = self.random.choice(self._evenings(self._end(now)))
        if end not in self._mirrors:
            self._mirrors[end] = Floor(mirrored(self.floor.shop, end))
        floor = self._mirrors[end]
        loads = tuple(tuple(reversed(load)) for load in now.loads)
        made = floor.units(loads)
        assert made is not None
        noise = self.random.choice((0, 0, 30, 120))
        rank = [-float(over) + self.random.gauss(0, noise) for over in now.table.ends()]
        back = place_all(floor, made, rank, 0)
        rank = [float(end - over) for over in back.ends()]
        return self.attempt(rank, now.loads, now.join_late)

    def _evenings(self, end: int) -> list[int]:
        """The end itself, and the last moments of work before it that are not refuted."""
        closes = {b for w in self.floor.shop.workers for _, b in w.here}
        closes |= {b for w in self.floor.shop.workers for _, b in w.loud}
        before = sorted(b for b in closes if self._least <= b < end)
        return [end, *before[-3:]]

    def through(self, manner: Manner, leaning: list[float]) -> _Tried | None:
        """A plan gone through in one manner, aimed at the latest ends; leaning: minutes by which
        each stint is held to be more pressing."""
        far = max(self.late)
        tails = [far - x + y / manner.tail for x, y in zip(self.late, leaning, strict=True)]
        dispatch = Dispatch(self.bounds, tails, manner, self.random)
        loads = dispatch.run()
        found = self.attempt(dispatch.rank, loads, 0)
        return replace(found, manner=manner, leaning=leaning) if found else None

    def _end(self, tried: _Tried) -> int:
        return max(tried.table.ends())

    def attempt(
        self,
        rank: list[float],
        loads: Loads,
        join_late: int,
        units: Units | None = None,
    ) -> _Tried | None:
        made = units or self.floor.units(loads)
        if made is None:
            return None
        table = place_all(self.floor, made, rank, join_late)
        return _Tried(rank, loads, made, join_late, table, worth(table))

    def _again(self, plan: ShopPlan) -> _Tried:
        """A plan that is known, in its own order and with its own loads."""
        at = plan.at()
        rank = [float(at[s.key].start) for s in self.floor.stints]
        loads = tuple(load for load in self.floor.cups(plan) if len(load) > 1)
        found = self.attempt(rank, loads, 0) or self.attempt(rank, (), 0)
        assert found is not None
        return found

    def _changed(self, now: _Tried) -> _Tried | None:
        rank = [float(s) for s in now.table.start]
        if any(s.mix for s in self.floor.stints) and self.random.random() < 0.3:
            loads = self._other_loads(now)
            if loads is not None:
                if self.random.random() < 0.5:
                    self._move(now.table, rank)
                return self.attempt(rank, loads, now.join_late)
        for _ in range(self.random.choice((1, 1, 2, 3))):
            self._move(now.table, rank)
        late = self.random.choice(JOIN_LATE) if self.random.random() < 0.15 else now.join_late
        return self.attempt(rank, now.loads, late, now.units)

    def _move(self, table: Table, rank: list[float]) -> None:
        """Another turn for one stint: often one that the end hangs on comes sooner."""
        beyond = [i for i, over in enumerate(table.ends()) if over > self.late[i]]
        if beyond and self.random.random() < 0.7:
            i, sooner = self.random.choice(beyond), self.random.random() < 0.85
        else:
            i, sooner = self.random.randrange(len(rank)), self.random.random() < 0.5
        by = self.random.choice((15, 60, 240, 1440)) * (1 + self.random.random())
        rank[i] += -by if sooner else by

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


def _one_keeps_all(tried: Sequence[_Tried]) -> bool:
    """A plan that misses no window is there; until then the rules are tried to their end."""
    return any(not t.table.missed for t in tried)


def worth(table: Table) -> tuple[float, float]:
    """The cost of what is on the table, and the sum of the ends to choose between equals."""
    shop = table.floor.shop
    ends: dict[str, int] = {}
    for i, over in enumerate(table.ends()):
        piece = table.floor.stints[i].piece
        ends[piece] = max(ends.get(piece, 0), over)
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
    coats: dict[int, int] = {}
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


def _manner(random: Random) -> Manner:
    return Manner(
        random.choice((30.0, 60.0, 120.0, 240.0, 480.0, 720.0)),
        random.choice((0.02, 0.05, 0.1, 0.2, 0.4, 0.7, 1.0)),
        random.choice((0, 30, 60, 120, 240, 480)),
        random.choice((0.0, 10.0, 30.0, 60.0)),
    )
