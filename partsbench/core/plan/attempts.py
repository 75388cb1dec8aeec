"""One way to plan the work of a shop, and what came of it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass
from random import Random

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.dispatch import Dispatch, Manner
from partsbench.core.plan.floor import Batches, Floor, Units
from partsbench.core.plan.mirror import mirrored
from partsbench.core.plan.placing import Table, place_all
from partsbench.core.plan.workshop import MISSED_COSTS, ShopPlan


@dataclass(frozen=True, slots=True, eq=False)
class Tried:
    """A plan that was made: its batches, how late a coat might join a cup, and what is on the
    table. worth is what is compared: (cost, sum of the ends)."""

    batches: Batches
    join_late: int
    table: Table
    worth: tuple[float, float]

    @property
    def turns(self) -> list[float]:
        """When each stint begins, which is the order to plan in again."""
        return [float(at) for at in self.table.start]

    @property
    def end(self) -> int:
        return max(self.table.ends())


class Attempts:
    """Plans of one workshop, each made from an order of the work and from batches."""

    def __init__(self, floor: Floor, bounds: Bounds, random: Random) -> None:
        self.floor, self.bounds, self.random = floor, bounds, random
        self.least = max((bounds.heads[i] + m for i, m in enumerate(floor.minutes)), default=0)
        self.late = [0] * len(floor.stints)
        workers = floor.shop.workers
        self._closes = sorted({end for w in workers for _, end in (*w.here, *w.loud)})
        self._mirrors: dict[int, Floor] = {}
        self._units: dict[tuple[int, Batches], Units | None] = {}

    def aim(self, end: int) -> None:
        """Latest ends that a plan would have to keep to be done by then, and in time."""
        over = [head + m for head, m in zip(self.bounds.heads, self.floor.minutes, strict=True)]
        soonest = {p: max(over[i] for i in mine) for p, mine in self.floor.of_piece.items()}
        limit = dict.fromkeys(soonest, end)
        for p in self.floor.shop.promised:
            if p.piece in limit:
                limit[p.piece] = min(end, max(p.by, soonest[p.piece]))
        self.late, _ = self.bounds.latest_ends([limit[s.piece] for s in self.floor.stints])

    def attempt(self, rank: Sequence[float], batches: Batches, join_late: int) -> Tried | None:
        """Planned in that order; None where these batches would wait for themselves."""
        made = self._made(0, self.floor, batches)
        if made is None:
            return None
        table = place_all(self.floor, made, rank, join_late)
        return Tried(batches, join_late, table, worth(table))

    def again(self, plan: ShopPlan) -> Tried:
        """A plan that is known, in its own order and with its own loads."""
        at = plan.at()
        rank = [float(at[s.key].start) for s in self.floor.stints]
        loads = tuple(load for load in self.floor.cups(plan) if len(load) > 1)
        found = self.attempt(rank, loads, 0) or self.attempt(rank, (), 0)
        assert found is not None
        return found

    def loosened(self, now: Tried) -> Tried:
        """The same order part by part: an evening may then fall between the parts of a batch."""
        found = self.attempt(now.turns, (), now.join_late) if now.batches else now
        assert found is not None, "nothing waits for itself"
        return found

    def through(
        self, manner: Manner, leaning: Sequence[float], batches: Batches, join_late: int = 0
    ) -> Tried:
        """A plan gone through in one manner, aimed at the latest ends; leaning: minutes by which
        each stint is held to be more pressing. The batches must not wait for themselves."""
        far = max(self.late)
        tails = [far - x + y for x, y in zip(self.late, leaning, strict=True)]
        dispatch = Dispatch(self.bounds, tails, manner, self.random, batches)
        dispatch.run()
        found = self.attempt(dispatch.rank, batches, join_late)
        assert found is not None, "the dispatch has laid them out"
        return found

    def turned_round(self, now: Tried, times: int = 2) -> Tried:
        """Planned back from an evening by which it may be done, or from its own end, in its order,
        and forward again, as long as it is better for it."""
        for _ in range(times):
            before, after = self.evenings(now.end)
            evening, end = self.random.choice(((before, before), (after, now.end)))
            floor = self._mirror(evening, evening - end)
            made = self._made(evening, floor, tuple(tuple(reversed(b)) for b in now.batches))
            assert made is not None
            order = [-float(over) for over in now.table.ends()]
            back = place_all(floor, made, order, now.join_late)
            order = [float(evening - over) for over in back.ends()]
            found = self.attempt(order, now.batches, now.join_late)
            if found is None or found.worth >= now.worth:
                break
            now = found
        return now

    def evenings(self, end: int) -> tuple[int, int]:
        """The last close of hours before an end that is not refuted, and the next one after it."""
        place = bisect_left(self._closes, end)
        after = self._closes[place] if place < len(self._closes) else end
        before = self._closes[place - 1] if place else after
        return (before if before >= self.least else after), after

    def _mirror(self, evening: int, off: int) -> Floor:
        """The workshop gone through from an evening, of which the last minutes are taken."""
        if evening not in self._mirrors:
            self._mirrors[evening] = Floor(mirrored(self.floor.shop, evening))
        floor = copy(self._mirrors[evening])
        taken = (1 << max(off, 0)) - 1
        floor.plain = [bits | taken for bits in floor.plain]
        floor.loud = [bits | taken for bits in floor.loud]
        return floor

    def forget(self) -> None:
        """What was laid out for batches that nobody asks for any more."""
        self._units.clear()

    def _made(self, end: int, floor: Floor, batches: Batches) -> Units | None:
        key = end, batches
        if key not in self._units:
            self._units[key] = floor.units(batches)
        return self._units[key]


def worth(table: Table) -> tuple[float, float]:
    """The cost of what is on the table, and the sum of the ends to choose between equals."""
    shop, over = table.floor.shop, table.ends()
    ends = {p: max(over[i] for i in mine) for p, mine in table.floor.of_piece.items()}
    late = sum(p.worth * max(0, ends[p.piece] - p.by) for p in shop.promised if p.piece in ends)
    missed = MISSED_COSTS * len(set(table.missed))
    return max(ends.values(), default=0) + late + missed, float(sum(ends.values()))
