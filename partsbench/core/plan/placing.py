"""One plan from one order of the work: each thing as soon as it can be, behind what is placed.

Where something would come too late behind another, that one is put off until both fit (a serial
schedule that unschedules, as for projects with least and longest waits).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from heapq import heapify, heappop, heappush
from itertools import combinations
from math import inf
from typing import NamedTuple

from partsbench.core.plan.floor import Floor, Unit, Units
from partsbench.core.plan.slots import LOOK, first, gap, starts
from partsbench.core.plan.workshop import Booked, ShopPlan

MOST_TURNED_BACK = 150
"""So often a whole pass goes back; after that latest ends are missed, and the plan is a bad one."""

PlacedCup = tuple[int, tuple[int, ...], float, tuple[str, str], int]
"""A load so far: end of its spraying, by whom, ml used, room and use, number."""


class PlacedUnit(NamedTuple):
    """One unit placed: when and by whom, or into which open cup of its mix, and what it missed."""

    unit: Unit
    at: int
    who: tuple[int, ...]
    cup: int = -1
    missed: tuple[tuple[int, int], ...] = ()


_Taken = tuple[tuple[int, ...], tuple[int, ...], int, dict[tuple[str, str], int]]
Before = tuple[PlacedUnit, PlacedCup | None, _Taken, int]
"""What is needed to take a step back: its cup, the minutes taken, and how many lay on the rack."""


class Table:
    """What is placed so far, and who and what is taken when."""

    __slots__ = (
        "cups",
        "floor",
        "gun",
        "load",
        "loads",
        "loud",
        "missed",
        "plain",
        "rack",
        "rooms",
        "start",
        "who",
    )

    def __init__(self, floor: Floor) -> None:
        count = len(floor.stints)
        self.floor = floor
        self.plain = list(floor.plain)
        self.loud = list(floor.loud)
        self.gun = 0
        self.rooms: dict[tuple[str, str], int] = {}
        self.rack: list[tuple[int, int, float]] = []
        self.start = [-1] * count
        self.who: list[tuple[int, ...]] = [()] * count
        self.load = [0] * count
        self.loads = 0
        self.cups: dict[str, list[PlacedCup]] = {}
        self.missed: list[tuple[int, int]] = []

    def ready(self, unit: Unit) -> int:
        """The soonest start that waits and days allow."""
        soonest, start = max(unit.soonest, unit.before), self.start
        for a, minutes in unit.after_start:
            soonest = max(soonest, start[a] + minutes)
        return soonest

    def latest(self, unit: Unit) -> tuple[int | None, int, int]:
        """The latest start, and by which two stints (the same twice: by its own day)."""
        by, a_, b_ = unit.by, unit.members[0], unit.members[0]
        for a, i, minutes in unit.windows:
            at = self.start[a] + minutes
            if self.start[a] >= 0 and (by is None or at < by):
                by, a_, b_ = at, a, i
        return by, a_, b_

    def too_late(self, unit: Unit, at: int) -> list[tuple[int, int]]:
        """Every latest end that a unit misses which begins then, by its two stints."""
        stints, start = self.floor.stints, self.start
        found = list[tuple[int, int]]()
        for i, offset in unit.begins:
            by = stints[i].by
            if by is not None and at + offset > by:
                found.append((i, i))
            for a, _, most in self.floor.into[i]:
                if most is None or start[a] < 0:
                    continue
                if at + offset > start[a] + stints[a].minutes + most:
                    found.append((a, i))
        return found

    def find(self, unit: Unit, soonest: int) -> tuple[int, tuple[int, ...]] | None:
        """The soonest start from then on, and by whom; None within the horizon."""
        base = self.gun if unit.mix else 0
        if unit.where[1]:
            base |= self.rooms.get(unit.where, 0)
        hands = self.loud if unit.loud else self.plain
        length = unit.before + unit.length + unit.after
        at = soonest - unit.before
        if unit.crew == 1 and unit.able and not unit.lying and at < self.floor.horizon:
            begin, who = min([(gap(base | hands[w], at, length), w) for w in unit.able])
            return begin + unit.before, (who,)
        busy = [(w, hands[w]) for w in unit.able]
        while at < self.floor.horizon:
            found = self._within(unit, base, busy, length, at)
            if found:
                return found[0] + unit.before, found[1]
            at += LOOK
        return None

    def _within(
        self,
        unit: Unit,
        base: int,
        busy: Sequence[tuple[int, int]],
        length: int,
        at: int,
    ) -> tuple[int, tuple[int, ...]] | None:
        rack = self._rack_starts(unit, at) if unit.lying else -1
        if not rack:
            return None
        free = [(w, starts(base | taken, at, length) & rack) for w, taken in busy]
        best: tuple[int, tuple[int, ...]] | None = None
        if unit.crew == 1:
            for w, bits in free:
                if bits and (best is None or first(bits) + at < best[0]):
                    best = first(bits) + at, (w,)
            return best
        for some in combinations(free, unit.crew):
            bits = -1
            for _, each in some:
                bits &= each
            if bits and (best is None or first(bits) + at < best[0]):
                best = first(bits) + at, tuple(w for w, _ in some)
        return best

    def _rack_starts(self, unit: Unit, at: int) -> int:
        """Starts of set-up at which what is sprayed finds its place on the rack."""
        found = -1
        for offset, length, _, m2 in unit.lying:
            found &= self._rack_free(at + unit.before + offset, length, m2)
        return found

    def _rack_free(self, begin: int, length: int, wanted: float) -> int:
        """Bit i: from `begin + i` on, so many m² are free for so long."""
        room = self.floor.shop.rack_m2 or 0.0
        events: list[tuple[int, float]] = []
        for start, end, m2 in self.rack:
            if end > begin and start < begin + LOOK + length:
                events += ((max(start, begin), m2), (end, -m2))
        full, used, since = 0, 0.0, begin
        for minute, m2 in sorted(events):
            if used + wanted > room + 1e-9 and minute > since:
                full |= ((1 << (minute - since)) - 1) << (since - begin)
            used, since = used + m2, minute
        return starts(full, 0, length)

    def do(self, step: PlacedUnit) -> Before:
        """Place a unit; a load of the gun opens a cup that others may join, or lengthens one."""
        unit, at, who = step.unit, step.at, step.who
        cup = self.cups[unit.mix][step.cup] if step.cup >= 0 else None
        taken = tuple(self.plain), tuple(self.loud), self.gun, dict(self.rooms)
        before = step, cup, taken, len(self.rack)
        self.missed += step.missed
        if cup is not None:
            end, who, ml, where, load = cup
            self.cups[unit.mix][step.cup] = (end + unit.length, who, ml + unit.ml, where, load)
            self._note(unit, end, who, load)
            self._take(unit, end + unit.after, end + unit.after + unit.length, who)
            return before
        if unit.mix:
            self.loads += 1
            opened = (at + unit.length, who, unit.ml, unit.where, self.loads)
            self.cups.setdefault(unit.mix, []).append(opened)
        self._note(unit, at, who, self.loads if unit.mix else 0)
        self._take(unit, at - unit.before, at + unit.length + unit.after, who)
        return before

    def undo(self, before: Before) -> None:
        """Take back what was placed last."""
        step, cup, (plain, loud, self.gun, self.rooms), lying = before
        self.plain, self.loud = list(plain), list(loud)
        unit = step.unit
        del self.rack[lying:]
        del self.missed[len(self.missed) - len(step.missed) :]
        for i in unit.members:
            self.start[i], self.who[i], self.load[i] = -1, (), 0
        if cup is not None:
            self.cups[unit.mix][step.cup] = cup
        elif unit.mix:
            self.loads -= 1
            self.cups[unit.mix].pop()

    def _note(self, unit: Unit, at: int, who: tuple[int, ...], load: int) -> None:
        for i, offset in unit.begins:
            self.start[i], self.who[i], self.load[i] = at + offset, who, load
        for offset, length, m2, _ in unit.lying:
            self.rack.append((at + offset, at + offset + length, m2))

    def _take(self, unit: Unit, begin: int, end: int, who: tuple[int, ...]) -> None:
        if end <= begin:
            return
        bits = ((1 << (end - begin)) - 1) << begin
        for w in who:
            self.plain[w] |= bits
            self.loud[w] |= bits
        if unit.mix:
            self.gun |= bits
        for other, from_it, to_it in self.floor.others.get(unit.where, ()):
            low = max(0, begin - from_it)
            span = ((1 << (end + to_it - low)) - 1) << low
            self.rooms[other] = self.rooms.get(other, 0) | span

    def open_cup(self, unit: Unit, ready: int, latest: int | None, before: int) -> int | None:
        """A cup that can be lengthened by the unit, where its spraying then begins before
        `before`: its place among those of the mix."""
        for place, (end, who, ml, where, _) in enumerate(self.cups.get(unit.mix, ())):
            if end < ready or end > before or (latest is not None and end > latest):
                continue
            if ml + unit.ml > self.floor.shop.gun.cup_ml + 1e-9 or where != unit.where:
                continue
            if len(who) != unit.crew or not set(who) <= set(unit.able):
                continue
            begin = end + unit.after
            busy = self.gun | self.rooms.get(unit.where, 0)
            for w in who:
                busy |= self.loud[w] if unit.loud else self.plain[w]
            if (busy >> begin) & ((1 << unit.length) - 1):
                continue
            if unit.lying and not self._rack_starts(unit, end - unit.before) & 1:
                continue
            return place
        return None

    def ends(self) -> list[int]:
        """When each stint is over."""
        return [at + m for at, m in zip(self.start, self.floor.minutes, strict=True)]

    def plan(self) -> ShopPlan:
        """What is on the table as a plan."""
        stints, workers = self.floor.stints, self.floor.shop.workers
        placed = [
            Booked(
                stint.key,
                self.start[i],
                self.start[i] + stint.minutes,
                tuple(workers[w].name for w in self.who[i]),
                self.load[i],
            )
            for i, stint in enumerate(stints)
        ]
        missed = dict.fromkeys((stints[a].key, stints[b].key) for a, b in self.missed)
        return ShopPlan(tuple(sorted(placed, key=lambda p: (p.start, p.end))), tuple(missed))


Late = tuple[int, int, int]
"""The two stints of a latest end that cannot be kept, and by how many minutes."""

NEVER = 10**9
"""By so many minutes, where there is no time for it at all."""


class _Pass:
    """One pass over everything: of what may be placed, always what has the lowest rank.

    Where a latest end cannot be kept, the pass goes back to where its first stint was placed, puts
    that off, and goes on from there, the second right behind it.
    """

    def __init__(
        self,
        floor: Floor,
        made: Units,
        rank: Sequence[float],
        join_late: int,
        lower: Mapping[int, int],
    ) -> None:
        self.made, self.join_late, self.floor = made, join_late, floor
        self.following: list[list[int]] = [[] for _ in made.units]
        for u, waits in enumerate(made.waits):
            for before in waits:
                self.following[before].append(u)
        self.ranked = [min(rank[i] for i in unit.members) for unit in made.units]
        self.of = {i: u for u, unit in enumerate(made.units) for i in unit.members}
        self.lower = dict(lower)
        self.given_up: set[tuple[int, int]] = set()
        self.turned_back = 0
        self._begin()

    def _begin(self) -> None:
        self.table = Table(self.floor)
        self.placed: list[tuple[int, Before]] = []
        self.left = [len(waits) for waits in self.made.waits]
        self._line_up()

    def _line_up(self) -> None:
        """What may be placed now, by its rank."""
        over = {u for u, _ in self.placed}
        ready = (u for u, count in enumerate(self.left) if not count and u not in over)
        self.free = [(self.ranked[u], u) for u in ready]
        heapify(self.free)

    def run(self) -> Table:
        while self.free:
            _, u = heappop(self.free)
            found = self._place(self.made.units[u])
            if not isinstance(found, PlacedUnit):
                self._turn_back(found, u)
                continue
            self.placed.append((u, self.table.do(found)))
            for after in self.following[u]:
                self.left[after] -= 1
                if not self.left[after]:
                    heappush(self.free, (self.ranked[after], after))
        return self.table

    def _place(self, unit: Unit) -> PlacedUnit | Late:
        """How a unit is placed as soon as it can be. One that would be too late is not, unless
        that was given up: then the two stints of the latest end that it misses, and by how much."""
        table, ready = self.table, self.table.ready(unit)
        for i, offset in unit.begins if self.lower else ():
            ready = max(ready, self.lower.get(i, 0) - offset)
        latest, a, b = table.latest(unit)
        hold = (a, b) not in self.given_up and self.turned_back < MOST_TURNED_BACK
        found = table.find(unit, ready)
        if found is None and hold:
            return a, b, NEVER
        at = found[0] if found else self.floor.horizon
        if unit.mix:
            cup = table.open_cup(unit, ready, latest, at + self.join_late)
            if cup is not None:
                return PlacedUnit(unit, at, (), cup)
        if latest is not None and at > latest and hold:
            return a, b, at - latest
        # Behind the horizon nobody has said when they are here.
        if found is not None and at + unit.length <= self.floor.horizon:
            if latest is None:
                return PlacedUnit(unit, at, found[1])
            return PlacedUnit(unit, at, found[1], missed=tuple(table.too_late(unit, at)))
        at = max(at, max(table.start) + 24 * 60)
        none = dict.fromkeys((i, i) for i in unit.members)
        missed = (*none, *(late for late in table.too_late(unit, at) if late not in none))
        return PlacedUnit(unit, at, unit.able[: unit.crew], missed=missed)

    def _turn_back(self, late: Late, u: int) -> None:
        """To before the first of the two was placed, which is put off by the minutes; the second
        then comes right behind it. What has a day of its own comes before everything else; where
        nothing helps, the latest end is given up."""
        a, b, minutes = late
        self.turned_back += 1
        if minutes == NEVER or self.of[a] == u:
            if minutes == NEVER or self.ranked[u] == -inf:
                self.given_up.add((a, b))
                self.lower.pop(a, None)
            self.ranked[u] = -inf
            self._begin()
            return
        self.lower[a] = self.table.start[a] + minutes
        self.ranked[u] = min(self.ranked[u], self.ranked[self.of[a]])
        back = -1
        while back != self.of[a]:
            back, before = self.placed.pop()
            self.table.undo(before)
            for after in self.following[back]:
                self.left[after] += 1
        self._line_up()


def place_all(
    floor: Floor,
    made: Units,
    rank: Sequence[float],
    join_late: int = 0,
    lower: Mapping[int, int] | None = None,
) -> Table:
    """Place everything in the order of its rank.

    rank: by stint; the lowest of a load counts. join_late: minutes by which a stint may start later
    for the sake of a cup that stands ready. lower: stints that are to start no sooner.
    """
    return _Pass(floor, made, rank, join_late, lower or {}).run()
