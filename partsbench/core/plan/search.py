"""A good plan: begun in the manners that people have, then generations of plans made of two.

What is planned are batches (`batches.py`): all of a piece that is as far, halves of that, or part
by part, each in its turn. A generation begins with plans gone through in manners and with pieces
held more pressing than others, both drawn by chance. Of two good ones comes a third
(`crossing.py`), which is planned back from an evening and forward again (crossover and
justification: Valls, Ballestín and Quintanilla, A hybrid genetic algorithm for the RCPSP, 2008,
from memory). The same seed and number of rounds give the same plan on every machine; a caller who
counts minutes ends it by `stop`.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import cycle
from math import inf
from random import Random

from partsbench.core.plan import crossing
from partsbench.core.plan.attempts import Attempts, Tried
from partsbench.core.plan.batches import batches
from partsbench.core.plan.bound import Bounds, Proven, Stop, never
from partsbench.core.plan.dispatch import MANNERS, Manner
from partsbench.core.plan.floor import Batches, Floor
from partsbench.core.plan.workshop import MISSED_COSTS, ShopPlan, Workshop, cost

HowFar = Callable[[float], None]
"""Told how much of the work is done, 0 to 1."""

JOIN_LATE = (0, 25, 120, -1_000_000)
"""Minutes that a stint may start later so that it shares a cup; the last: it never joins one that
was not meant for it."""

LEANINGS = (0, 0, 240, 720, 1440)
"""Minutes by which a piece is held to be more pressing than it is."""

ROUNDS = 400
NEARLY = 0.02
"""Ways to cut the work that begin by so much of the cost apart are as good."""

WHICH_CUT = (0, 1, 0, 1, 2)
"""Of which cut one generation after another is, the best being the first."""

POOL, KEPT = 12, 3
"""So many plans are in a generation, and so many stay from the start."""

STALE = 60
"""After so many plans without a better one a generation is over."""


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
        self.floor, self.bounds = floor, bounds
        self.random = Random(seed)
        self.attempts = Attempts(floor, bounds, self.random)
        self.cuts = tuple(dict.fromkeys((batches(floor), batches(floor, 2), ())))
        """Ways to cut the work into batches; the last leaves it part by part."""
        self.rounds = 0
        self.pool: list[Tried] = []
        """The best plans of a generation, in order."""
        self._best: Tried | None = None
        self._known: Tried | None = None

    @property
    def best(self) -> Tried:
        assert self._best is not None, "it is begun by `start`"
        return self._best

    def start(self, stop: Stop, from_plan: ShopPlan | None = None) -> None:
        """A known plan, then each cut in some manners; where none of these keeps all windows, the
        rules that people use, too. What is cut best comes first in the generations."""
        tries = self.attempts
        tries.aim(tries.least)
        if from_plan is not None:
            self._known = tries.again(from_plan)
            self._note(self._known)
        level = [0.0] * len(self.floor.stints)
        least: dict[Batches, float] = {}
        for cut in self.cuts:
            for manner in MANNERS[:: 3 if cut else 6]:
                if stop() and self._keeps_all():
                    return
                found = tries.through(manner, level, cut)
                self._note(found)
                least[cut] = min(least.get(cut, inf), found.worth[0])
        step = max(1.0, NEARLY * min(least.values()))
        self.cuts = tuple(sorted(self.cuts, key=lambda cut: int(least[cut] / step)))
        for rank in () if self._keeps_all() else self._rules():
            for late in JOIN_LATE[:2]:
                if stop() and self._keeps_all():
                    return
                plain = tries.attempt(rank, (), late)
                assert plain is not None, "nothing waits for itself"
                self._note(plain)

    def _keeps_all(self) -> bool:
        return bool(self.pool) and not self.pool[0].table.missed

    def _note(self, found: Tried) -> None:
        """It joins the generation, out of which the worst falls, unless it is like one there."""
        if any(t.worth == found.worth for t in self.pool):
            return
        insort(self.pool, found, key=lambda t: t.worth)
        del self.pool[POOL:]
        if self._best is None or found.worth < self._best.worth:
            loose = self.attempts.loosened(found)
            self._best = loose if loose.worth < found.worth else found

    def _rules(self) -> list[list[float]]:
        """Orders of the work by what people go by."""
        floor, shop = self.floor, self.floor.shop
        due = {p.piece: p.by for p in shop.promised}
        heads, tails = self.bounds.heads, _tails(floor)
        far = max(due.values(), default=0) + 1
        return [
            [-float(t) for t in tails],
            [float(due.get(s.piece, far) - t) for s, t in zip(floor.stints, tails, strict=True)],
            [h - t / 4 for h, t in zip(heads, tails, strict=True)],
            [float(h) for h in heads],
            oldest_first(floor),
            [float(x) for x in self.attempts.late],
        ]

    def improve(self, rounds: int, enough: float, stop: Stop, told: HowFar | None) -> None:
        """One generation after another, until a plan is as good as can be, time is over, or so
        many plans were tried."""

        before = self.rounds

        def ended() -> bool:
            done = self.rounds - before
            if told and done % 10 == 0:
                told(done / max(rounds, 1))
            return self.best.worth[0] <= enough or done >= rounds or stop()

        # A generation of another cut would be slowed down by plans that are made part by part.
        cut_alike = [t for t in self.pool if t.batches == self.cuts[0]]
        self.pool = [t for t in self.pool if t in cut_alike[:KEPT] or t is self._known]
        for place in cycle(WHICH_CUT):
            if ended():
                break
            self._generation(self.cuts[min(place, len(self.cuts) - 1)], ended)
            self.pool.clear()
        if told:
            told(1.0)

    def _generation(self, cut: Batches, ended: Callable[[], bool]) -> None:
        tries = self.attempts
        tries.forget()
        tries.aim(tries.evenings(self.best.end)[0])
        for _ in range(POOL - len(self.pool)):
            if ended():
                return
            self.rounds += 1
            leaning = {p: self.random.choice(LEANINGS) for p in self.floor.of_piece}
            each = [float(leaning[s.piece]) for s in self.floor.stints]
            late = self.random.choice(JOIN_LATE[:2])
            self._note(tries.turned_round(tries.through(_manner(self.random), each, cut, late)))
        stale = 0
        while stale < STALE and not ended():
            self.rounds += 1
            before = self.pool[0].worth
            self._breed()
            stale = 0 if self.pool[0].worth < before else stale + 1

    def _breed(self) -> None:
        """One more plan, of two of the generation or of one."""
        one, two = self._chosen(), self._chosen()
        turns, some, late = one.turns, one.batches, one.join_late
        kind = self.random.random()
        if kind < 0.35:
            turns = crossing.by_piece(self.floor, turns, two.turns, self.random)
        elif kind < 0.7:
            turns = crossing.by_time(turns, two.turns, self.random)
        else:
            if self.random.random() < 0.3:
                some = crossing.other_loads(self.floor, turns, some, self.random) or some
            turns = crossing.moved(self.floor, turns, some, self.random)
            if self.random.random() < 0.15:
                late = self.random.choice(JOIN_LATE)
        found = self.attempts.attempt(turns, some, late)
        if found is not None:
            self._note(self.attempts.turned_round(found))

    def _chosen(self) -> Tried:
        """One of the generation, most often one of the best."""
        return self.pool[min(int(self.random.expovariate(0.25)), len(self.pool) - 1)]


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


def _manner(random: Random) -> Manner:
    return Manner(
        random.choice((30.0, 60.0, 120.0, 240.0, 480.0, 720.0)),
        random.choice((0.02, 0.05, 0.1, 0.2, 0.4, 0.7, 1.0)),
        random.choice((0, 30, 60, 120, 240, 480)),
        random.choice((0.0, 10.0, 30.0, 60.0)),
    )
