"""Times as people state them: `14:20`, `yesterday 9:05`, `20 min ago`, `2026-11-25 14:20`."""

from __future__ import annotations

import re
from datetime import datetime, timedelta, tzinfo

from partsbench.core.outcomes import Refused
from partsbench.core.shown_times import both, came_twice, full_date, never_came

_CLOCK = re.compile(
    r"(?:(?P<day>today|yesterday)\s+)?(?:at\s+)?(?P<hour>\d{1,2}):(?P<minute>\d{2})"
)
_AGO = re.compile(r"(?P<count>\d{1,4})\s*(?P<unit>min|minutes?|h|hours?|d|days?)\s+ago")
_ALLOWED_AHEAD = timedelta(seconds=1)
_FIRST_YEAR, _LAST_YEAR = 1900, 9000


def parse_time(text: str, now: datetime, zone: tzinfo | None = None) -> datetime | Refused:
    """The moment that `text` states, aware; `now` is aware. A time still to come is refused.

    A clock time is of today in `zone`, by default the zone of the machine.
    """
    words = text.strip().lower()
    if words in ("", "now"):
        return now
    local = now.astimezone(zone)
    words, which = _which_of_two(words)
    written = _clock(words, local) or _date(words)
    on_wall = written is not None and written.tzinfo is None
    found = _in_zone(written, zone, which) if written and on_wall else written or _ago(words, local)
    if isinstance(found, Refused):
        return found
    if found is None:
        return Refused(
            f"“{text}” is no time; write 14:20, yesterday 14:20, 20 min ago or 2026-11-25 14:20."
        )
    if found > now + _ALLOWED_AHEAD:
        late = _named(found.astimezone(zone))
        return Refused(f"{late} is still to come; nothing was recorded.")
    return found


def _which_of_two(words: str) -> tuple[str, str]:
    """`02:30 second` as the time and which of two it is."""
    found = re.fullmatch(r"(.+?)\s+\(?(first|second)\)?", words)
    return (found[1], found[2]) if found else (words, "")


def _clock(words: str, local: datetime) -> datetime | None:
    """A time of day on the wall, as yet without a zone."""
    found = _CLOCK.fullmatch(words)
    if not found or int(found["hour"]) > 23 or int(found["minute"]) > 59:
        return None
    day = local - timedelta(days=1) if found["day"] == "yesterday" else local
    return datetime(day.year, day.month, day.day, int(found["hour"]), int(found["minute"]))  # noqa: DTZ001


def _ago(words: str, local: datetime) -> datetime | None:
    found = _AGO.fullmatch(words)
    if not found:
        return None
    count = int(found["count"])
    spans = {"m": timedelta(minutes=count), "h": timedelta(hours=count), "d": timedelta(count)}
    return local - spans[found["unit"][0]]


def _date(words: str) -> datetime | None:
    try:
        return datetime.fromisoformat(words.upper())
    except ValueError:
        return None


def _named(local: datetime) -> str:
    """`14:20 on 25 November 2026`, as the clock on the wall shows it."""
    return f"{local:%H:%M} on {full_date(local)}"


def _in_zone(naive: datetime, zone: tzinfo | None, which: str) -> datetime | Refused:
    """A clock time on the wall there; the machine's own offset of that very day when no zone.

    Once a year the wall shows an hour twice, and once a year it leaves one out.
    """
    said = _named(naive)
    if not _FIRST_YEAR <= naive.year <= _LAST_YEAR:
        return Refused(f"{said} is no time of this work.")
    first, second = both(naive, zone)
    if never_came(naive, zone):
        return Refused(f"{said} never was: the clocks were put forward over it.")
    if came_twice(naive, zone) and not which:
        return Refused(
            f"{said} was there twice: the clocks were put back. Write “{naive:%H:%M} first” or "
            f"“{naive:%H:%M} second”."
        )
    return second if which == "second" else first
