"""Hours at work from what was recorded: by the clock, as corrected, and estimated for the rest.

Waiting does not count. What is recorded while a clock runs on the piece lies under that clock and
is not estimated, and a step that was corrected on a day is what was said, whatever else was
recorded of it on that day.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from enum import StrEnum

from partsbench.core.finish.effort import Own, Worked, effort, told_from
from partsbench.core.finish.steps import Step
from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Refused
from partsbench.core.sums.refusal import wrong
from partsbench.core.wording import and_list, notes, sentences

LONGEST_SPAN = timedelta(hours=16)
LEAST_TOLD = 0.05
"""Fewer hours than this are 0.0 in a sentence."""
LONGEST_BREAK = timedelta(minutes=30)
"""Marks of one step that lie no further apart were made in one go."""
CLOCK = "when work began and ended: start and stop the clock"


class HowTimed(StrEnum):
    """How a length of work is known."""

    MEASURED = "measured by the clock"
    CORRECTED = "corrected by hand"
    ESTIMATED = "estimated"


@dataclass(frozen=True, slots=True)
class ClockSpan:
    """One stretch of work by the clock."""

    step: str
    begun: datetime
    ended: datetime
    redo: bool


@dataclass(frozen=True, slots=True)
class Marked:
    """A step recorded on a face; `redo` where the face had it before."""

    worked: Worked
    at: datetime
    redo: bool

    @property
    def step(self) -> str:
        return self.worked.step.name


@dataclass(frozen=True, slots=True)
class WorkStretch:
    """So much work on a step, on the day on which it began (`2026-11-25`, local)."""

    step: str
    day: str
    length: timedelta
    known: HowTimed
    redo: bool


@dataclass(frozen=True, slots=True)
class HoursWorked:
    """Hours at work by step and by how they are known, and how many were work done again."""

    by: Mapping[str, Mapping[HowTimed, float]]
    redo: float = 0.0
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()

    @property
    def total(self) -> float:
        return sum(self.by_step.values())

    @property
    def by_step(self) -> Mapping[str, float]:
        return {step: sum(known.values()) for step, known in self.by.items()}

    def known(self, how: HowTimed) -> float:
        """Hours of all steps that are known in this way."""
        return sum(known.get(how, 0.0) for known in self.by.values())

    @property
    def doubt(self) -> str:
        """`3.0 of it estimated`; "" when the clock measured all that shows."""
        parts = {how: self.known(how) for how in (HowTimed.CORRECTED, HowTimed.ESTIMATED)}
        for how, worked in parts.items():
            if worked and self.total - worked < LEAST_TOLD:
                return f"all of it {word_of(how)}"
        said = [f"{h:.1f} of it {word_of(how)}" for how, h in parts.items() if h >= LEAST_TOLD]
        return and_list(said)

    @property
    def words(self) -> str:
        """`14.5 h in it, 3.0 of it estimated`."""
        return notes(f"{self.total:.1f} h in it", self.doubt)

    @property
    def sentence(self) -> str:
        """`You have 14.5 h in it, 3.0 of it estimated. 1.2 h of that is work done again.`"""
        again = f"{self.redo:.1f}"
        done = f"{again} h of that is work done again." if float(again) else ""
        return sentences(f"{self.you_have}.", done)

    @property
    def you_have(self) -> str:
        """`You have 14.5 h in it, 3.0 of it estimated`, without a full stop."""
        return f"You have {self.words}"


def hours(
    clock: Sequence[ClockSpan],
    marks: Sequence[Marked],
    corrected: Mapping[tuple[str, str], timedelta] | None = None,
    own: Own | None = None,
) -> HoursWorked | Refused:
    """Add up the work. `corrected`: how long a step took on a day; `own`: the shop's pace."""
    said = corrected or {}
    for span in clock:
        bad = _bad_span(span, said)
        if bad:
            return bad
    for (step, _), length in said.items():
        if not timedelta() <= length <= LONGEST_SPAN:
            return wrong(step, "is corrected to less than nothing or more than 16 h")
    loose = uncovered(clock, marks, said)
    found = [*_measured(clock, said), *_estimated(clock, loose, said, own)]
    # The day of a moment takes long to tell: it is asked only of steps that were corrected.
    steps = {step for step, _ in said}
    rest = [m for m in loose if m.step not in steps or (m.step, day_of(m.at)) not in said]
    return _explained(_added(_put_right(found, said)), [m.worked.step for m in rest], own or {})


def recorded(
    clock: Sequence[ClockSpan], marks: Sequence[Marked], said: Mapping[tuple[str, str], timedelta]
) -> list[tuple[str, str]]:
    """The steps that can be corrected, each with its day, in order."""
    spans = {(span.step, day_of(span.begun)) for span in clock}
    return sorted(spans | {(m.step, day_of(m.at)) for m in uncovered(clock, marks, said)})


def day_of(at: datetime) -> str:
    """The local day: `2026-11-25`."""
    return at.astimezone().date().isoformat()


def _measured(
    clock: Sequence[ClockSpan], said: Mapping[tuple[str, str], timedelta]
) -> Iterable[WorkStretch]:
    """Where two overlap (several parts in one go) the time counts once."""
    busy_until: datetime | None = None
    for span in sorted(clock, key=_begun):
        worked = timedelta()
        if (span.step, day_of(span.begun)) not in said:
            begun = span.begun if busy_until is None else max(span.begun, busy_until)
            busy_until = max(begun, span.ended)
            worked = busy_until - begun
        yield WorkStretch(span.step, day_of(span.begun), worked, HowTimed.MEASURED, span.redo)


