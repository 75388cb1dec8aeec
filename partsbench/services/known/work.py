"""How long the shop's own work takes: told from its records, for warnings that come in time."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from typing import NamedTuple

from partsbench.core.finish.effort import Own, faces_apart
from partsbench.core.finish.steps import Operation, Per
from partsbench.services.shop import Shop
from partsbench.store import lately, room

LOOKED_BACK = timedelta(days=21)
FIRST, LAST = datetime.min.replace(tzinfo=UTC), datetime.max.replace(tzinfo=UTC)
LONGEST_GAP = timedelta(minutes=30)
SHORTEST_GAP = timedelta(seconds=20)
_KNOWN = frozenset(o.value for o in Operation)


def own_times(shop: Shop, now: datetime) -> Own:
    """Minutes a part or a face, by operation: from loads, and from parts recorded one after
    another.

    The time between two records of one step by one pair of hands is the work on the second part;
    breaks and records made at once for many say nothing.
    """
    return Paces(shop, now - LOOKED_BACK, now).at(now)


class Paces:
    """The same at many moments between two, with the records of that time read once."""

    def __init__(self, shop: Shop, since: datetime = FIRST, until: datetime = LAST) -> None:
        self._shop = shop
        self._gaps = list(_gaps(shop, since, until))

    def at(self, now: datetime) -> Own:
        """From what was recorded in the days up to `now`."""
        found: dict[tuple[Operation, Per], list[float]] = {}
        for row in room.worked(self._shop.book, now - LOOKED_BACK, now):
            if row.operation in _KNOWN:
                of = (Operation(row.operation), Per.FACE)
                found.setdefault(of, []).append(row.minutes / row.faces)
        first = bisect_left(self._gaps, now - LOOKED_BACK, key=_begun)
        last = bisect_right(self._gaps, now, key=_ended)
        for gap in self._gaps[first:last]:
            found.setdefault(gap.of, []).append(gap.minutes)
        return found


class _Gap(NamedTuple):
    """The work on one part, between the record before it and its own."""

    begun: datetime
    ended: datetime
    of: tuple[Operation, Per]
    minutes: float


def _gaps(shop: Shop, since: datetime, until: datetime) -> Iterator[_Gap]:
    """In the order of recording."""
    batches = lately.batches(shop.book, since, until)
    for (before, _), (after, faces) in pairwise(batches):
        gap = after.at - before.at
        alike = before.step == after.step and (before.tag, before.part) != (after.tag, after.part)
        if not alike or not SHORTEST_GAP <= gap <= LONGEST_GAP:
            continue
        step = shop.path(after.path).step(after.step)
        if step:
            times = 1 if step.per is Per.PART else faces_apart(faces)
            minutes = gap.total_seconds() / 60 / times
            yield _Gap(before.at, after.at, (step.operation, step.per), minutes)


def _begun(gap: _Gap) -> datetime:
    return gap.begun


def _ended(gap: _Gap) -> datetime:
    return gap.ended
