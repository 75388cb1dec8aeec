"""Hours at work from what was recorded: waiting does not count, and every span can be corrected."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from partsbench.core.sums.refusal import Refusal

LONGEST_SPAN = timedelta(hours=16)


@dataclass(frozen=True, slots=True)
class Span:
    """One stretch of work on a step; a corrected length replaces what the clock says."""

    step: str
    begun: datetime
    ended: datetime
    redo: bool = False
    corrected: timedelta | None = None


@dataclass(frozen=True, slots=True)
class Hours:
    """Hours at work: in all, by step, and how many of them were work done again."""

    total: float
    by_step: Mapping[str, float]
    redo: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("the shop's own records",)

    @property
    def sentence(self) -> str:
        """`You have 14.5 h in it, 1.2 h of that work done again.`"""
        said = f"You have {self.total:.1f} h in it"
        again = f"{self.redo:.1f}"
        return f"{said}, {again} h of that work done again." if float(again) else f"{said}."


def hours(spans: Sequence[Span]) -> Hours | Refusal:
    """Add up the spans. Where two overlap (several parts in one go) the time counts once."""
    total = redo = timedelta()
    by_step: dict[str, timedelta] = {}
    busy_until: datetime | None = None
    corrected = False
    for span in sorted(spans, key=lambda s: (s.begun, s.ended)):
        bad = _bad_span(span)
        if bad:
            return bad
        begun = span.begun if busy_until is None else max(span.begun, busy_until)
        worked = max(span.ended - begun, timedelta())
        busy_until = span.ended if busy_until is None else max(busy_until, span.ended)
        if span.corrected is not None:
            worked, corrected = span.corrected, True
        total += worked
        redo += worked if span.redo else timedelta()
        by_step[span.step] = by_step.get(span.step, timedelta()) + worked
    lacks = () if spans else ("any record of work",)
    steps = {step: _hours(time) for step, time in by_step.items()}
    sources = ("the shop's own records", *(["corrected by hand"] if corrected else []))
    return Hours(_hours(total), steps, _hours(redo), lacks, sources)


def _hours(time: timedelta) -> float:
    return time / timedelta(hours=1)


def _bad_span(span: Span) -> Refusal | None:
    if span.ended < span.begun:
        return Refusal(span.step, "ends before it begins")
    if span.corrected is None and span.ended - span.begun > LONGEST_SPAN:
        return Refusal(span.step, "runs longer than 16 h: was it left open? Correct it")
    if span.corrected is not None and not timedelta() <= span.corrected <= LONGEST_SPAN:
        return Refusal(span.step, "is corrected to less than nothing or more than 16 h")
    return None
