"""A plan as a person makes it who looks ahead a little: at each moment the work that fits best.

Who stands in dust goes on sanding, who has the gun in hand goes on spraying: a room that must
settle costs more than a short wait. What comes out is an order of the work and loads of the gun;
the plan itself is made from these by `placing.py`, which keeps what is not looked at here (rack,
latest ends).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.floor import Loads


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
    """Goes through the time once, for one manner. `rank` is when each stint was begun."""

    def __init__(
        self, bounds: Bounds, tails: Sequence[float], manner: Manner, random: Random
    ) -> None:
        self.bounds, self.floor = bounds, bounds.floor
        self.tails, self.manner, self.random = tails, manner, random
        count = len(self.floor.stints)
        self.rank = [0.0] * count
        self.ready = [max(u.soonest, u.before) for u in self.floor.single]
        self.left = [len(into) for into in self.floor.into]
        self.open = [i for i in range(count) if not self.left[i]]
        self.free = [0] * len(self.floor.shop.workers)
        self.last_use: dict[tuple[str, str], int] = {}
        """Room and use → when it was last over."""
        self.gun = 0
        self.loads: list[tuple[int, ...]] = []

    def run(self) -> Loads:
        while self.open:
            best = min(self.open, key=self._score)
            self._do(self._with_others(best) if self.floor.stints[best].mix else [best])
        return tuple(load for load in self.loads if len(load) > 1)

    def _score(self, i: int) -> float:
        start, _ = self._start(i)
        stint, manner = self.floor.stints[i], self.manner
        score = start - manner.tail * self.tails[i]
        if stint.use and self._changes(i):
            score += manner.change
        elif stint.mix:
            score += self.floor.single[i].before
        return score + (self.random.gauss(0, manner.chance) if manner.chance else 0)

    def _changes(self, i: int) -> bool:
        where = self.floor.single[i].where
        mine = self.last_use.get(where, -1)
        return any(self.last_use.get(o, -1) > mine for o, _, _ in self.floor.others.get(where, ()))

    def _start(self, i: int) -> tuple[int, tuple[int, ...]]:
        """When it could begin, and by whom."""
        unit = self.floor.single[i]
        who: Sequence[int] = unit.able
        if len(who) > 1:
            who = sorted(who, key=lambda w: (self.free[w], w))[: unit.crew]
        at = max(self.ready[i], max(self.free[w] for w in who) + unit.before)
        if unit.mix:
            at = max(at, self.gun + unit.before)
        for other, settles, _ in self.floor.others.get(unit.where, ()):
            at = max(at, self.last_use.get(other, -settles) + settles + unit.before)
        lifted = self.bounds.next_start(unit, at)
        return (at if lifted is None else lifted), tuple(who)

    def _with_others(self, i: int) -> list[int]:
        """A load: what else of its mix can be sprayed by then, the longest way to go first."""
        start, _ = self._start(i)
        floor, load = self.floor, [i]
        mine = floor.stints[i]
        others = [
            j
            for j in self.open
            if j != i
            and self.ready[j] <= start + self.manner.waits
            and floor.joins(mine, floor.stints[j])
        ]
        for j in sorted(others, key=lambda j: (-self.tails[j], j)):
            if floor.one_cup([*load, j]):
                load.append(j)
        return load

    def _do(self, members: list[int]) -> None:
        floor = self.floor
        unit = floor.unit(tuple(members)) if len(members) > 1 else floor.single[members[0]]
        ready = max(self.ready[i] - offset for i, offset in unit.begins)
        start, who = self._start(members[0])
        lifted = self.bounds.next_start(unit, max(start, ready))
        start = max(start, ready) if lifted is None else lifted
        end = start + unit.length
        for w in who:
            self.free[w] = end + unit.after
        if unit.mix:
            self.gun = end + unit.after
            self.loads.append(tuple(members))
        if unit.where[1]:
            self.last_use[unit.where] = end + unit.after
        for i, offset in unit.begins:
            self.rank[i] = float(start + offset)
            self.open.remove(i)
            over = start + offset + floor.stints[i].minutes
            for b, least, _ in floor.out[i]:
                self.ready[b] = max(self.ready[b], over + least)
                self.left[b] -= 1
                if not self.left[b]:
                    self.open.append(b)
