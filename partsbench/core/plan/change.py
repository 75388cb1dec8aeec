"""A plan that follows the shop: it changes only what must change, and says what and why.

The plan that stood is laid out anew over what is left to do, each stint no sooner than it stood. A
plan made afresh takes its place only where it is better by more than `WORTH_A_CHANGE`: one that
jumps at every record is not read.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.floor import Batches, Floor
from partsbench.core.plan.placing import Table, place_all
from partsbench.core.plan.workshop import Booked, Lag, ShopPlan, Workshop

WORTH_A_CHANGE = 60
"""Minutes of cost."""

SMALL = 15
"""Minutes; a stint that moves by less stands where it stood."""


@dataclass(frozen=True, slots=True)
class Shift:
    """One stint that moved: from and to which minute, and why it could not stay; "" where the new
    plan is simply better."""

    stint: str
    name: str
    before: int
    after: int
    why: str


@dataclass(frozen=True, slots=True)
class Followed:
    """What changed between two plans: stints that moved, the first in time first, and pieces whose
    end did, each with its end before and after."""

    shifts: tuple[Shift, ...]
    ends: tuple[tuple[str, int, int], ...]


def shifted(plan: ShopPlan, minutes: int) -> ShopPlan:
    """The same plan counted from a moment so many minutes later."""
    placed = tuple(replace(p, start=p.start - minutes, end=p.end - minutes) for p in plan.placed)
    return replace(plan, placed=placed)


def laid_again(bounds: Bounds, before: ShopPlan) -> ShopPlan:
    """The plan that stood over the work that is left now: nothing starts sooner than it stood."""
    floor, at = bounds.floor, before.at()
    known = {floor.number[key]: p for key, p in at.items() if key in floor.number}
    rank = [
        float(known[i].start) if i in known else float(bounds.heads[i])
        for i in range(len(floor.stints))
    ]
    lower = {i: p.start for i, p in known.items() if p.start > 0}
    loads = loads_of(floor, before)
    table = laid_out(floor, loads, rank, lower)
    if table.missed:
        sooner = laid_out(floor, loads, rank, {})
        if len(sooner.missed) < len(table.missed):
            return sooner.plan()
    return table.plan()


def followed(shop: Workshop, before: ShopPlan, after: ShopPlan) -> Followed:
    """What moved from one plan to the next, of the stints that are in both."""
    old, new = before.at(), after.at()
    names = {s.key: s.name for s in shop.stints}
    moved = [key for key in new if key in old and abs(new[key].start - old[key].start) >= SMALL]
    moved.sort(key=lambda key: (min(new[key].start, old[key].start), key))
    shifts = tuple(
        Shift(key, names[key], old[key].start, new[key].start,
              _why(shop, after, key, old[key].start))
        for key in moved
    )  # fmt: skip
    was: dict[str, int] = {}
    for stint in shop.stints:
        if stint.key in old:
            was[stint.piece] = max(was.get(stint.piece, 0), old[stint.key].end)
    ends = tuple(
        (piece, was[piece], end)
        for piece, end in after.ends(shop).items()
        if piece in was and abs(end - was[piece]) >= SMALL
    )
    return Followed(shifts, ends)


def loads_of(floor: Floor, plan: ShopPlan) -> Batches:
    loads = tuple(c for c in floor.cups(plan) if len(c) > 1 and floor.one_cup(c))
    return loads if floor.units(loads) is not None else ()


def laid_out(floor: Floor, loads: Batches, rank: list[float], lower: dict[int, int]) -> Table:
    """Everything in this order, with these loads; lower: what starts no sooner."""
    units = floor.units(loads)
    assert units is not None
    return place_all(floor, units, rank, 0, lower)


def _why(shop: Workshop, plan: ShopPlan, key: str, was: int) -> str:
    """What stands in the way of where a stint stood before."""
    stint = next(s for s in shop.stints if s.key == key)
    at = plan.at()
    if at[key].start < was:
        return ""
    if stint.soonest > was:
        return stint.why_soonest
    waits = [lag for lag in shop.lags if lag.after == key and at[lag.before].end + lag.least > was]
    if waits:
        last = max(waits, key=lambda lag: at[lag.before].end + lag.least)
        return last.why or _after(shop, last)
    mine = at[key]
    end = was + stint.minutes
    other = next(
        (p for p in plan.placed if p.stint != key and p.start < end and p.end > was
         and set(p.workers) & set(mine.workers)),
        None,
    )  # fmt: skip
    if other is not None:
        return f"{_name(shop, other)} is done then"
    here = [w for w in shop.workers if w.name in mine.workers]
    if here and not any(a <= was and end <= b for a, b in here[0].here):
        return "nobody is here then"
    return ""


def _after(shop: Workshop, lag: Lag) -> str:
    return f"it comes after {next(s.name for s in shop.stints if s.key == lag.before)}"


def _name(shop: Workshop, booked: Booked) -> str:
    return next(s.name for s in shop.stints if s.key == booked.stint)
