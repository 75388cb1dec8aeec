"""Two films that touch before both are hard stick together: an edge closed in its opening.

Common practice: a drawer or door stays a finger open until both films may touch.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from partsbench.core.finish.clocks import ReadyAt, films_on, readiness, said_source
from partsbench.core.finish.loads import SPRAYED
from partsbench.core.finish.products import Ready
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.waits import WaitFigures
from partsbench.core.piece.codes import Family
from partsbench.core.piece.spot import Spot
from partsbench.core.shown_times import moment

_EDGES = ("top edge", "bottom edge", "left edge", "right edge")
CLOSING = {Family.DRAWER: _EDGES, Family.DOOR: (*_EDGES, "back")}
"""The faces that lie against the opening when the part is closed."""

OPENING = "rails"
"""The face of the carcase that goes round the openings."""


@dataclass(frozen=True, slots=True)
class Blocking:
    """Two faces that would stick: until when, why and whose figure; until None: only the tins say.

    one: the face of the part, other: that of the opening. now: as of when.
    """

    one: Spot
    other: Spot
    until: datetime | None
    because: str
    source: str
    now: datetime

    @property
    def sentence(self) -> str:
        """`Leave it a finger open until Tue 11 Mar 09:00.`"""
        if self.until is None:
            return "Leave it a finger open; no time can be told."
        return f"Leave it a finger open until {moment(self.until, self.now)}."

    @property
    def reason(self) -> str:
        return f"{self.one} would stick to {self.other}: {self.because}"


def blocking(
    edges: Mapping[Spot, Progress],
    opening: Mapping[Spot, Progress],
    now: datetime,
    shop: WaitFigures,
    not_yet: frozenset[Spot] = frozenset(),
) -> Blocking | None:
    """The pair of films that must wait longest; None when everything may be closed.

    A bare face sticks to nothing. `not_yet` are faces that were tried for touching and not ready.
    """
    found = [
        _pair(one, a, other, b, shop, not_yet, now)
        for one, a in edges.items()
        for other, b in opening.items()
        if _has_film(a) and _has_film(b)
    ]
    open_ = [b for b in found if b.until is None or b.until > now]
    return max(open_, key=_until, default=None)


def _pair(
    one: Spot,
    a: Progress,
    other: Spot,
    b: Progress,
    shop: WaitFigures,
    not_yet: frozenset[Spot],
    now: datetime,
) -> Blocking:
    tried = next((name for name in (one, other) if name in not_yet), None)
    if tried:
        why = f"{tried} was tried and not ready to touch; try it again"
        return Blocking(one, other, None, why, "your own try", now)
    touch = [_touch(a, shop), _touch(b, shop)]
    late = max(touch, key=_at)
    return Blocking(one, other, late.at, late.because, said_source(late.source), now)


def _touch(at: Progress, shop: WaitFigures) -> ReadyAt:
    return next(r for r in readiness(at, shop) if r.ready is Ready.TOUCH)


def _has_film(at: Progress) -> bool:
    """Stain in the wood sticks to nothing; a coat on it does."""
    return any(step.operation in SPRAYED for _, step in films_on(at))


def _at(ready: ReadyAt) -> float:
    return ready.at.timestamp() if ready.at else float("inf")


def _until(pair: Blocking) -> float:
    return pair.until.timestamp() if pair.until else float("inf")
