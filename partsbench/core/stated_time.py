"""Times as people state them: `14:20`, `yesterday 9:05`, `20 min ago`, `2026-11-25 14:20`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

_CLOCK = re.compile(
    r"(?:(?P<day>today|yesterday)\s+)?(?:at\s+)?(?P<hour>\d{1,2}):(?P<minute>\d{2})"
)
_AGO = re.compile(r"(?P<count>\d{1,4})\s*(?P<unit>min|minutes?|h|hours?|d|days?)\s+ago")
_ALLOWED_AHEAD = timedelta(seconds=1)


@dataclass(frozen=True, slots=True)
class TimeFault:
    """Why a stated time cannot be taken."""

    sentence: str


def parse_time(text: str, now: datetime, zone: tzinfo | None = None) -> datetime | TimeFault:
    """The moment that `text` states, aware; `now` is aware. A time still to come is refused.

    A clock time is of today in `zone`, by default the zone of the machine.
    """
    words = text.strip().lower()
    if words in ("", "now"):
        return now
    local = now.astimezone(zone)
    found = _clock(words, local, zone) or _ago(words, local) or _date(text.strip(), zone)
    if found is None:
        return TimeFault(
            f"“{text}” is no time; write 14:20, yesterday 14:20, 20 min ago or 2026-11-25 14:20."
        )
    if found > now + _ALLOWED_AHEAD:
        return TimeFault(f"{found:%H:%M} on {found:%d %B} is still to come; nothing was recorded.")
    return found


def _clock(words: str, local: datetime, zone: tzinfo | None) -> datetime | None:
    found = _CLOCK.fullmatch(words)
    if not found or int(found["hour"]) > 23 or int(found["minute"]) > 59:
        return None
    day = local - timedelta(days=1) if found["day"] == "yesterday" else local
    at = datetime(day.year, day.month, day.day, int(found["hour"]), int(found["minute"]))  # noqa: DTZ001
    return _in_zone(at, zone)


def _ago(words: str, local: datetime) -> datetime | None:
    found = _AGO.fullmatch(words)
    if not found:
        return None
    count = int(found["count"])
    spans = {"m": timedelta(minutes=count), "h": timedelta(hours=count), "d": timedelta(count)}
    return local - spans[found["unit"][0]]


def _date(text: str, zone: tzinfo | None) -> datetime | None:
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        return None
    return found if found.tzinfo else _in_zone(found, zone)


def _in_zone(naive: datetime, zone: tzinfo | None) -> datetime:
    """A clock time on the wall there; the machine's own offset of that very day when no zone."""
    return naive.replace(tzinfo=zone) if zone else naive.astimezone()
