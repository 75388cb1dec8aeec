"""Hours at work: from started and ended work, from marks, and as corrected the same evening."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import partial

from partsbench.core.finish.effort import Own
from partsbench.core.key_words import word_of
from partsbench.core.naming import few
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.sums import units
from partsbench.core.sums.hours import (
    ClockSpan,
    HoursWorked,
    HowTimed,
    Marked,
    hours,
    recorded,
    uncovered,
)
from partsbench.services.known import work
from partsbench.services.rules.clocks import worked
from partsbench.services.shop import Shop, writing
from partsbench.services.sums.ground import ground
from partsbench.services.sums.told import Told, told_of
from partsbench.store import figures, records
from partsbench.store.journal import change, time_text

LONGEST_STEP = 60
SHORTEST_H = 0.1


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
        for past in figures.work(shop.book, on.key):
            if past.ended is None:
                entry.update("work", past.id, {"ended": time_text(max(now, past.begun))})
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
        for past in running:
            entry.update("work", past.id, {"ended": time_text(max(now, past.begun))})
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
    there = recorded(_clock(shop, on.key), _marks(shop, on.piece, on.key), _said(shop, on.key))
    steps = list(dict.fromkeys(s for s, _ in there))
    if named not in steps:
        named = next((s for s in steps if s.lower() == named.lower()), named)
    days = [day for s, day in there if s == named]
    if not days:
        known = ", ".join(steps) or "none"
        return Refused(f"No work called “{step}” is recorded; there is {known}.")
    when = day.isoformat() if day else max(days)
    if when not in days:
        return Refused(f"No {named} is recorded on {when}.")
    row = {"piece": on.key, "step": named, "day": when}
    took = units.number(minutes, "minutes") if minutes.strip() else None
    if isinstance(took, Refused):
        return took
    if took is not None and took > 960:
        return Refused(f"minutes: {took:g} is more than 16 h in a day.")
    told = minutes.strip() or "as recorded"
    sentence = f"{on.piece.codename}: {named} on {when} took {told}"
    with change(shop.book, sentence, shop.clock(), shop.who, tag) as entry:
        if took is None:
            figures.drop(entry, "hours_corrected", row)
        else:
            figures.put(entry, "hours_corrected", row, {"minutes": took})
    return Done(f"{sentence} min." if took is not None else f"{sentence}.", tag)


def hours_in(shop: Shop, tag: str) -> HoursWorked | Refused:
    """Hours at work on a piece, by the clock, as corrected, and estimated for the rest."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return on
    return hours_of(shop, on.piece, on.key)


def hours_of(
    shop: Shop, piece: Piece, key: int, pace: Callable[[datetime], Own] | None = None
) -> HoursWorked | Refused:
    """The same for a piece that is loaded already; `pace` tells the shop's own at a moment.

    The shop's own pace is that of when the last of what is estimated was recorded, so that the
    hours of a finished piece stay what they are.
    """
    pace = pace or partial(work.own_times, shop)
    clock, marks, said = _clock(shop, key), _marks(shop, piece, key), _said(shop, key)
    rest = uncovered(clock, marks, said)
    own = pace(max(m.at for m in rest)) if rest else {}
    found = hours(clock, marks, said, own)
    return found if isinstance(found, Refused) else replace(found, sources=few(found.sources))


def running(shop: Shop, tag: str) -> str:
    """What work runs on a piece now; empty when none does."""
    on = ground(shop, tag)
    if isinstance(on, Refused):
        return ""
    return next((w.step for w in figures.work(shop.book, on.key) if w.ended is None), "")


def spent_words(time: float) -> str:
    """`2.4 h`, and what is too short for that in minutes: `2 min`."""
    return f"{time:.1f} h" if time >= SHORTEST_H else f"{max(1, round(time * 60))} min"


def tell_hours(found: HoursWorked) -> Told:
    return told_of(found, head=("step", "hours", "known"), rows=rows_of(found), data=data_of(found))


def rows_of(found: HoursWorked) -> list[tuple[str, str, str]]:
    """Each step, the longest first: how long, and how that is known."""
    steps = sorted(found.by, key=lambda step: -found.by_step[step])
    return [(s, spent_words(h), word_of(known)) for s in steps for known, h in found.by[s].items()]


def data_of(found: HoursWorked) -> dict[str, object]:
    """The hours by name, and how they are known."""
    return {
        "hours": found.total,
        "redo": found.redo,
        "by_step": dict(found.by_step),
        **{known.name.lower(): found.known(known) for known in HowTimed},
        "steps": {s: {k.name.lower(): h for k, h in by.items()} for s, by in found.by.items()},
    }


def _clock(shop: Shop, key: int) -> list[ClockSpan]:
    now = shop.clock()
    return [
        ClockSpan(w.step, w.begun, w.ended or max(now, w.begun), w.redo)
        for w in figures.work(shop.book, key)
    ]


def _said(shop: Shop, key: int) -> dict[tuple[str, str], timedelta]:
    """How long a step was said to have taken on a day."""
    rows = figures.corrected(shop.book, key)
    return {(row.step, row.day): timedelta(minutes=row.minutes) for row in rows}


def _marks(shop: Shop, piece: Piece, key: int) -> list[Marked]:
    """Every step done. One done again on a face that had it is work done again."""
    faces = {(p.short, f.name): (p, shop.path(f.path)) for p in piece.parts for f in p.faces}
    found: list[Marked] = []
    had = set[tuple[str, str, str]]()
    for mark in records.marks(shop.book, key):
        part, path = faces.get((mark.part, mark.face), (None, None))
        step = path.step(mark.step) if path and mark.kind == "done" else None
        if part and step:
            of = (mark.part, mark.face, mark.step)
            found.append(Marked(worked(piece, step, part, mark.face), mark.at, of in had))
            had.add(of)
    return found
