"""Hours at work: from started and ended work, from marks, and as corrected the same evening."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums import units
from partsbench.core.sums.hours import Hours, Span, hours
from partsbench.core.sums.refusal import Refusal
from partsbench.services.shop import Shop, writing
from partsbench.services.sums.ground import ground
from partsbench.services.sums.told import Told, once, told_of
from partsbench.store import figures, records
from partsbench.store.figures import Corrected
from partsbench.store.journal import change, time_text

LONGEST_STEP = 60
SHORTEST_H = 0.1
MARKS_SOURCE = "marks counted at the finish path's minutes a face (trade experience, from memory)"


@writing
def begin_work(shop: Shop, tag: str, step: str, *, redo: bool = False) -> Done | Refused:
    """Start the clock on a piece; what still ran on it ends now."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    called = " ".join(step.split())
    if not called or len(called) > LONGEST_STEP:
        return Refused(f"Say what work it is, in 1 to {LONGEST_STEP} characters.")
    now = shop.clock()
    sentence = f"{on.piece.codename}: began {called}"
    with change(shop.book, sentence, now, shop.who, tag) as entry:
        for work in figures.work(shop.book, on.key):
            if work.ended is None:
                entry.update("work", work.id, {"ended": time_text(max(now, work.begun))})
        entry.insert(
            "work",
            {"piece": on.key, "step": called, "begun": time_text(now), "redo": int(redo),
             "who": shop.who},
        )  # fmt: skip
    return Done(f"{sentence}.", tag)


@writing
def end_work(shop: Shop, tag: str) -> Done | Refused:
    """Stop the clock on a piece."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    running = [w for w in figures.work(shop.book, on.key) if w.ended is None]
    if not running:
        return Refused(f"No work runs on {on.piece.codename}.")
    now = shop.clock()
    sentence = f"{on.piece.codename}: ended {running[-1].step}"
    with change(shop.book, sentence, now, shop.who, tag) as entry:
        for work in running:
            entry.update("work", work.id, {"ended": time_text(max(now, work.begun))})
    return Done(f"{sentence}.", tag)


@writing
def correct_hours(
    shop: Shop, tag: str, step: str, minutes: str, day: date | None = None
) -> Done | Refused:
    """How long a step really took on one day (its latest, if none is given); empty: as recorded."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    named = " ".join(step.split())
    spans = _spans(shop, on.piece, on.key)
    days = [_day(s) for s in spans if s.step == named]
    if not days:
        known = ", ".join(sorted({s.step for s in spans})) or "none"
        return Refused(f"No work called “{step}” is recorded; there is {known}.")
    when = day.isoformat() if day else max(days)
    if when not in days:
        return Refused(f"No {named} is recorded on {when}.")
    row = {"piece": on.key, "step": named, "day": when}
    took = units.number(minutes, "minutes") if minutes.strip() else None
    if isinstance(took, Refusal):
        return Refused(took.sentence)
    if took is not None and took > 960:
        return Refused(f"minutes: {took:g} is more than 16 h in a day.")
    sentence = f"{on.piece.codename}: {named} on {when} took {minutes.strip() or 'as recorded'}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        if took is None:
            figures.drop(entry, "hours_corrected", row)
        else:
            figures.put(entry, "hours_corrected", row, {"minutes": took})
    return Done(f"{sentence} min." if took is not None else f"{sentence}.", tag)


def hours_in(shop: Shop, tag: str) -> Hours | Refused:
    """Hours at work on a piece: waiting does not count, overlaps count once."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    found = hours_of(shop, on.piece, on.key)
    return Refused(found.sentence) if isinstance(found, Refusal) else found


def hours_of(shop: Shop, piece: Piece, key: int) -> Hours | Refusal:
    """The same for a piece that is loaded already."""
    spans = _spans(shop, piece, key)
    worked = hours(_corrected(spans, figures.corrected(shop.book, key)))
    if isinstance(worked, Refusal):
        return worked
    from_marks = bool(records.marks(shop.book, key))
    lacks = ("when work began and ended: start and stop the clock",) if from_marks else ()
    sources = (*worked.sources, *((MARKS_SOURCE,) if from_marks else ()))
    return replace(worked, lacks=once(*worked.lacks, *lacks), sources=sources)


def running(shop: Shop, tag: str) -> str:
    """What work runs on a piece now; empty when none does."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return ""
    return next((w.step for w in figures.work(shop.book, on.key) if w.ended is None), "")


def spent_words(time: float) -> str:
    """`2.4 h`, and what is too short for that in minutes: `2 min`."""
    return f"{time:.1f} h" if time >= SHORTEST_H else f"{max(1, round(time * 60))} min"


def tell_hours(found: Hours) -> Told:
    rows = [
        (step, spent_words(time))
        for step, time in sorted(found.by_step.items(), key=_longest, reverse=True)
    ]
    data = {"hours": found.total, "redo": found.redo, "by_step": dict(found.by_step)}
    return told_of(found, head=("step", "hours"), rows=rows, data=data)


def _longest(row: tuple[str, float]) -> float:
    return row[1]


def _spans(shop: Shop, piece: Piece, key: int) -> list[Span]:
    now = shop.clock()
    clocked = [
        Span(w.step, w.begun, w.ended or max(now, w.begun), w.redo)
        for w in figures.work(shop.book, key)
    ]
    return [*clocked, *_from_marks(shop, piece, key)]


def _from_marks(shop: Shop, piece: Piece, key: int) -> Iterable[Span]:
    """Marks made in one go are one stretch that ended then: minutes a face × faces.

    A step done again on a face that had it is work done again.
    """
    paths = {(p.short, f.name): shop.path(f.path) for p in piece.parts for f in p.faces}
    batches: dict[tuple[str, datetime, bool], float] = {}
    had = Counter[tuple[str, str, str]]()
    for mark in records.marks(shop.book, key):
        if mark.kind != "done":
            continue
        path = paths.get((mark.part, mark.face))
        step = path.step(mark.step) if path else None
        again = had[mark.part, mark.face, mark.step] > 0
        had[mark.part, mark.face, mark.step] += 1
        if step and step.minutes_per_face:
            batch = (step.name, mark.at, again)
            batches[batch] = batches.get(batch, 0.0) + step.minutes_per_face
    for (name, at, again), minutes in batches.items():
        yield Span(name, at - timedelta(minutes=min(minutes, 900)), at, again)


def _day(span: Span) -> str:
    """The day on which a stretch began, local: `2026-11-25`."""
    return span.begun.astimezone().date().isoformat()


def _corrected(spans: Sequence[Span], corrections: Sequence[Corrected]) -> list[Span]:
    """A corrected step of a day is one stretch of the length that was said."""
    said = {(c.step, c.day): timedelta(minutes=c.minutes) for c in corrections}
    found: list[Span] = []
    used: set[tuple[str, str]] = set()
    for span in spans:
        of = (span.step, _day(span))
        if of not in said:
            found.append(span)
        elif of not in used:
            used.add(of)
            found.append(replace(span, ended=span.begun, corrected=said[of]))
    return found
