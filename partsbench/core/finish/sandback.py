"""Going back to bare wood: how often a face has been there, and what else could be done."""

from __future__ import annotations

from partsbench.core.finish.advice import MOST_SAND_BACKS
from partsbench.core.finish.findings import EXPERIENCE, Finding, Level
from partsbench.core.finish.products import FILM
from partsbench.core.finish.progress import MarkKind, Progress, progress
from partsbench.core.finish.steps import Operation
from partsbench.core.wording import or_list

OPTIONS = ("sand back", "tone it", "change the path to paint")


def sand_backs(now: Progress) -> int:
    """How often this face was sent back to bare wood with a film on it."""
    return sum(
        mark.kind is MarkKind.SENT_BACK
        and _to_bare_wood(now, mark.step)
        and _had_film(progress(now.path, now.history[:place]))
        for place, mark in enumerate(now.history)
    )


def check_sand_back(now: Progress, step: str, veneer: bool) -> Finding | None:
    """A warning before a veneered face goes back to bare wood once too often; None when it may."""
    count = sand_backs(now)
    if not veneer or count < MOST_SAND_BACKS or not _to_bare_wood(now, step):
        return None
    instead = or_list(OPTIONS[1:])
    reason = f"veneer that was sanded back {count} times: {instead} instead"
    return Finding(Level.WARN, "veneer sanded back", reason, EXPERIENCE, step)


def _to_bare_wood(now: Progress, key: str) -> bool:
    """True when the step lies before any film of the path and a sanding follows or is it."""
    place = now.path.index(key)
    films = [i for i, s in enumerate(now.path.steps) if s.operation in FILM]
    first = films[0] if films else len(now.path.steps)
    if place is None or place >= first:
        return False
    return any(s.operation is Operation.SAND for s in now.path.steps[place:first])


def _had_film(before: Progress) -> bool:
    steps = (before.path.step(m.step) for m in before.done)
    return any(s is not None and s.operation in FILM for s in steps)
