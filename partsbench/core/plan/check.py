"""Whether a plan can be worked: every rule of the workshop looked at by itself.

Nothing of the planner is used here, so that a mistake there is seen here: plain intervals, compared
pair by pair.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from partsbench.core.plan.workshop import Booked, ShopPlan, Stint, Workshop


@dataclass(frozen=True, slots=True)
class PlanFault:
    """What cannot be: which rule, and a sentence with the stints."""

    rule: str
    sentence: str


def faults(shop: Workshop, plan: ShopPlan) -> list[PlanFault]:
    """Everything wrong with a plan; [] for one that can be worked. What the plan itself says that
    it misses is not told again."""
    stints = {s.key: s for s in shop.stints}
    booked = {p.stint: p for p in plan.placed}
    if sorted(p.stint for p in plan.placed) != sorted(stints):
        return [PlanFault("whole", "not every stint is planned once")]
    found = [*_lengths(stints, booked), *_lags(shop, booked, plan.missed)]
    found += _days(stints, booked, plan.missed)
    busy = _busy(shop, stints, plan.placed)
    found += _hands(shop, stints, plan, busy)
    found += _loads(shop, stints, plan.placed, busy)
    found += _rooms(shop, stints, busy)
    found += _rack(shop, stints, plan.placed)
    return found


@dataclass(frozen=True, slots=True)
class _Busy:
    """A stretch of work as hands and rooms see it: a stint, or a load with its set-up."""

    stints: tuple[str, ...]
    start: int
    end: int
    workers: tuple[str, ...]

    def overlaps(self, other: _Busy) -> bool:
        """What takes no time lies beside nothing."""
        return max(self.start, other.start) < min(self.end, other.end)


def _lengths(stints: Mapping[str, Stint], booked: Mapping[str, Booked]) -> Iterator[PlanFault]:
    for key, p in booked.items():
        if p.end - p.start != stints[key].minutes or p.start < 0:
            yield PlanFault("length", f"{key} is planned from {p.start} to {p.end}")


def _lags(
    shop: Workshop, booked: Mapping[str, Booked], missed: Sequence[tuple[str, str]]
) -> Iterator[PlanFault]:
    for lag in shop.lags:
        gap = booked[lag.after].start - booked[lag.before].end
        if gap < lag.least:
            yield PlanFault("least", f"{lag.after} comes {gap} min after {lag.before}")
        late = lag.most is not None and gap > lag.most
        if late and (lag.before, lag.after) not in missed:
            yield PlanFault("most", f"{lag.after} comes {gap} min after {lag.before}")


def _days(
    stints: Mapping[str, Stint], booked: Mapping[str, Booked], missed: Sequence[tuple[str, str]]
) -> Iterator[PlanFault]:
    for key, p in booked.items():
        if p.start < stints[key].soonest:
            yield PlanFault("soonest", f"{key} begins at {p.start}, before its day")
        by = stints[key].by
        if by is not None and p.start > by and not any(key in pair for pair in missed):
            yield PlanFault("by", f"{key} begins at {p.start}, after {by}")


def _busy(
    shop: Workshop, stints: Mapping[str, Stint], placed: Sequence[Booked]
) -> list[_Busy]:  # fmt: skip
    found = []
    loads: dict[int, list[Booked]] = {}
    for p in placed:
        if stints[p.stint].mix:
            loads.setdefault(p.load, []).append(p)
        else:
            found.append(_Busy((p.stint,), p.start, p.end, p.workers))
    for members in loads.values():
        start = min(p.start for p in members) - shop.gun.set_up
        end = max(p.end for p in members) + shop.gun.clean
        found.append(_Busy(tuple(p.stint for p in members), start, end, members[0].workers))
    return found


def _hands(
    shop: Workshop, stints: Mapping[str, Stint], plan: ShopPlan, busy: Sequence[_Busy]
) -> Iterator[PlanFault]:
    people = {w.name: w for w in shop.workers}
    given_up = {a for a, b in plan.missed if a == b}
    for b in busy:
        if given_up & set(b.stints):
            continue
        stint = stints[b.stints[0]]
        if len(set(b.workers)) != stint.hands:
            yield PlanFault("hands", f"{b.stints[0]} has {len(b.workers)} people")
        for name in b.workers:
            worker = people[name]
            here = worker.loud if any(stints[s].loud for s in b.stints) else worker.here
            if not any(start <= b.start and b.end <= end for start, end in here):
                yield PlanFault("hours", f"{b.stints[0]} lies outside the hours of {name}")
            if worker.only and any(stints[s].work not in worker.only for s in b.stints):
                yield PlanFault("work", f"{name} may not do {b.stints[0]}")
    for a, b in combinations(busy, 2):
        if set(a.workers) & set(b.workers) and a.overlaps(b):
            yield PlanFault("twice", f"{a.stints[0]} and {b.stints[0]} ask for the same hands")


def _loads(
    shop: Workshop, stints: Mapping[str, Stint], placed: Sequence[Booked], busy: Sequence[_Busy]
) -> Iterator[PlanFault]:
    booked = {p.stint: p for p in placed}
    sprayed = [b for b in busy if stints[b.stints[0]].mix]
    for load in sprayed:
        if load.start < 0:
            yield PlanFault("set-up", f"the set-up for {load.stints[0]} lies in the past")
        mine = sorted((booked[s] for s in load.stints), key=lambda p: (p.start, p.end))
        if any(a.end != b.start for a, b in pairwise(mine)):
            yield PlanFault("load", f"the load of {load.stints[0]} has gaps")
        if len({(stints[s].mix, stints[s].room, booked[s].workers) for s in load.stints}) > 1:
            yield PlanFault("load", f"the load of {load.stints[0]} is not of one mix and hand")
        ml = sum(stints[s].ml for s in load.stints)
        if len(load.stints) > 1 and ml > shop.gun.cup_ml + 1e-6:
            yield PlanFault("cup", f"the load of {load.stints[0]} takes {ml:.0f} ml")
    for a, b in combinations(sprayed, 2):
        if a.overlaps(b):
            yield PlanFault("gun", f"{a.stints[0]} and {b.stints[0]} ask for the gun at once")


def _rooms(
    shop: Workshop, stints: Mapping[str, Stint], busy: Sequence[_Busy]
) -> Iterator[PlanFault]:
    using = [b for b in busy if stints[b.stints[0]].room and stints[b.stints[0]].use]
    for a, b in combinations(sorted(using, key=lambda x: (x.start, x.end)), 2):
        one, two = stints[a.stints[0]], stints[b.stints[0]]
        if one.room != two.room or one.use == two.use or a.start == a.end or b.start == b.end:
            continue
        settles = shop.settles.get((one.use, two.use), 0)
        if b.start < a.end + settles:
            yield PlanFault(
                "room", f"{two.key} begins {b.start - a.end} min after {one.key} in {one.room}"
            )


def _rack(
    shop: Workshop, stints: Mapping[str, Stint], placed: Sequence[Booked]
) -> Iterator[PlanFault]:
    if shop.rack_m2 is None:
        return
    lying = [
        (p.start, p.end + stints[p.stint].lies, min(stints[p.stint].m2, shop.rack_m2), p.stint)
        for p in placed
        if stints[p.stint].m2
    ]
    for start, _, _, key in lying:
        used = sum(m2 for a, b, m2, _ in lying if a <= start < b)
        if used > shop.rack_m2 + 1e-6:
            yield PlanFault("rack", f"{used:.1f} m² lie on the rack when {key} begins")
