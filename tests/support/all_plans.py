"""The best plan of a tiny workshop with one worker by trying all: every order of the work and every
way to share a cup; for each of them the earliest times, by pushing later until nothing moves.

Written for itself: it uses the values of the workshop and nothing of the planner.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product

from partsbench.core.plan.workshop import Stint, Workshop

FAR = 20_000


def least_cost(shop: Workshop) -> float:
    """What the best plan costs that keeps every window; infinite where there is none."""
    return min((_cost(shop, times) for times in _all_times(shop)), default=float("inf"))


def _all_times(shop: Workshop) -> Iterator[dict[str, int]]:
    waits: dict[str, set[str]] = {s.key: set() for s in shop.stints}
    for lag in shop.lags:
        waits[lag.after].add(lag.before)
    for order in _orders(list(shop.stints), waits, []):
        can_join = [bool(a.mix) and a.mix == b.mix and (a.room, a.use) == (b.room, b.use)
                    for a, b in pairwise(order)]  # fmt: skip
        for joins in product(*[(False, True) if can else (False,) for can in can_join]):
            times = _earliest(shop, order, (False, *joins))
            if times:
                yield times


def _orders(
    left: list[Stint], waits: dict[str, set[str]], taken: list[Stint]
) -> Iterator[list[Stint]]:
    if not left:
        yield taken
    done = {s.key for s in taken}
    for s in left:
        if waits[s.key] <= done:
            yield from _orders([x for x in left if x is not s], waits, [*taken, s])


def _earliest(shop: Workshop, order: list[Stint], joins: tuple[bool, ...]) -> dict[str, int] | None:
    gun = shop.gun
    count = len(order)
    first = [not joins[n] and bool(order[n].mix) for n in range(count)]
    last = [bool(order[n].mix) and (n + 1 == count or not joins[n + 1]) for n in range(count)]
    ml = 0.0
    for n, s in enumerate(order):
        ml = ml + s.ml if joins[n] else s.ml
        if joins[n] and ml > gun.cup_ml:
            return None
    start = {s.key: s.soonest for s in order}
    end = {s.key: s.soonest + s.minutes for s in order}
    moved = True
    while moved:
        moved = False
        for n, s in enumerate(order):
            at = max(start[s.key], gun.set_up if first[n] else 0)
            if n and joins[n]:
                at = max(at, end[order[n - 1].key])
            elif n:
                before = order[n - 1]
                over = end[before.key] + (gun.clean if last[n - 1] else 0)
                at = max(at, over + (gun.set_up if first[n] else 0))
            for lag in shop.lags:
                if lag.after == s.key:
                    at = max(at, end[lag.before] + lag.least)
                if lag.before == s.key and lag.most is not None:
                    at = max(at, start[lag.after] - lag.most - s.minutes)
            if n + 1 < count and joins[n + 1]:
                at = max(at, start[order[n + 1].key] - s.minutes)
            at = _settled(shop, order, n, first, last, start, end, at)
            at = _on_rack(shop, order, n, end, start, at)
            at = _in_hours(shop, order, n, joins, at)
            if at > FAR:
                return None
            if at > start[s.key]:
                start[s.key], end[s.key], moved = at, at + s.minutes, True
    return start


def _settled(shop, order, n, first, last, start, end, at):  # type: ignore[no-untyped-def]
    """After another use of the room it has to settle, set-up and cleaning counted in."""
    s = order[n]
    m = n
    while m and order[m].mix and not first[m]:
        m -= 1
    for k in range(m):
        other = order[k]
        if not (other.use and s.use) or other.use == s.use or other.room != s.room:
            continue
        closes = k
        while other.mix and not last[closes]:
            closes += 1
        over = end[order[closes].key] + (shop.gun.clean if other.mix else 0)
        needed = over + shop.settles.get((other.use, s.use), 0) + (shop.gun.set_up if s.mix else 0)
        if m == n:
            at = max(at, needed)
        # Within a load the first of it is held back, and pulls the others behind it.
    return at


def _on_rack(shop, order, n, end, start, at):  # type: ignore[no-untyped-def]
    s = order[n]
    if not (shop.rack_m2 and s.m2):
        return at
    while True:
        lying = [o for o in order[:n] if o.m2 and end[o.key] + o.lies > at]
        if sum(o.m2 for o in lying) + s.m2 <= shop.rack_m2 + 1e-9:
            return at
        at = min(end[o.key] + o.lies for o in lying)


def _in_hours(shop, order, n, joins, at):  # type: ignore[no-untyped-def]
    """The soonest from then on at which the whole load lies within the hours."""
    worker, s = shop.workers[0], order[n]
    begin, until = n, n
    while order[n].mix and joins[begin]:
        begin -= 1
    while until + 1 < len(order) and joins[until + 1]:
        until += 1
    before = sum(x.minutes for x in order[begin:n]) + (shop.gun.set_up if s.mix else 0)
    after = sum(x.minutes for x in order[n : until + 1]) + (shop.gun.clean if s.mix else 0)
    loud = any(x.loud for x in order[begin : until + 1])
    for open_, close in worker.loud if loud else worker.here:
        begins = max(at, open_ + before)
        if begins + max(after, 1) <= close:
            return begins
    return FAR + 1


def _cost(shop: Workshop, start: dict[str, int]) -> float:
    ends: dict[str, int] = {}
    for s in shop.stints:
        ends[s.piece] = max(ends.get(s.piece, 0), start[s.key] + s.minutes)
    late = sum(p.worth * max(0, ends[p.piece] - p.by) for p in shop.promised)
    return max(ends.values()) + late
