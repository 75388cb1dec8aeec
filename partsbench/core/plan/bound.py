"""What no plan can beat, proven: the longest chain of waits, and work over hands, gun and rack.

Three arguments, each true of every plan that keeps all windows:

1. Heads: a stint starts no sooner than the longest chain of work, least waits, days and hours of
   the people who may do it leads to, as if nobody were ever busy elsewhere.
2. Tails: if all is to be done by C, the same chain backwards gives the latest end of each stint.
   Where that lies before its soonest end, C is impossible.
3. Work: what can start no sooner than a and must end by b has to be done between a and b. Where it
   is more than the hours of the hands (the gun, the places on the rack) in between, C is impossible
   (`energy.py`).

The bound is the smallest C that none of them refutes.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from partsbench.core.plan.energy import (
    Asked,
    Crowded,
    Fits,
    Weighed,
    hours,
    sprayed,
    too_much,
    turns,
)
from partsbench.core.plan.floor import Floor, Unit
from partsbench.core.plan.slots import runs, starts

ROUNDS = 60
"""Rounds of pushing by latest ends; each push holds, so that stopping early is no mistake."""


@dataclass(frozen=True, slots=True)
class Proven:
    """No plan ends before `end`, none has the piece done before its minute in `ends`, and none
    costs less than `cost`."""

    end: int
    ends: dict[str, int]
    cost: float


Stop = Callable[[], bool]


def never() -> bool:
    """Nobody stops it."""
    return False


class Bounds:
    """The three arguments over one workshop."""

    def __init__(self, floor: Floor) -> None:
        self.floor = floor
        self._far = floor.horizon * 4
        """A limit that is none."""
        self._open: dict[tuple[tuple[int, ...], bool, int, int], tuple[list[int], list[int]]] = {}
        self.heads, self.from_ = self._heads()
        self._gun = sprayed(floor)
        self._turns = turns(floor)
        self._known: dict[tuple[tuple[int, ...], bool, bool], Fits] = {}

    def proven(
        self, most: int | None = None, ends: dict[str, int] | None = None, stop: Stop = never
    ) -> Proven:
        """The bound; `most` and `ends` are what a plan is known to reach, and end the search."""
        shop, found = self.floor.shop, dict[str, int]()
        for piece, mine in self.floor.of_piece.items():
            found[piece] = self._least(mine, ends.get(piece) if ends else None, stop)
        everything = list(range(len(self.floor.stints)))
        end = max(max(found.values(), default=0), self._least(everything, most, stop))
        late = sum(
            p.worth * max(0, found[p.piece] - p.by) for p in shop.promised if p.piece in found
        )
        return Proven(end, found, end + late)

    def refuted(self, stints: Sequence[int], by: int) -> Crowded | bool:
        """True (or where it is too crowded) when these cannot all be done by that minute."""
        late = self._tails(stints, by)
        if late is None:
            return True
        for asked in self._asked(stints):
            found = too_much(asked, self.heads, late)
            if found:
                return found
        return False

    def _least(self, stints: Sequence[int], most: int | None, stop: Stop) -> int:
        lengths = self.floor.stints
        low = max((self.heads[i] + lengths[i].minutes for i in stints), default=0)
        work = sum(lengths[i].minutes for i in stints)
        high = most if most is not None else low + 7 * work + 1
        # Everything below `low` is refuted; `high` is reached, or stands for "not refuted".
        while low < high and not stop():
            middle = (low + high) // 2
            if self.refuted(stints, middle):
                low = middle + 1
            else:
                high = middle
        return low

    def _heads(self) -> tuple[list[int], list[int]]:
        """The soonest starts; and which stint pushed each there (-1: a day or the hours alone)."""
        floor = self.floor
        count = len(floor.stints)
        plain = self._pushed([0] * count, [-1] * count)
        heads, from_ = list(plain[0]), list(plain[1])
        for _ in range(ROUNDS):
            moved = False
            for b in reversed(floor.order):
                for a, _, most in floor.into[b]:
                    least = heads[b] - (most or 0) - floor.stints[a].minutes
                    if most is not None and least > heads[a]:
                        lifted = self.next_start(floor.single[a], least)
                        if lifted is None:
                            return plain
                        heads[a], from_[a], moved = lifted, b, True
            if not moved:
                return heads, from_
            heads, from_ = self._pushed(heads, from_)
        return heads, from_

    def _pushed(self, heads: list[int], from_: list[int]) -> tuple[list[int], list[int]]:
        floor, heads, from_ = self.floor, list(heads), list(from_)
        for b in floor.order:
            unit = floor.single[b]
            soonest = max(unit.soonest, unit.before, heads[b])
            for a, least, _ in floor.into[b]:
                at = heads[a] + floor.stints[a].minutes + least
                if at > soonest:
                    soonest, from_[b] = at, a
            lifted = self.next_start(unit, soonest)
            heads[b] = soonest if lifted is None else lifted
        return heads, from_

    def _tails(self, stints: Sequence[int], by: int) -> list[int] | None:
        """The latest ends; None where one lies before the soonest end."""
        inside = set(stints)
        limits = [by if i in inside else self._far for i in range(len(self.floor.stints))]
        late, all_fit = self.latest_ends(limits)
        return late if all_fit else None

    def latest_ends(self, limits: Sequence[int]) -> tuple[list[int], bool]:
        """The latest end of each stint when each has a limit, and whether all can be kept; one
        that cannot is given its soonest end."""
        floor, late = self.floor, list(limits)
        fits = self._pulled(late)
        for b in floor.order:
            for a, _, most in floor.into[b]:
                if most is not None and late[a] < self._far:
                    late[b] = min(late[b], late[a] + most + floor.stints[b].minutes)
        return late, self._pulled(late) and fits

    def _pulled(self, late: list[int]) -> bool:
        """Each end before its day and before what waits for it; whether all can be so soon."""
        floor, fits = self.floor, True
        for b in reversed(floor.order):
            stint, unit = floor.stints[b], floor.single[b]
            end = late[b]
            if unit.by is not None:
                end = min(end, unit.by + stint.minutes)
            for c, least, _ in floor.out[b]:
                end = min(end, late[c] - floor.stints[c].minutes - least)
            if end < self._far:
                start = self._last(unit, end - stint.minutes)
                if start is None or start < self.heads[b]:
                    start, fits = self.heads[b], False
                end = start + stint.minutes
            late[b] = end
        return fits

    def _begin(self, unit: Unit) -> tuple[list[int], list[int]]:
        """When its set-up could begin if nobody were busy: stretches as their first and last
        minutes."""
        key = (unit.able, unit.loud, unit.crew, unit.before + unit.length + unit.after)
        if key not in self._open:
            floor = self.floor
            hands = floor.loud if unit.loud else floor.plain
            free = [starts(hands[w], 0, key[3], floor.horizon) for w in unit.able]
            found = 0
            for some in combinations(free, unit.crew):
                bits = -1
                for each in some:
                    bits &= each
                found |= bits
            self._open[key] = runs(found)
        return self._open[key]

    def next_start(self, unit: Unit, soonest: int) -> int | None:
        """The soonest start from then on within the hours of those who may do it."""
        firsts, lasts = self._begin(unit)
        at = soonest - unit.before
        place = bisect_left(lasts, at)
        return max(at, firsts[place]) + unit.before if place < len(lasts) else None

    def _last(self, unit: Unit, latest: int) -> int | None:
        firsts, lasts = self._begin(unit)
        at = latest - unit.before
        place = bisect_right(firsts, at) - 1
        return min(at, lasts[place]) + unit.before if place >= 0 else None

    def _asked(self, stints: Sequence[int]) -> list[Asked]:
        """What the third argument looks at: all hands, those that alone may do some work, the
        hours for what is loud, the gun, the rooms of one pair of hands, and the rack."""
        floor, load = self.floor, float(self.floor.shop.gun.set_up + self.floor.shop.gun.clean)
        everybody = tuple(range(len(floor.shop.workers)))
        hands = [Weighed(i, floor.stints[i].minutes * floor.stints[i].hands, 0, self._gun[i])
                 for i in stints]  # fmt: skip
        found = [Asked(hands, self._hours(everybody, True), load)]
        loud = [w for w in hands if floor.stints[w.number].loud]
        if floor.loud != floor.plain:
            found.append(Asked(loud, self._hours(everybody, True, loud=True), load))
        for few in dict.fromkeys(able for able in floor.able if able and able != everybody):
            some = [w for w in hands if set(floor.able[w.number]) <= set(few)]
            found.append(Asked(some, self._hours(few, True), load))
        if len(everybody) > 1:
            gun = [Weighed(w.number, floor.stints[w.number].minutes, 0, replace(w.gun, crew=1))
                   for w in hands if w.gun]  # fmt: skip
            found.append(Asked(gun, self._hours(everybody, False), load))
        else:
            found += self._in_rooms(hands, load)
        rack = floor.shop.rack_m2
        if rack:
            lying = [(i, floor.stints[i]) for i in stints if floor.stints[i].m2]
            on_it = [Weighed(i, (s.minutes + s.lies) * min(s.m2, rack), s.lies) for i, s in lying]
            found.append(Asked(on_it, lambda a, b: rack * (b - a)))
        return found

    def _in_rooms(self, hands: Sequence[Weighed], load: float) -> Iterator[Asked]:
        """Of one pair of hands: what uses a room, with the settling between; once all of it, once
        what is loud. Work that uses no room may lie in the settling, and is left out."""
        floor = self.floor
        for loud in (False, True) if floor.loud != floor.plain else (False,):
            closed = runs((floor.loud if loud else floor.plain)[0])
            stretches = list(zip(closed[0], (last + 1 for last in closed[1]), strict=True))
            fits = self._hours((0,), True, loud=loud)
            for room in dict.fromkeys(s.room for s in floor.stints if s.use):
                some = [
                    replace(w, turn=self._turns[w.number])
                    for w in hands
                    for s in (floor.stints[w.number],)
                    if s.room == room and s.use and (s.loud or not loud)
                ]
                yield Asked(some, fits, load, floor.shop.settles, stretches)

    def _hours(self, hands: tuple[int, ...], together: bool, *, loud: bool = False) -> Fits:
        key = hands, together, loud
        if key not in self._known:
            self._known[key] = hours(self.floor, hands, together, loud)
        return self._known[key]
