"""A plan gone through with hands that are quicker or slower than planned.

Everything keeps its turn, its hands and its load; each begins as soon as what it waits for is over
and the hours allow. What does not fit before a night waits for the morning, and shorter work behind
it is done meanwhile. Latest ends and the rack are those of the plan: nobody begins in the evening
what must be followed up before the morning.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from partsbench.core.plan.change import loads_of
from partsbench.core.plan.floor import Floor, Unit
from partsbench.core.plan.workshop import FromTo, ShopPlan, Workshop

AtRoom = tuple[str, str]


@dataclass(frozen=True, slots=True)
class _Turn:
    """A unit in its turn: whose hands, what it waits for, and what must follow it the same day."""

    unit: Unit
    who: tuple[int, ...]
    waits: tuple[tuple[int, int, int], ...]
    """Stint before, least wait, and which of the members waits for it."""
    followed: int | None
    """The turn that has to follow before any night is over, and after how long at least."""
    least: int


@dataclass(slots=True)
class _State:
    """When hands, gun and rooms are free."""

    hands: list[int]
    gun: int = 0
    rooms: dict[AtRoom, int] = field(default_factory=dict)


class Walk:
    """One plan, to be gone through many times."""

    def __init__(self, shop: Workshop, plan: ShopPlan) -> None:
        self.shop, self.floor = shop, Floor(shop)
        made = self.floor.units(loads_of(self.floor, plan))
        assert made is not None
        at = plan.at()
        start = [at[s.key].start for s in shop.stints]
        name = {w.name: n for n, w in enumerate(shop.workers)}
        who = [tuple(name[w] for w in at[s.key].workers) for s in shop.stints]
        units = sorted(made.units, key=lambda u: (min(start[i] for i in u.members), u.members))
        turn_of = {i: n for n, u in enumerate(units) for i in u.members}
        nights = [b - a for w in shop.workers for a, b in _between(w.here)]
        self.night = min((n for n in nights if n >= LEAST_NIGHT), default=0)
        self.turns = [self._turn(u, who[u.members[0]], turn_of) for u in units]

    def _turn(self, unit: Unit, who: tuple[int, ...], turn_of: dict[int, int]) -> _Turn:
        mine = set(unit.members)
        waits = tuple(
            (a, least, n)
            for n, i in enumerate(unit.members)
            for a, least, _ in self.floor.into[i]
            if a not in mine
        )
        soon = [
            (turn_of[b], least)
            for i in unit.members
            for b, least, most in self.floor.out[i]
            if most is not None and most < self.night and b not in mine
        ]
        followed, least = soon[0] if soon else (None, 0)
        return _Turn(unit, who, waits, followed, least)

    def ends(self, minutes: Sequence[int]) -> dict[str, int]:
        """The end of each piece when the stints take these minutes."""
        over = [0] * len(minutes)
        now = _State([0] * len(self.shop.workers))
        before: _State | None = None
        closes = 0
        for turn in self.turns:
            length = sum(minutes[i] for i in turn.unit.members)
            ready = self._ready(turn, minutes, over)
            if before is not None:
                begin = self._begin(turn, ready, length, minutes, before)
                if begin + self._whole(turn, length) <= closes:
                    self._take(turn, begin, length, minutes, over, before)
                    continue
            free = max([ready - turn.unit.before, *(now.hands[w] for w in turn.who)])
            begin = self._begin(turn, ready, length, minutes, now)
            evening = self._closes(turn, free)
            if evening is not None and begin >= evening + LEAST_NIGHT:
                before, closes = _State(list(now.hands), now.gun, dict(now.rooms)), evening
            self._take(turn, begin, length, minutes, over, now)
        found: dict[str, int] = {}
        for stint, end in zip(self.shop.stints, over, strict=True):
            found[stint.piece] = max(found.get(stint.piece, 0), end)
        return found

    def _whole(self, turn: _Turn, length: int) -> int:
        return turn.unit.before + length + turn.unit.after

    def _ready(self, turn: _Turn, minutes: Sequence[int], over: Sequence[int]) -> int:
        unit, ready, offset, last = turn.unit, turn.unit.soonest, 0, 0
        for a, least, n in turn.waits:
            while last < n:
                offset += minutes[unit.members[last]]
                last += 1
            ready = max(ready, over[a] + least - offset)
        return ready

    def _begin(
        self, turn: _Turn, ready: int, length: int, minutes: Sequence[int], state: _State
    ) -> int:
        """When its set-up begins."""
        unit = turn.unit
        begin = max(ready - unit.before, 0, *(state.hands[w] for w in turn.who))
        if unit.mix:
            begin = max(begin, state.gun)
        for other, settles, _ in self.floor.others.get(unit.where, ()):
            begin = max(begin, state.rooms.get(other, -settles) + settles)
        need = self._need(turn, length, minutes)
        for stretches in self._hours(turn):
            begin = _fit(stretches, begin, need, self._whole(turn, length))
        return begin

    def _need(self, turn: _Turn, length: int, minutes: Sequence[int]) -> int:
        """From its set-up until the last of what must follow before a night is over."""
        need, seen = self._whole(turn, length), 0
        while turn.followed is not None and seen < LONGEST_TIE:
            least = turn.least
            turn = self.turns[turn.followed]
            need += least + self._whole(turn, sum(minutes[i] for i in turn.unit.members))
            seen += 1
        return need

    def _hours(self, turn: _Turn) -> list[tuple[FromTo, ...]]:
        workers = self.shop.workers
        return [workers[w].loud if turn.unit.loud else workers[w].here for w in turn.who]

    def _closes(self, turn: _Turn, begin: int) -> int | None:
        """The end of the stretch of work in which it could have begun."""
        for a, b in self._hours(turn)[0] if turn.who else ():
            if a <= begin < b:
                return b
        return None

    def _take(
        self,
        turn: _Turn,
        begin: int,
        length: int,
        minutes: Sequence[int],
        over: list[int],
        state: _State,
    ) -> None:
        unit = turn.unit
        at = begin + unit.before
        for i in unit.members:
            at += minutes[i]
            over[i] = at
        end = begin + self._whole(turn, length)
        for w in turn.who:
            state.hands[w] = end
        if unit.mix:
            state.gun = end
        if unit.where[1] and end > begin:
            state.rooms[unit.where] = end


LEAST_NIGHT = 240
"""Minutes; a shorter pause of the hours is no night."""

LONGEST_TIE = 6
"""So many steps are followed that must come right after one another."""


def _between(stretches: Sequence[FromTo]) -> list[FromTo]:
    return [(a[1], b[0]) for a, b in pairwise(stretches)]


def _fit(stretches: Sequence[FromTo], begin: int, need: int, least: int) -> int:
    """The first minute from then on with so much of a stretch left; where no stretch is as long,
    with the least; after all of them, as it comes."""
    longest = max((b - a for a, b in stretches), default=0)
    length = need if need <= longest else least
    place = max(0, bisect_right(stretches, (begin, 1 << 60)) - 1)
    for a, b in stretches[place:]:
        start = max(a, begin)
        if start + length <= b:
            return start
    return begin
