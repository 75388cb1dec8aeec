"""A plan as a person makes it who looks ahead a little: at each moment the work that fits best.

Who stands in dust goes on sanding, who has the gun in hand goes on spraying: a room that must
settle costs more than a short wait. What comes out is an order of the work; the plan itself is made
from it by `placing.py`, which keeps what is not looked at here (rack, latest ends).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.floor import Batches, Unit


@dataclass(frozen=True, slots=True)
class Manner:
    """How somebody chooses: minutes that a change of the room's use counts, how much a long way to
    go counts, minutes that a load waits for others, and how much chance there is in it."""

    change: float
    tail: float
    waits: int
    chance: float = 0.0


MANNERS = tuple(
    Manner(change, tail, waits)
    for change in (60.0, 240.0, 720.0)
    for tail in (0.02, 0.1, 0.4)
    for waits in (0, 60, 240)
)


class Dispatch:
    """Goes through the time once, for one manner. `rank` is when each stint was begun.

    batches: what is worked in one go, and does not wait for itself; loads of the gun are made of
    it as it comes.
    """

    def __init__(
        self,
        bounds: Bounds,
        tails: Sequence[float],
        manner: Manner,
        random: Random,
        batches: Batches = (),
    ) -> None:
        self.bounds, self.floor = bounds, bounds.floor
        self.manner, self.random = manner, random
        made = self.floor.units(batches)
        assert made is not None
        self.units = made.units
        self.tails = [max(tails[i] for i in unit.members) for unit in made.units]
        self.left = [len(waits) for waits in made.waits]
        self.following: list[list[int]] = [[] for _ in made.units]
        for u, waits in enumerate(made.waits):
            for before in waits:
                self.following[before].append(u)
        self.rank = [0] * len(self.floor.stints)
        self.ready = [0] * len(made.units)
        self.open: list[int] = []
        for u, count in enumerate(self.left):
            if not count:
                self._open(u)
        self.free = [0] * len(self.floor.shop.workers)
        self.last_use: dict[tuple[str, str], int] = {}
        """Room and use → when it was last over."""
        self.gun = 0

    def run(self) -> None:
        while self.open:
            best = min(self.open, key=self._score)
            self._do(self._with_others(best) if self.units[best].mix else [best])

    def _open(self, u: int) -> None:
        self.ready[u] = self._soonest(self.units[u])
        self.open.append(u)

    def _soonest(self, unit: Unit) -> int:
        """When all that it waits for is over and dry, and its own day is there."""
        soonest = max(unit.soonest, unit.before)
        for a, minutes in unit.after_start:
            soonest = max(soonest, self.rank[a] + minutes)
        return soonest

    def _score(self, u: int) -> float:
        start, _ = self._start(u)
        unit, manner = self.units[u], self.manner
        score = start - manner.tail * self.tails[u]
        if unit.where[1] and self._changes(u):
            score += manner.change
        elif unit.mix:
            score += unit.before
        return score + (self.random.gauss(0, manner.chance) if manner.chance else 0)

    def _changes(self, u: int) -> bool:
        where = self.units[u].where
        mine = self.last_use.get(where, -1)
        return any(self.last_use.get(o, -1) > mine for o, _, _ in self.floor.others.get(where, ()))

    def _start(self, u: int) -> tuple[int, tuple[int, ...]]:
        """When it could begin, and by whom."""
        unit = self.units[u]
        who: Sequence[int] = unit.able
        if len(who) > 1:
            who = sorted(who, key=lambda w: (self.free[w], w))[: unit.crew]
        at = max(self.ready[u], max((self.free[w] for w in who), default=0) + unit.before)
        if unit.mix:
            at = max(at, self.gun + unit.before)
        for other, settles, _ in self.floor.others.get(unit.where, ()):
            at = max(at, self.last_use.get(other, -settles) + settles + unit.before)
        lifted = self.bounds.next_start(unit, at)
        return (at if lifted is None else lifted), tuple(who)

    def _with_others(self, u: int) -> list[int]:
        """A load: what else of its mix can be sprayed by then, the longest way to go first."""
        start, _ = self._start(u)
        floor, load, found = self.floor, list(self.units[u].members), [u]
        mine = floor.stints[load[0]]
        others = [
            v
            for v in self.open
            if v != u
            and self.ready[v] <= start + self.manner.waits
            and floor.joins(mine, floor.stints[self.units[v].members[0]])
        ]
        for v in sorted(others, key=lambda v: (-self.tails[v], v)):
            if floor.one_cup([*load, *self.units[v].members]):
                load += self.units[v].members
                found.append(v)
        return found

    def _do(self, together: list[int]) -> None:
        floor = self.floor
        unit = self.units[together[0]]
        start, who = self._start(together[0])
        if len(together) > 1:
            unit = floor.unit(tuple(i for u in together for i in self.units[u].members))
        start = max(start, self._soonest(unit))
        lifted = self.bounds.next_start(unit, start)
        start = start if lifted is None else lifted
        end = start + unit.length
        for w in who:
            self.free[w] = end + unit.after
        if unit.mix:
            self.gun = end + unit.after
        if unit.where[1]:
            self.last_use[unit.where] = end + unit.after
        for i, offset in unit.begins:
            self.rank[i] = start + offset
        for u in together:
            self.open.remove(u)
            for after in self.following[u]:
                self.left[after] -= 1
                if not self.left[after]:
                    self._open(after)
