"""The census of pulls, what to order and by when, and where the survivors go."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import IntEnum
from itertools import combinations
from math import fsum

from partsbench.core.sums.assignment import assign
from partsbench.core.sums.refusal import Refusal, amount, first

VETOED = 1_000_000.0
SATURDAY = 5


class Condition(IntEnum):
    """How good a piece of hardware is; the number is how much a look at it costs."""

    GOOD = 0
    WORN = 1
    BENT = 2
    BROKEN = 9
    MISSING = 10


@dataclass(frozen=True, slots=True)
class Hardware:
    """One thing counted: where it belongs, what it is, and its condition. Sizes in mm."""

    name: str
    front: str
    kind: str
    condition: Condition
    spacing: float | None = None
    thread: str = ""
    screw_mm: float | None = None

    @property
    def usable(self) -> bool:
        """Whether it can go back on."""
        return self.condition < Condition.BROKEN


@dataclass(frozen=True, slots=True)
class Kind:
    """What makes two pieces of hardware interchangeable."""

    kind: str
    spacing: float | None = None
    thread: str = ""


@dataclass(frozen=True, slots=True)
class Census:
    """Counts by kind, what is missing or broken, and how many fronts can still be fitted out."""

    usable: Mapping[str, int]
    broken: Mapping[str, int]
    missing: Mapping[str, int]
    complete_sets: int
    mixed: tuple[str, ...]
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("the count itself",)

    @property
    def sentence(self) -> str:
        """`9 usable, 1 broken, 2 missing; 4 complete sets left.`"""
        usable, broken, missing = (
            sum(count.values()) for count in (self.usable, self.broken, self.missing)
        )
        if not usable and not broken:
            return f"Nothing is counted yet of the {missing} that it takes."
        sets = f"{self.complete_sets} complete set{'' if self.complete_sets == 1 else 's'} left"
        return f"{usable} usable, {broken} broken, {missing} missing; {sets}."


@dataclass(frozen=True, slots=True)
class Order:
    """One line of an order list."""

    kind: str
    needed: int
    spare: int
    spacing: float | None = None
    thread: str = ""

    @property
    def count(self) -> int:
        """How many to buy."""
        return self.needed + self.spare


@dataclass(frozen=True, slots=True)
class OrderBy:
    """The last day to order, and whether it has passed."""

    day: date
    late_days: int
    needed_on: date
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("the supplier's lead time as typed",)

    @property
    def sentence(self) -> str:
        """`Order by Friday 4 December or it becomes the last thing to arrive.`"""
        if self.late_days:
            late = f"{self.late_days} day{'' if self.late_days == 1 else 's'}"
            return f"Order now: it comes {late} after it is needed."
        day = f"{self.day:%A} {self.day.day} {self.day:%B}"
        return f"Order by {day} or it becomes the last thing to arrive."


@dataclass(frozen=True, slots=True)
class Place:
    """A place for a pull: its row, and how much it is looked at (1 is most)."""

    name: str
    row: str
    visibility: float


@dataclass(frozen=True, slots=True)
class Allotment:
    """Which survivor goes where, where new ones go, and what that costs against a new set."""

    kept: tuple[tuple[str, str], ...]
    new_places: tuple[str, ...]
    rows: tuple[str, ...]
    spare: int
    cost: float
    full_cost: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("the census", "the price as typed")

    @property
    def sentence(self) -> str:
        """`Keep 5 originals on rows 1, 2; buy 2 and 1 spare: 19 instead of 66.`"""
        if not self.kept:
            cost = f": a new set costs {self.full_cost:.0f}" if self.full_cost else ""
            return f"No row can be filled with originals{cost}."
        said = f"Keep {len(self.kept)} originals on row{'s' if len(self.rows) > 1 else ''} "
        said += ", ".join(self.rows)
        if not self.new_places:
            return f"{said}; nothing to buy."
        spare = f" and {self.spare} spare" if self.spare else ""
        said += f"; buy {len(self.new_places)}{spare}"
        return f"{said}: {self.cost:.0f} instead of {self.full_cost:.0f}."


def census(
    found: Sequence[Hardware], expected: Mapping[str, Mapping[str, int]]
) -> Census | Refusal:
    """Count what is there against `expected` (front -> kind -> how many)."""
    bad = first(
        *(
            amount(f"{kind} of {front}", count, least=0, most=100)
            for front, kinds in expected.items()
            for kind, count in kinds.items()
        ),
        *(
            amount(f"spacing of {item.name}", item.spacing, above=0, most=1000, unit="mm")
            for item in found
            if item.spacing is not None
        ),
    )
    if bad:
        return bad
    want = Counter[str]()
    for kinds in expected.values():
        want.update(kinds)
    usable = Counter(item.kind for item in found if item.usable)
    broken = Counter(item.kind for item in found if item.condition is Condition.BROKEN)
    missing = want - usable - broken
    mixed = tuple(
        kind
        for kind in sorted({item.kind for item in found})
        if len({(i.spacing, i.thread) for i in found if i.kind == kind and i.usable}) > 1
    )
    unmeasured = tuple(
        f"hole spacing and thread of {item.name}"
        for item in found
        if item.usable and item.spacing is None and not item.thread
    )
    return Census(usable, broken, missing, _complete_sets(usable, expected), mixed, unmeasured)


def order_list(
    found: Sequence[Hardware], expected: Mapping[Kind, int], spare_each: int = 1
) -> tuple[Order, ...] | Refusal:
    """What to buy: expected less usable of that kind, spacing and thread, with spares of each."""
    bad = first(
        amount("spares", spare_each, least=0, most=100),
        *(amount(f"number of {k.kind}", n, least=0, most=1000) for k, n in expected.items()),
    )
    if bad:
        return bad
    usable = Counter(Kind(i.kind, i.spacing, i.thread) for i in found if i.usable)
    return tuple(
        Order(kind.kind, count - usable[kind], spare_each, kind.spacing, kind.thread)
        for kind, count in expected.items()
        if count > usable[kind]
    )


def order_by(
    today: date, needed_on: date, lead_days: int | None, margin_days: int = 2
) -> OrderBy | Refusal:
    """The last working day to order so that it arrives with the margin before it is needed."""
    bad = first(
        amount("lead time", lead_days, least=0, most=730, unit="days"),
        amount("margin", margin_days, least=0, most=365, unit="days"),
    )
    if bad or lead_days is None:
        return bad or Refusal("lead time", "is missing")
    day = needed_on - timedelta(days=lead_days + margin_days)
    while day.weekday() >= SATURDAY:
        day -= timedelta(days=1)
    arrives = today + timedelta(days=lead_days)
    late = max(0, (arrives - needed_on).days) if today > day else 0
    tight = ("a margin: ordered today it comes with less than that",) if today > day else ()
    return OrderBy(max(day, today) if not late else day, late, needed_on, tight)


def allot(
    survivors: Sequence[Hardware],
    places: Sequence[Place],
    price: float,
    spare: int = 1,
    veto: Collection[tuple[str, str]] = (),
) -> Allotment | Refusal:
    """Fill whole rows with originals, so that none stands beside a new one.

    The rows that use most survivors, then the most looked-at; inside them the best survivors go
    where they are seen most. `veto` holds (survivor, place) pairs not wanted.
    """
    bad = first(
        amount("price", price, least=0, most=100_000),
        amount("spares", spare, least=0, most=100),
        *(amount(f"visibility of {p.name}", p.visibility, least=0, most=1) for p in places),
        None if places else Refusal("places", "there are none"),
    )
    if bad:
        return bad
    usable = [item for item in survivors if item.usable]
    kept: list[tuple[str, str]] = []
    rows: tuple[str, ...] = ()
    for rows in _row_choices(places, len(usable)):
        seats = [place for place in places if place.row in rows]
        kept = _seated(usable, seats, veto)
        if len(kept) == len(seats):
            break
    taken = {place for _, place in kept}
    new = tuple(place.name for place in places if place.name not in taken)
    bought = len(new) + (spare if new else 0)
    lacks = () if price else ("the price of a new one",)
    full = (len(places) + spare) * price
    return Allotment(tuple(kept), new, rows, spare if new else 0, bought * price, full, lacks)


def _row_choices(places: Sequence[Place], most: int) -> list[tuple[str, ...]]:
    rows = list(dict.fromkeys(place.row for place in places))[:12]
    choices = [chosen for count in range(len(rows) + 1) for chosen in combinations(rows, count)]
    seen = {row: [place.visibility for place in places if place.row == row] for row in rows}

    def worth(chosen: tuple[str, ...]) -> tuple[int, float]:
        return sum(len(seen[row]) for row in chosen), fsum(v for row in chosen for v in seen[row])

    worths = {chosen: worth(chosen) for chosen in choices}
    return sorted(
        (c for c in choices if worths[c][0] <= most), key=worths.__getitem__, reverse=True
    )


def _seated(
    usable: Sequence[Hardware], seats: Sequence[Place], veto: Collection[tuple[str, str]]
) -> list[tuple[str, str]]:
    usable = _enough(usable, seats, veto)
    costs = [
        [
            VETOED
            if (item.name, seat.name) in veto
            else (float(item.condition) + 0.01) * (seat.visibility + 0.01)
            for item in usable
        ]
        for seat in seats
    ]
    found = assign(costs)
    return [
        (usable[column].name, seat.name)
        for seat, column, row in zip(seats, found.columns, costs, strict=True)
        if row[column] < VETOED
    ]


def _enough(
    usable: Sequence[Hardware], seats: Sequence[Place], veto: Collection[tuple[str, str]]
) -> list[Hardware]:
    """Of those that are alike for every seat no more than there are seats: hundreds are quick."""
    names = {seat.name for seat in seats}
    barred: dict[str, set[str]] = {}
    for name, place in veto:
        if place in names:
            barred.setdefault(name, set()).add(place)
    kept: list[Hardware] = []
    count = Counter[tuple[Condition, frozenset[str]]]()
    for item in usable:
        kind = (item.condition, frozenset(barred.get(item.name, ())))
        count[kind] += 1
        if count[kind] <= len(seats):
            kept.append(item)
    return kept


def _complete_sets(usable: Mapping[str, int], expected: Mapping[str, Mapping[str, int]]) -> int:
    """How many fronts the usable ones can fit out, those that want least first."""
    left = Counter(usable)
    complete = 0
    for kinds in sorted(expected.values(), key=lambda wanted: sum(wanted.values())):
        if sum(kinds.values()) and all(left[kind] >= count for kind, count in kinds.items()):
            left.subtract(kinds)
            complete += 1
    return complete
