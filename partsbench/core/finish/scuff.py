"""A scuff that would go stale while the other side of a seam dries for its tape."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from partsbench.core.finish.clocks import window
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.effort import Own, effort_alone
from partsbench.core.finish.products import COATS
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.steps import FinishPath, Operation, Step
from partsbench.core.finish.waits import WaitFigures, waits_into
from partsbench.core.piece.spot import Spot


@dataclass(frozen=True, slots=True)
class CoatBy:
    """A coat that comes after a mask, and within how long it must follow the step before."""

    coat: Step
    within: timedelta
    work: timedelta
    """What masking and coating take, in hands-on time."""


def coat_by(path: FinishPath, step: Step, shop: WaitFigures, own: Own) -> CoatBy | None:
    """The coat that has to follow `step` within a time, with a mask in between; None for none."""
    at = path.index(step.key)
    rest = [s for s in path.steps[at + 1 :] if not s.optional] if at is not None else []
    place = next((i for i, s in enumerate(rest) if s.operation in COATS), 0)
    if not any(s.operation is Operation.MASK for s in rest[:place]):
        return None
    waits = waits_into(rest[place], [step, *rest[:place]], shop)
    ends = [w.latest for w in waits if w.before.key == step.key and w.latest is not None]
    work = sum((effort_alone(s, own) for s in rest[: place + 1]), timedelta())
    return CoatBy(rest[place], min(ends), work) if ends else None


def tape_from(there: Progress, shop: WaitFigures, now: datetime) -> datetime | None:
    """The soonest that tape may go on a face that is finished first; None when it bears tape now,
    or is not masked. Of a face that has not come to its mask only the longest wait is counted."""
    to_come = [s for s in there.path.steps[there.place :] if not s.optional]
    place = next((i for i, s in enumerate(to_come) if s.operation is Operation.MASK), None)
    if place is None:
        return None
    mask = to_come[place]
    if mask in there.choices:
        opens = window(there, mask, shop).opens
        return opens.at if opens and opens.at > now else None
    waits = waits_into(mask, to_come[:place], shop)
    return now + max((w.earliest for w in waits if w.earliest), default=timedelta())


def goes_stale(by: CoatBy, other: Spot, tape: datetime, now: datetime) -> str:
    """Why to wait with the scuff; "" when the coat can follow it in time."""
    if tape + by.work < now + by.within:
        return ""
    return (
        f"{other} bears tape in {say_duration(tape - now)} at the soonest, and {by.coat.name} must "
        f"follow this within {say_duration(by.within)}: finish {other} first, then scuff"
    )
