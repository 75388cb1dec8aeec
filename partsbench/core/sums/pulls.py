"""What hardware to order and by when, and where the survivors go: both from the census."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import combinations
from math import fsum

from partsbench.core.outcomes import Refused
from partsbench.core.shown_times import weekday_and_date
from partsbench.core.sums.assignment import assign
from partsbench.core.sums.census import Census, Condition, Count, Hardware, say_counts
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.wording import capital, listed, plural

VETOED = 1_000_000.0
SATURDAY = 5


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
    """The last working day to order; when that has gone by (`passed`), the soonest one that is
    left, and how many working days after the day it is needed it comes."""

    day: date
    late_days: int
    needed_on: date
    passed: bool
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("the supplier's lead time as typed",)

    @property
    def late(self) -> str:
        """`late by 3 working days`; empty when it comes in time."""
        if not self.late_days:
            return ""
        days = self.late_days
        return plural(days, "late by 1 working day", f"late by {days} working days")

    @property
    def day_words(self) -> str:
        """`Friday 4 December`"""
        return weekday_and_date(self.day)

    @property
    def sentence(self) -> str:
        """`Order by Friday 4 December or it becomes the last thing to arrive.`"""
        if self.late_days:
            return f"{capital(self.late)}: order at once, on {self.day_words}."
        return f"Order by {self.day_words} or it becomes the last thing to arrive."


@dataclass(frozen=True, slots=True)
class PullPlace:
    """A place for a pull: its row, and how much it is looked at (1 is most)."""

    name: str
    row: str
    visibility: float


@dataclass(frozen=True, slots=True)
class Allotment:
    """Which survivor goes where, where new ones go, and what that costs against a new set."""

    count: Count
    kept: tuple[tuple[str, str], ...]
    new_places: tuple[str, ...]
    rows: tuple[str, ...]
    left_over: tuple[str, ...]
    spare: int
    cost: float
    full_cost: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("the census", "the price as typed")

    @property
    def sentence(self) -> str:
        """`Keep 5 originals on rows 1, 2; buy 2 and 1 spare: 19 instead of 66. It takes …`"""
        return " ".join(filter(None, (self._kept, self._left, say_counts([self.count]))))

    @property
    def _kept(self) -> str:
        priced = self.full_cost > 0
        if not self.kept:
            if not priced:
                return "No row can be filled with originals."
            return f"No row can be filled with originals: a new set costs {self.full_cost:.0f}."
        names = listed(self.rows)
        rows = plural(len(self.rows), f"row {names}", f"rows {names}")
        said = f"Keep {_originals(len(self.kept))} on {rows}"
        if not self.new_places:
            return f"{said}; nothing to buy."
        new = f"{len(self.new_places)}"
        new = f"{new} and {self.spare} spare" if self.spare else new
        if not priced:
            return f"{said}; buy {new}."
        return f"{said}; buy {new}: {self.cost:.0f} instead of {self.full_cost:.0f}."

    @property
    def _left(self) -> str:
        """What whole rows cost against the least to buy, which the order tells."""
        if not self.left_over:
            return ""
        least = self.count.needed
        left = f"{_originals(len(self.left_over))} left over"
        if least < len(self.new_places):
            return f"{left}; beside new ones, {least} would do."
        return f"{left}."


def order_list(counted: Census, spare_each: int) -> tuple[Order, ...] | Refused:
    """What to buy of each kind that the piece takes: what is needed, with spares where it is."""
    bad = amount("spares", spare_each, least=0, most=100)
    if bad:
        return bad
    return tuple(
        Order(count.kind, count.needed, spare_each, count.spacing, count.thread)
        for count in counted.counts
        if count.needed
    )


def order_by(
    today: date, needed_on: date, lead_days: int | None, margin_days: int = 2
) -> OrderBy | Refused:
    """The last working day to order so that it arrives with the margin before it is needed."""
    bad = first(
        amount("lead time", lead_days, least=0, most=730, unit="days"),
        amount("margin", margin_days, least=0, most=365, unit="days"),
    )
    if bad or lead_days is None:
        return bad or wrong("lead time", "is missing")
    last = needed_on - timedelta(days=lead_days + margin_days)
    while last.weekday() >= SATURDAY:
        last -= timedelta(days=1)
    soonest = _working_day(today)
    if soonest <= last:
        return OrderBy(last, 0, needed_on, passed=False, lacks=())
    late = _working_days_late(soonest + timedelta(days=lead_days), needed_on)
    tight = "a margin: ordered as soon as can be it comes with less than that"
    return OrderBy(soonest, late, needed_on, passed=True, lacks=(tight,))


def _working_day(day: date) -> date:
    """The day itself, or the Monday after a weekend; holidays are not known."""
    while day.weekday() >= SATURDAY:
        day += timedelta(days=1)
    return day


def _working_days_late(arrives: date, needed_on: date) -> int:
    """Working days after the one it is needed on, to the one on which it is there."""
    if arrives <= needed_on:
        return 0
    after = (_working_day(arrives) - needed_on).days
    return sum((needed_on + timedelta(days=i)).weekday() < SATURDAY for i in range(1, after + 1))


def allot(
    count: Count,
    survivors: Sequence[Hardware],
    places: Sequence[PullPlace],
    price: float,
    spare: int = 1,
    veto: Collection[tuple[str, str]] = (),
) -> Allotment | Refused:
    """Fill whole rows with originals of a kind, so that none stands beside a new one.

    The rows that use most survivors, then the most looked-at; inside them the best survivors go
    where they are seen most. `veto` holds (survivor, place) pairs not wanted. Those that `count`
    says do not serve are given no place.
    """
    bad = first(
        amount("price", price, least=0, most=100_000),
        amount("spares", spare, least=0, most=100),
        *(amount(f"visibility of {p.name}", p.visibility, least=0, most=1) for p in places),
        None if places else wrong("places", "there are none"),
    )
    if bad:
        return bad
    serving = [item for item in survivors if count.serves(item)]
    kept: list[tuple[str, str]] = []
    rows: tuple[str, ...] = ()
    for rows in _row_choices(places, len(serving)):
        seats = [place for place in places if place.row in rows]
        kept = _seated(serving, seats, veto)
        if len(kept) == len(seats):
            break
    seated, taken = {name for name, _ in kept}, {place for _, place in kept}
    left = tuple(item.name for item in serving if item.name not in seated)
    new = tuple(place.name for place in places if place.name not in taken)
    extra = spare if new else 0
    cost, full = (len(new) + extra) * price, (len(places) + spare) * price
    lacks = () if price else ("the price of a new one",)
    return Allotment(count, tuple(kept), new, rows, left, extra, cost, full, lacks)


def _row_choices(places: Sequence[PullPlace], most: int) -> list[tuple[str, ...]]:
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
    usable: Sequence[Hardware], seats: Sequence[PullPlace], veto: Collection[tuple[str, str]]
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
    usable: Sequence[Hardware], seats: Sequence[PullPlace], veto: Collection[tuple[str, str]]
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


def _originals(number: int) -> str:
    return plural(number, "1 original", f"{number} originals")
