"""How long the shop's own work takes: told from its records, for warnings that come in time."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from partsbench.core.finish.effort import Own, OwnKey, faces_apart
from partsbench.core.finish.steps import Operation, Per, Step
from partsbench.services.shop import Shop
from partsbench.store import lately, room

LOOKED_BACK = timedelta(days=21)
FIRST, LAST = datetime.min.replace(tzinfo=UTC), datetime.max.replace(tzinfo=UTC)
LONGEST_GAP = timedelta(minutes=30)
SHORTEST_GAP = timedelta(seconds=20)
_KNOWN = frozenset(o.value for o in Operation)


def own_times(shop: Shop, now: datetime) -> Own:
    """Minutes a part or a face, by operation and by the kind of part: from loads, from parts
    recorded one after another, and from the clock where all that was recorded while it ran is one
    step, at once.

    The time between two records of one step by one pair of hands is the work on the second part;
    breaks and records made at once for many say nothing.
    """
    return Paces(shop, now - LOOKED_BACK, now).at(now)


class Paces:
    """The same at many moments between two, with the records of that time read once."""

    def __init__(self, shop: Shop, since: datetime = FIRST, until: datetime = LAST) -> None:
        batches = lately.batches(shop.book, since, until)
        self._gaps = list(_gaps(shop, batches))
        timed = room.timed(shop.book, since, until)
        self._loads = [t for t in timed if t.operation in _KNOWN]
        self._clocked = list(_by_clock(shop, batches, timed))

    def at(self, now: datetime) -> Own:
        """From what was recorded in the days up to `now`."""
        found: dict[OwnKey, list[float]] = {}
        for load in self._loads:
            if now - LOOKED_BACK <= load.ended <= now:
                of = (Operation(load.operation), Per.FACE)
                found.setdefault(of, []).append(load.minutes / load.faces)
        first = bisect_left(self._gaps, now - LOOKED_BACK, key=_begun)
        last = bisect_right(self._gaps, now, key=_ended)
        clocked = (g for g in self._clocked if g.begun >= now - LOOKED_BACK and g.ended <= now)
        for gap in (*self._gaps[first:last], *clocked):
            found.setdefault(gap.of, []).append(gap.minutes)
            found.setdefault((*gap.of, gap.kind), []).append(gap.minutes)
        return found


class _Gap(NamedTuple):
    """The work on one part, between the record before it and its own, or on some by the clock."""

    begun: datetime
    ended: datetime
    of: tuple[Operation, Per]
    minutes: float
    kind: str


Batch = tuple[lately.RecentStep, tuple[str, ...]]
"""What was recorded of a part at one moment, and of which faces."""


def _gaps(shop: Shop, batches: Sequence[Batch]) -> Iterator[_Gap]:
    """In the order of recording. Before parts that are recorded at once lies the work on them all,
    which tells of none."""
    for (before, _), (after, faces), (then, _) in _threes(batches):
        gap = after.at - before.at
        at_once = _alike(after, then) and then.at - after.at < SHORTEST_GAP
        if not _alike(before, after) or not SHORTEST_GAP <= gap <= LONGEST_GAP or at_once:
            continue
        step = shop.path(after.path).step(after.step)
        if step:
            minutes = gap.total_seconds() / 60 / _times(step, faces)
            yield _Gap(before.at, after.at, (step.operation, step.per), minutes, after.part[:1])


def _threes(batches: Sequence[Batch]) -> Iterator[tuple[Batch, Batch, Batch]]:
    """Each with the one before it and the one behind; the last stands behind itself."""
    return zip(batches, batches[1:], (*batches[2:], *batches[-1:]), strict=False)


def _alike(one: lately.RecentStep, other: lately.RecentStep) -> bool:
    """The same step on another part."""
    return one.step == other.step and (one.tag, one.part) != (other.tag, other.part)


def _by_clock(
    shop: Shop, batches: Sequence[Batch], timed: Sequence[room.TimedSpan]
) -> Iterator[_Gap]:
    """A stretch of the clock in which one step was recorded, at one moment, on parts of one kind:
    its minutes for each of them. What was recorded one after another tells more by itself."""
    for span in timed:
        if span.begun is None:
            continue
        within = (x for x in batches if span.begun <= x[0].at <= span.ended)
        mine = [x for x in within if x[0].tag == span.tag]
        alike = {(b.at, b.step, b.part[:1]) for b, _ in mine}
        step = shop.path(mine[0][0].path).step(mine[0][0].step) if len(alike) == 1 else None
        if step:
            times = sum(_times(step, faces) for _, faces in mine)
            minutes = (span.ended - span.begun).total_seconds() / 60 / times
            of = (step.operation, step.per)
            yield _Gap(span.begun, span.ended, of, minutes, mine[0][0].part[:1])


def _times(step: Step, faces: Sequence[str]) -> int:
    return 1 if step.per is Per.PART else faces_apart(faces)


def _begun(gap: _Gap) -> datetime:
    return gap.begun


def _ended(gap: _Gap) -> datetime:
    return gap.ended
