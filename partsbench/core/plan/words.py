"""A plan in sentences: when what is done, how good that is, what changed, what cannot be kept."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from partsbench.core.finish.durations import say_duration
from partsbench.core.plan.chain import Unreachable
from partsbench.core.plan.change import Followed
from partsbench.core.plan.workshop import Promised, Workshop
from partsbench.core.shown_times import long_moment, moment
from partsbench.core.wording import clauses, plural

MOST_LINKS = 8
"""A longer chain is told by its first and last links."""


def when(origin: datetime, minute: int) -> datetime:
    """A minute of a plan as a moment."""
    return origin + timedelta(minutes=minute)


def said(origin: datetime, minute: int) -> str:
    """`Thursday 03 Dec 16:00`."""
    return long_moment(when(origin, minute), origin)


def short(origin: datetime, minute: int) -> str:
    """`Thu 03 Dec 16:00`."""
    return moment(when(origin, minute), origin)


def end_words(what: str, origin: datetime, end: int, soonest: int) -> str:
    """`Larch is done Thursday 03 Dec 16:00; no plan can be earlier than Wednesday 02 Dec 18:00.`"""
    done = f"{what} done {said(origin, end)}"
    if soonest >= end:
        return f"{done}, and no plan can be earlier."
    return f"{done}; no plan can be earlier than {said(origin, soonest)}."


def promise_words(
    shop: Workshop, promised: Promised, origin: datetime, end: int, soonest: int
) -> str:
    """How a promise stands: kept with how much to spare, late by how much, or impossible."""
    title, by = shop.title(promised.piece), said(origin, promised.by)
    if soonest > promised.by:
        return f"{title} cannot be done by {by}; no plan is earlier than " \
            f"{said(origin, soonest)}."  # fmt: skip
    if end > promised.by:
        late = say_duration(timedelta(minutes=end - promised.by))
        return f"{title} is promised for {by} and comes {late} late; " \
            "that it cannot be kept is not proven."  # fmt: skip
    spare = say_duration(timedelta(minutes=promised.by - end)) if promised.by > end else "no time"
    return f"{title} is promised for {by}: kept, with {spare} to spare."


def chain_words(found: Unreachable, shop: Workshop, origin: datetime) -> str:
    """The chain that makes a day impossible, link by link; or the work that does not fit."""
    title = shop.title(found.piece)
    by, soonest = said(origin, found.by), said(origin, found.soonest)
    first = f"{title} cannot be done by {by}"
    if found.crowded is not None:
        c = found.crowded
        asked, fits = (say_duration(timedelta(minutes=round(m))) for m in (c.asked, c.fits))
        return (
            f"{first}: between {short(origin, c.start)} and {short(origin, c.end)} "
            f"{asked} of work has to be done, and there are {fits}. "
            f"No plan is earlier than {soonest}."
        )
    links = list(found.chain)
    gone = max(0, len(links) - MOST_LINKS)
    shown = [*links[: MOST_LINKS // 2], *links[-MOST_LINKS // 2 :]] if gone else links
    told = []
    for place, link in enumerate(shown):
        if gone and place == MOST_LINKS // 2:
            told.append(plural(gone, "1 more step", f"{gone} more steps"))
        at = f"{link.name} {short(origin, link.start)}"
        told.append(f"{at} ({link.why})" if link.why else at)
    return f"{first}: {'; '.join(told)}. No plan is earlier than {soonest}."


def change_words(found: Followed, shop: Workshop, origin: datetime) -> str:
    """What changed and why in one line; "" where nothing did."""
    if not found.shifts and not found.ends:
        return ""
    parts = [
        f"{shop.title(piece)} is done {short(origin, after)} and not {short(origin, before)}"
        for piece, before, after in found.ends
    ]
    if found.shifts:
        # What has a reason of its own says more than what was only carried along.
        shift = next((s for s in found.shifts if s.why), found.shifts[0])
        to = short(origin, shift.after)
        others = len(found.shifts) - 1
        moves = (
            f"{shift.name} moves to {to}, because {shift.why}"
            if shift.why
            else f"{shift.name} moves to {to}, which is better"
        )
        more = plural(others, "1 more moves", f"{others} more move")
        parts.append(clauses([moves, more if others else ""]))
    return f"{'. '.join(parts)}."


def side_by_side(
    shop: Workshop, origin: datetime, ends: Sequence[tuple[str, int, int]]
) -> tuple[str, ...]:
    """`Larch: Thu 03 Dec 16:00 → Wed 02 Dec 18:00, 22 h sooner`, piece by piece."""
    found = []
    for piece, now, then in ends:
        dates = f"{short(origin, now)} → {short(origin, then)}"
        found.append(f"{shop.title(piece)}: {dates}, {difference(now, then)}")
    return tuple(found)


def difference(now: int, then: int) -> str:
    """`22 h sooner`, `no change`."""
    if now == then:
        return "no change"
    change = timedelta(minutes=abs(then - now))
    return f"{say_duration(change)} {'sooner' if then < now else 'later'}"
