"""How long the shop's own work takes: told from its records, for warnings that come in time."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise

from partsbench.core.finish.effort import Own, faces_apart
from partsbench.core.finish.steps import Operation, Per
from partsbench.services.shop import Shop
from partsbench.store import lately, room

LOOKED_BACK = timedelta(days=21)
LONGEST_GAP = timedelta(minutes=30)
SHORTEST_GAP = timedelta(seconds=20)
_KNOWN = frozenset(o.value for o in Operation)


def own_times(shop: Shop, now: datetime) -> Own:
    """Minutes a part or a face, by operation: from loads, and from parts recorded one after
    another.

    The time between two records of one step by one pair of hands is the work on the second part;
    breaks and records made at once for many say nothing.
    """
    found: dict[tuple[Operation, Per], list[float]] = {}
    for row in room.worked(shop.book, now - LOOKED_BACK, now):
        if row.operation in _KNOWN:
            of = (Operation(row.operation), Per.FACE)
            found.setdefault(of, []).append(row.minutes / row.faces)
    batches = lately.batches(shop.book, now - LOOKED_BACK, now)
    for (before, _), (after, faces) in pairwise(batches):
        gap = after.at - before.at
        alike = before.step == after.step and (before.tag, before.part) != (after.tag, after.part)
        if not alike or not SHORTEST_GAP <= gap <= LONGEST_GAP:
            continue
        step = shop.path(after.path).step(after.step)
        if step:
            times = 1 if step.per is Per.PART else faces_apart(faces)
            minutes = gap.total_seconds() / 60 / times
            found.setdefault((step.operation, step.per), []).append(minutes)
    return found