def _estimated(
    clock: Sequence[ClockSpan],
    loose: Sequence[Marked],
    said: Mapping[tuple[str, str], timedelta],
    own: Own | None,
) -> Iterable[WorkStretch]:
    """What no clock covers, `loose`, go by go. A go recorded after the clock was stopped lies
    partly under it: that part does not count again."""
    covers = _covers(clock, said)
    for go in _goes(loose, clock):
        last, length = go[-1], effort([m.worked for m in go], own) or timedelta()
        left = length - _overlap(last.at - length, last.at, covers)
        if left or (last.step, day_of(last.at)) in said:
            yield WorkStretch(last.step, day_of(last.at), left, HowTimed.ESTIMATED, last.redo)


def uncovered(
    clock: Sequence[ClockSpan], marks: Sequence[Marked], said: Mapping[tuple[str, str], timedelta]
) -> list[Marked]:
    """The marks that lie under no clock."""
    covers = _covers(clock, said)
    return [m for m in marks if not any(begun <= m.at <= ended for begun, ended in covers)]


def _covers(
    clock: Sequence[ClockSpan], said: Mapping[tuple[str, str], timedelta]
) -> list[tuple[datetime, datetime]]:
    """What the clock covers. A span that was corrected covers no more than its day: it was likely
    left open."""
    return [
        (
            s.begun,
            min(s.ended, _midnight(s.begun)) if (s.step, day_of(s.begun)) in said else s.ended,
        )
        for s in sorted(clock, key=_begun)
    ]


def _midnight(at: datetime) -> datetime:
    day = at.astimezone().date() + timedelta(days=1)
    return datetime.combine(day, time()).astimezone(at.tzinfo)


def _goes(marks: Sequence[Marked], clock: Sequence[ClockSpan]) -> Iterable[list[Marked]]:
    """Marks of one step made in one go; a clock that was started in between begins another."""
    open_: dict[tuple[Step, bool], list[Marked]] = {}
    for mark in sorted(marks, key=_at):
        of = (mark.worked.step, mark.redo)
        go = open_.get(of)
        if go and not _goes_on(go[-1].at, mark.at, clock):
            yield open_.pop(of)
        open_.setdefault(of, []).append(mark)
    yield from open_.values()


def _goes_on(last: datetime, at: datetime, clock: Sequence[ClockSpan]) -> bool:
    return at - last <= LONGEST_BREAK and not any(last < s.begun <= at for s in clock)


def _overlap(
    begun: datetime, ended: datetime, covers: Sequence[tuple[datetime, datetime]]
) -> timedelta:
    """How much of a time is covered; `covers` in the order in which they begin."""
    found, free = timedelta(), begun
    for start, end in covers:
        until = min(end, ended)
        if until > max(start, free):
            found += until - max(start, free)
            free = until
    return found


def _put_right(
    found: Sequence[WorkStretch], said: Mapping[tuple[str, str], timedelta]
) -> Iterable[WorkStretch]:
    """A corrected step of a day is one stretch of the length that was said."""
    used: set[tuple[str, str]] = set()
    for stretch in found:
        of = (stretch.step, stretch.day)
        if of not in said:
            yield stretch
        elif of not in used:
            used.add(of)
            yield replace(stretch, length=said[of], known=HowTimed.CORRECTED)


def _added(found: Iterable[WorkStretch]) -> HoursWorked:
    by: dict[str, dict[HowTimed, float]] = {}
    redo = 0.0
    for stretch in sorted(found, key=_day):
        worked = stretch.length / timedelta(hours=1)
        known = by.setdefault(stretch.step, {})
        known[stretch.known] = known.get(stretch.known, 0.0) + worked
        redo += worked if stretch.redo else 0.0
    how = tuple(word_of(k) for k in HowTimed if any(k in known for known in by.values()))
    return HoursWorked(by, redo, () if by else ("any record of work",), how)


def _explained(found: HoursWorked, steps: Sequence[Step], own: Own) -> HoursWorked:
    """Where the estimates are from, and of which steps recorded without a clock there is none."""
    said = {step.name: told_from(step, own) for step in dict.fromkeys(steps)}
    lacks = [f"how long it takes: {name}" for name, source in said.items() if not source]
    if steps:
        lacks.append(CLOCK)
    sources = (*found.sources, *filter(None, said.values()))
    return replace(found, lacks=(*found.lacks, *lacks), sources=sources)


def _begun(span: ClockSpan) -> tuple[datetime, datetime]:
    return span.begun, span.ended


def _at(mark: Marked) -> datetime:
    return mark.at


def _day(stretch: WorkStretch) -> str:
    return stretch.day


def _bad_span(span: ClockSpan, said: Mapping[tuple[str, str], timedelta]) -> Refused | None:
    if span.ended < span.begun:
        return wrong(span.step, "ends before it begins")
    if (span.step, day_of(span.begun)) not in said and span.ended - span.begun > LONGEST_SPAN:
        return wrong(span.step, "runs longer than 16 h: was it left open? Correct it")
    return None
