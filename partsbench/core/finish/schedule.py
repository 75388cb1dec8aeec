"""When the remaining steps of faces can be done, and must be: the network over their waits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil

from partsbench.core.finish.clocks import Window, standing_steps, window
from partsbench.core.finish.effort import Own, effort_alone
from partsbench.core.finish.hours import ANY_TIME, MOST_DAYS, Hours
from partsbench.core.finish.masks import SeamOrder
from partsbench.core.finish.progress import Mark, MarkKind, Progress, progress
from partsbench.core.finish.steps import FinishPath, Step
from partsbench.core.finish.stn import (
    Arc,
    Impossible,
    at_least,
    at_most,
    earliest,
    earliest_within,
    latest,
)
from partsbench.core.finish.waits import WaitFigures, waits_into
from partsbench.core.piece.spot import WHOLE, Spot

NOW = "now"
Network = dict[tuple[object, ...], tuple[FinishPath, list[Arc]]]
"""Face, identity of its path (kept beside), steps done, place → the arcs of the steps to come."""


@dataclass(frozen=True, slots=True)
class Planned:
    """One step to come: the soonest it can start and be done, and the latest it may start."""

    face: Spot
    step: Step
    starts: datetime
    ends: datetime
    start_by: datetime | None


@dataclass(frozen=True, slots=True)
class Schedule:
    """The remaining steps of the faces, soonest first, as if hands were never short.

    in_hours: False where the shop's hours cannot be kept without missing a window.
    """

    planned: tuple[Planned, ...]
    in_hours: bool

    @property
    def ends(self) -> datetime | None:
        """When the last step could be done; None when nothing is left."""
        return max((p.ends for p in self.planned), default=None)

    def of(self, face: Spot) -> tuple[Planned, ...]:
        return tuple(p for p in self.planned if p.face == face)


@dataclass(frozen=True, slots=True)
class Cost:
    """What a missed window costs: the step it goes to, hours added, and the new end."""

    step: str
    say: str
    added: timedelta
    ends: datetime


def schedule(
    faces: Mapping[Spot, Progress],
    now: datetime,
    shop: WaitFigures,
    orders: Sequence[SeamOrder] = (),
    own: Own | None = None,
    also: frozenset[str] = frozenset(),
    hours: Hours = ANY_TIME,
    bounded: bool = True,
    network: Network | None = None,
) -> Schedule | Impossible:
    """Earliest and latest times of every remaining step, or why there are none.

    Optional steps are left out, but for the keys in `also`. Hands and rooms are not counted: this
    bounds, it plans no day. `hours` are those in which work is begun and ended; where they cannot
    be kept, the plan is the one without. `bounded`: False where nobody asks how long a step may be
    put off. `network`: what one call learns for the next, of the same `shop`, `own` and `also`.
    """
    arcs: list[Arc] = []
    network = {} if network is None else network
    for face, at in faces.items():
        newest = {step.key: (mark, step) for mark, step in standing_steps(at)}
        for mark, step in newest.values():
            when, point = _seconds(mark.at - now), _point(face, step.key, "end")
            arcs += (at_least(NOW, point, when), at_most(NOW, point, when))
        done = [step for _, step in newest.values()]
        past = late_anyway(at, done, now, shop)
        key = (face, id(at.path), tuple(newest), at.place, past)
        if key not in network:
            network[key] = at.path, list(_arcs_ahead(face, at, done, shop, own or {}, also, past))
        arcs += network[key][1]
    arcs += _seam_arcs(faces, orders, also)
    early = earliest(arcs, NOW)
    if isinstance(early, Impossible):
        return early
    late = latest(arcs, NOW, 0) if bounded else {}
    if isinstance(late, Impossible):
        return late
    steps = [(face, step) for face, at in faces.items() for step in remaining(at, also)]
    kept = _in_hours(arcs, early, steps, now, own or {}, hours)
    found = [_planned(face, step, now, kept or early, late) for face, step in steps]
    return Schedule(tuple(sorted(found, key=lambda p: p.starts)), kept is not None)


def _in_hours(
    arcs: Sequence[Arc],
    early: dict[str, int],
    steps: Sequence[tuple[Spot, Step]],
    now: datetime,
    own: Own,
    hours: Hours,
) -> dict[str, int] | None:
    """The earliest times within the hours of work; None where they cannot all be kept."""
    if hours.any_time:
        return early
    work = {
        _point(face, step.key, "start"): (step.operation, effort_alone(step, own))
        for face, step in steps
    }

    def lift(point: str, second: int) -> int | None:
        if point not in work:
            return second
        operation, length = work[point]
        start = hours.next_start(now + timedelta(seconds=second), length, operation)
        return None if start is None else _seconds(start - now)

    # What finds no time in months finds none: two windows may chase each other through the days.
    horizon = max(early.values(), default=0) + MOST_DAYS * 24 * 3600
    # Work is done in one go: what must end later is begun later.
    in_one_go = [
        at_most(point, _point(face, step.key, "end"), _seconds(work[point][1]))
        for face, step in steps
        for point in [_point(face, step.key, "start")]
    ]
    return earliest_within([*arcs, *in_one_go], NOW, early, lift, horizon)


def remaining(at: Progress, also: frozenset[str] = frozenset()) -> tuple[Step, ...]:
    """The steps still due on a face, in order."""
    left = at.path.steps[at.place :]
    return tuple(s for s in left if not s.optional or s.key in also)


def cost_of_missing(at: Progress, window: Window, shop: WaitFigures) -> Cost | None:
    """What follows when this window closes unused; None when it never closes or has no way back."""
    closes, missed = window.closes, window.missed
    if closes is None or missed is None:
        return None
    back = at
    if (at.path.index(missed.step) or 0) < at.place:
        mark = Mark(missed.step, closes.at, MarkKind.SENT_BACK)
        back = progress(at.path, [*at.history, mark])
    in_time = schedule({WHOLE: at}, closes.at, shop)
    sent = schedule({WHOLE: back}, closes.at, shop, also=frozenset({missed.step}))
    if not isinstance(sent, Schedule) or sent.ends is None:
        return None
    known = in_time.ends if isinstance(in_time, Schedule) else None
    added = sent.ends - known if known else timedelta()
    return Cost(missed.step, missed.say, max(added, timedelta()), sent.ends)


def _point(face: Spot, step: str, end: str) -> str:
    return f"{Spot.of(face).key}|{step}|{end}"


def _arcs_ahead(
    face: Spot,
    at: Progress,
    before: Sequence[Step],
    shop: WaitFigures,
    own: Own,
    also: frozenset[str],
    past: frozenset[str],
) -> Iterator[Arc]:
    """Work takes time, steps follow each other, nothing starts before now; and the waits."""
    last = NOW
    for step in remaining(at, also):
        start, end = _point(face, step.key, "start"), _point(face, step.key, "end")
        yield at_least(NOW, start, 0, f"{_named(face, step)} can not start in the past")
        yield at_least(last, start, 0)
        yield from _wait_arcs(face, step, before, shop, start, step.key not in past)
        yield at_least(start, end, _seconds(effort_alone(step, own)))
        before = [*before, step]
        last = end


def late_anyway(
    at: Progress, done: Sequence[Step], now: datetime, shop: WaitFigures
) -> frozenset[str]:
    """Steps that are late and are done all the same, with care: a wipe, a mask that comes off."""
    before = done[-1].missed if done else None
    found = [
        step.key
        for step in remaining(at)
        if any(m and m.step == step.key for m in (before, *(a.missed for a in step.after)))
        and window(at, step, shop).is_late(now)
    ]
    return frozenset(found)


def _wait_arcs(
    face: Spot, step: Step, before: Sequence[Step], shop: WaitFigures, start: str, in_time: bool
) -> Iterator[Arc]:
    for wait in waits_into(step, before, shop):
        end = _point(face, wait.before.key, "end")
        if wait.earliest is not None:
            why = _on(face, wait.why_not_yet())
            yield at_least(end, start, _seconds(wait.earliest), why)
        if wait.latest is not None and in_time:
            why = _on(face, wait.why_no_longer())
            yield at_most(end, start, _seconds(wait.latest), why)


def _on(face: Spot, why: str) -> str:
    return f"{face}: {why}" if str(face) else why


def _seam_arcs(
    faces: Mapping[Spot, Progress], orders: Sequence[SeamOrder], also: frozenset[str]
) -> Iterator[Arc]:
    """Order across seams, where both steps are still to come."""
    due = {(face, s.key) for face, at in faces.items() for s in remaining(at, also)}
    for order in orders:
        if order.before in due and order.after in due:
            yield at_least(
                _point(*order.before, "end"), _point(*order.after, "start"), 0, order.why
            )


def _planned(
    face: Spot, step: Step, now: datetime, early: dict[str, int], late: dict[str, int]
) -> Planned:
    start, end = _point(face, step.key, "start"), _point(face, step.key, "end")
    by = late.get(start)
    return Planned(
        face,
        step,
        now + timedelta(seconds=early[start]),
        now + timedelta(seconds=early[end]),
        None if by is None else now + timedelta(seconds=by),
    )


def _named(face: Spot, step: Step) -> str:
    return f"{face}: {step.name}" if str(face) else step.name


def _seconds(length: timedelta) -> int:
    """Whole seconds, rounded up."""
    return ceil(length.total_seconds())
