"""Work against the time there is for it: what must lie between two moments, and whether it can.

Baptiste, Le Pape and Nuijten, Constraint-Based Scheduling (2001), from memory; of their energetic
reasoning only what lies wholly between the two moments is counted.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from math import ceil

from partsbench.core.plan.floor import Floor

ENDS_TRIED = 48
"""So many latest ends are tried; fewer prove less, never wrongly."""

Fits = Callable[[int, int], float]
"""How much fits between two minutes."""


@dataclass(frozen=True, slots=True)
class Sprayed:
    """One stint of the gun: its mix, which row of stints it stands in of which no two can share a
    load, what it takes of a cup (1: all), and how many people set the gun up for it."""

    mix: int
    row: int
    cup: float
    crew: int


@dataclass(frozen=True, slots=True)
class RoomTurn:
    """A stint in its room: the row of stints it stands in, one after another, and its use."""

    row: int
    use: str


@dataclass(frozen=True, slots=True)
class Weighed:
    """One stint: its number, its weight, minutes that it lies on after its end, the gun's, and
    its turn in the room where that settles between two uses."""

    number: int
    weight: float
    lies: int = 0
    gun: Sprayed | None = None
    turn: RoomTurn | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """Some stints that ask for one thing, how much of it fits between two minutes, what a load
    asks beside its spraying, and of a room: its settling, and when nobody works there."""

    stints: Sequence[Weighed]
    fits: Fits
    each_load: float = 0.0
    settles: Mapping[tuple[str, str], int] = field(default_factory=dict)
    closed: Sequence[tuple[int, int]] = ()


@dataclass(slots=True)
class _Loads:
    """The fewest loads that some stints of the gun need, and what set-up and cleaning that asks."""

    each: float
    cups: dict[int, float] = field(default_factory=dict)
    rows: dict[tuple[int, int], int] = field(default_factory=dict)
    fewest: dict[int, int] = field(default_factory=dict)
    count: int = 0
    crew: int = 0

    def add(self, gun: Sprayed) -> None:
        cups = self.cups[gun.mix] = self.cups.get(gun.mix, 0.0) + gun.cup
        in_row = self.rows[gun.mix, gun.row] = self.rows.get((gun.mix, gun.row), 0) + 1
        before = self.fewest.get(gun.mix, 0)
        now = max(before, in_row, ceil(cups - 1e-6))
        self.fewest[gun.mix] = now
        self.count += now - before
        self.crew = min(self.crew, gun.crew) if self.crew else gun.crew

    @property
    def asks(self) -> float:
        """Of the loads that touch a span all but the first have their set-up in it, and all but
        the last their cleaning."""
        return self.each * self.crew * max(0, self.count - 1)


@dataclass(frozen=True, slots=True)
class Crowded:
    """Between two minutes so much has to be done, and only so much fits; for the rack in m² times
    minutes."""

    start: int
    end: int
    asked: float
    fits: float


class _Settling:
    """Minutes that a room settles between the stints of a row, which follow each other whatever
    the plan: of the row that changes most.

    No two changes are without work between them, so that a night takes in one of them at most.
    """

    def __init__(self, asked: Asked) -> None:
        self.settles = asked.settles
        self.starts = [start for start, _ in asked.closed]
        self.ends = [end for _, end in asked.closed]
        self.first: dict[int, str] = {}
        self.rows: dict[int, list[int]] = {}

    def add(self, turn: RoomTurn) -> None:
        """One before those of its row that are in already."""
        after = self.first.get(turn.row)
        self.first[turn.row] = turn.use
        settles = self.settles.get((turn.use, after), 0) if after not in (None, turn.use) else 0
        if settles:
            insort(self.rows.setdefault(turn.row, []), settles)

    def within(self, start: int, end: int) -> int:
        """How much of it lies in the hours between two minutes, at least."""
        if not self.rows:
            return 0
        nights = bisect_left(self.starts, end) - bisect_right(self.ends, start)
        return max(sum(row[: max(0, len(row) - nights)]) for row in self.rows.values())


def too_much(asked: Asked, heads: Sequence[int], late: Sequence[int]) -> Crowded | None:
    """Two moments between which more has to lie than fits; None where none were found."""
    ordered = sorted(asked.stints, key=lambda w: (-heads[w.number], -late[w.number]))
    ends = sorted({late[w.number] + w.lies for w in ordered})
    if len(ends) > ENDS_TRIED:
        ends = [ends[i * (len(ends) - 1) // (ENDS_TRIED - 1)] for i in range(ENDS_TRIED)]
    for end in ends:
        total, loads, settling = 0.0, _Loads(asked.each_load), _Settling(asked)
        for w in ordered:
            if late[w.number] + w.lies > end:
                continue
            total += w.weight
            if w.gun is not None:
                loads.add(w.gun)
            if w.turn is not None:
                settling.add(w.turn)
            start = heads[w.number]
            there, wanted = asked.fits(start, end), total + loads.asks
            wanted += settling.within(start, end)
            if wanted > there + 1e-6:
                return Crowded(start, end, wanted, there)
    return None


def hours(floor: Floor, hands: Sequence[int], together: bool, loud: bool = False) -> Fits:
    """The minutes of these hands between two moments: of all together, or those in which at least
    one is here; loud: in which it may be loud."""
    taken = [(floor.loud if loud else floor.plain)[w] for w in hands]
    if not together:
        nobody = -1
        for bits in taken:
            nobody &= bits
        taken = [nobody]
    horizon = floor.horizon
    counts = [0] * horizon
    for bits in taken:
        for minute, letter in enumerate(reversed(f"{bits:0{horizon}b}")):
            counts[minute] += letter == "0"
    before = [0, *accumulate(counts)]

    def fits(start: int, end: int) -> float:
        return before[min(max(end, 0), horizon)] - before[min(max(start, 0), horizon)]

    return fits


def sprayed(floor: Floor) -> list[Sprayed | None]:
    """What the third argument knows of each stint of the gun; None for all others."""
    mixes = {m: n for n, m in enumerate(dict.fromkeys(s.mix for s in floor.stints if s.mix))}
    longest = {mix: _longest_load(floor, mix) for mix in mixes}
    row = _rows(floor, [s.mix for s in floor.stints], longest)
    cup = floor.shop.gun.cup_ml
    return [
        Sprayed(mixes[s.mix], row[i], min(s.ml / cup, 1.0) if cup > 0 else 1.0, s.hands)
        if s.mix
        else None
        for i, s in enumerate(floor.stints)
    ]


def turns(floor: Floor) -> list[RoomTurn | None]:
    """What is known of each stint that uses its room; None for those of no length, too."""
    rooms = [s.room if s.room and s.use and s.minutes else "" for s in floor.stints]
    row = _rows(floor, rooms, dict.fromkeys(rooms, 0.0))
    return [RoomTurn(row[i], s.use) if rooms[i] else None for i, s in enumerate(floor.stints)]


def _rows(floor: Floor, kinds: Sequence[str], apart: Mapping[str, float]) -> dict[int, int]:
    """Stints of one kind in rows: in a row each waits for the one before it, and is so far apart
    from it. Those of no kind stand in none."""
    row, rows = dict[int, int](), 0
    ended: set[int] = set()
    for i in floor.order:
        if not kinds[i]:
            continue
        found = _before(floor, i, kinds, apart[kinds[i]])
        before = next((a for a in found if a not in ended), None)
        if before is None:
            row[i], rows = rows, rows + 1
        else:
            row[i] = row[before]
            ended.add(before)
    return row


def _longest_load(floor: Floor, mix: str) -> float:
    """No load of this mix sprays longer than so many minutes."""
    mine = [s for s in floor.stints if s.mix == mix]
    cup = floor.shop.gun.cup_ml
    all_of_it = float(sum(s.minutes for s in mine))
    slow = max(s.minutes / s.ml if s.ml else float("inf") for s in mine)
    alone = max(s.minutes for s in mine)
    return min(all_of_it, max(alone, cup * slow))


def _before(floor: Floor, i: int, kinds: Sequence[str], apart: float) -> list[int]:
    """Stints of the same kind that are over so long before this one (of the gun: that no load
    holds both), the nearest first."""
    far, todo = {i: 0}, [i]
    while todo:
        b = todo.pop()
        for a, least, _ in floor.into[b]:
            away = far[b] + least + (floor.stints[b].minutes if b != i else 0)
            if a not in far or away > far[a]:
                far[a] = away
                todo.append(a)
    found = [a for a in far if a != i and kinds[a] == kinds[i] and far[a] >= apart]
    return sorted(found, key=lambda a: (far[a], a))
