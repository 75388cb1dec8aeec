"""The plan for other programs: a calendar (iCalendar, RFC 5545) and a table (CSV)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from partsbench.core.plan.words import when
from partsbench.services.plan.plans import PlanShown

HEAD = ("start", "end", "tag", "piece", "work", "minutes", "hands", "load")

BEFORE_WORK = timedelta(minutes=10)
BEFORE_CLIFF = timedelta(minutes=30)
"""So long before it a calendar rings."""


@dataclass(frozen=True, slots=True)
class CalendarEntry:
    """Hands-on work or the end of a window, as it stands in a calendar."""

    key: str
    title: str
    start: datetime
    end: datetime
    about: str
    alarm: timedelta


def entries(shown: PlanShown) -> list[CalendarEntry]:
    """Every go of work (a load of the gun is one), and every window that closes behind it."""
    return sorted([*_work(shown), *_cliffs(shown)], key=lambda e: (e.start, e.key))


def calendar(shown: PlanShown) -> bytes:
    """The plan as a calendar file. Times are UTC, so that no clock change moves them."""
    from icalendar import Alarm, Calendar, Event

    found = Calendar()
    found.add("prodid", "-//partsbench//plan of the shop//EN")
    found.add("version", "2.0")
    for entry in entries(shown):
        event = Event()
        event.add("uid", f"{_plain(entry.key)}@partsbench")
        event.add("dtstamp", shown.at)
        event.add("dtstart", entry.start)
        event.add("dtend", entry.end)
        event.add("summary", entry.title)
        if entry.about:
            event.add("description", entry.about)
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", entry.title)
        alarm.add("trigger", -entry.alarm)
        event.add_component(alarm)
        found.add_component(event)
    return bytes(found.to_ical())


def table(shown: PlanShown) -> str:
    """The plan as CSV, the soonest first; times are the shop's own, with their offset."""
    text = io.StringIO()
    rows = csv.writer(text)
    rows.writerow(HEAD)
    stints = {s.key: s for s in shown.shop.stints}
    for p in shown.best.plan.placed:
        s = stints[p.stint]
        rows.writerow(
            (
                when(shown.at, p.start).astimezone().isoformat(timespec="minutes"),
                when(shown.at, p.end).astimezone().isoformat(timespec="minutes"),
                s.piece,
                shown.shop.title(s.piece),
                s.name,
                s.minutes,
                " ".join(p.workers),
                p.load or "",
            )
        )
    return text.getvalue()


def gun_loads(shown: PlanShown) -> list[tuple[list[str], int, int]]:
    """Each load of the gun: its stints, from the set-up until the gun is clean, in minutes."""
    gun, at = shown.shop.gun, shown.best.plan.at()
    loads: dict[int, list[str]] = {}
    for p in shown.best.plan.placed:
        if p.load:
            loads.setdefault(p.load, []).append(p.stint)
    return [
        (
            keys,
            min(at[k].start for k in keys) - gun.set_up,
            max(at[k].end for k in keys) + gun.clean,
        )
        for keys in loads.values()
    ]


def _work(shown: PlanShown) -> Iterator[CalendarEntry]:
    stints = {s.key: s for s in shown.shop.stints}
    gun = shown.shop.gun
    for p in shown.best.plan.placed:
        if not p.load:
            s = stints[p.stint]
            start, end = when(shown.at, p.start), when(shown.at, p.end)
            yield CalendarEntry(p.stint, s.name, start, end, ", ".join(p.workers), BEFORE_WORK)
    for keys, begin, clean in gun_loads(shown):
        start, end = when(shown.at, begin), when(shown.at, clean)
        names = [stints[k].name for k in keys]
        about = f"Set up {gun.set_up} min, clean {gun.clean} min. {'; '.join(names)}"
        title = names[0] if len(names) == 1 else f"Load: {names[0]} and {len(names) - 1} more"
        yield CalendarEntry(keys[0], title, start, end, about, BEFORE_WORK)


def _cliffs(shown: PlanShown) -> Iterator[CalendarEntry]:
    """When a window closes: the latest start of what must follow."""
    stints = {s.key: s for s in shown.shop.stints}
    at = shown.best.plan.at()
    for lag in shown.shop.lags:
        if lag.most is not None:
            closes = when(shown.at, at[lag.before].end + lag.most)
            yield _cliff(lag.after, stints[lag.after].name, closes, lag.why_most)
    for s in shown.shop.stints:
        if s.by is not None:
            yield _cliff(s.key, s.name, when(shown.at, s.by), s.why_by)


def _cliff(key: str, name: str, closes: datetime, why: str) -> CalendarEntry:
    return CalendarEntry(f"{key}|by", f"Last start: {name}", closes, closes, why, BEFORE_CLIFF)


def _plain(key: str) -> str:
    return "".join(c if c.isalnum() else "-" for c in key)
