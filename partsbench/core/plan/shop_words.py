"""What a shop says of itself, as it is typed: its days, its helpers, its rooms."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, time, timedelta

from partsbench.core.finish.hours import DaySpan, parse_span
from partsbench.core.finish.steps import Operation
from partsbench.core.plan.making import DUST, FUMES, SPRAY

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
USE_WORDS = {"sand": DUST, "strip": FUMES, "spray": SPRAY}
"""How the uses of a room are called when they are typed."""

SPAN = r"\d{1,2}(?:[:.]\d{2})?\s*(?:to|until|-|–)\s*\d{1,2}(?:[:.]\d{2})?"
_HELPER = re.compile(r"(?P<name>[^:]+):\s*(?P<times>.+?)(?:\s+only\s+(?P<only>.+))?")
_TIME = re.compile(rf"(?P<days>[a-z ,–-]+?)\s+(?P<span>{SPAN})")


@dataclass(frozen=True, slots=True)
class HelperHours:
    """When a helper is here: on these days of the week (0: Monday), in this span, and for which
    work only; () for any."""

    name: str
    times: tuple[tuple[frozenset[int], DaySpan], ...]
    only: tuple[str, ...] = ()


def parse_days(text: str) -> frozenset[int] | None:
    """`Mon to Sat`, `Sat`, `Mon, Wed, Fri`; None when it is not written like that."""
    found: set[int] = set()
    for part in re.split(r"\s*,\s*|\s+and\s+", text.strip().lower()):
        ends = re.split(r"\s*(?:to|-|–)\s*", part)
        numbers = [_day(end) for end in ends]
        if not 1 <= len(numbers) <= 2 or any(n is None for n in numbers):
            return None
        first, last = numbers[0], numbers[-1]
        assert first is not None
        assert last is not None
        found |= {(first + n) % 7 for n in range((last - first) % 7 + 1)}
    return frozenset(found) or None


def _day(text: str) -> int | None:
    word = text.strip()[:3]
    whole = text.strip().isalpha() and len(text.strip()) >= len(word) == 3
    return DAYS.index(word) if whole and word in DAYS else None


def parse_helpers(text: str) -> tuple[HelperHours, ...] | str:
    """`Wren: Sat 9:00 to 13:00, Wed 14-18 only sand, wash; Rook: Mon to Fri 17-19`; a sentence
    that says what is wrong."""
    found = []
    for part in text.split(";"):
        helper = parse_helper(part)
        if isinstance(helper, str):
            return helper
        found.append(helper)
    return tuple(found)


def parse_helper(text: str) -> HelperHours | str:
    """One of them."""
    match = _HELPER.fullmatch(text.strip())
    if match is None:
        return f"“{text.strip()}” is no helper with hours, as in Wren: Sat 9:00 to 13:00."
    times = []
    rest = match["times"].strip().lower()
    while rest:
        time = _TIME.match(rest)
        days = parse_days(time["days"].strip(" ,")) if time else None
        span = parse_span(time["span"]) if time else None
        if time is None or days is None or span is None:
            return f"“{rest}” is no day with hours, as in Sat 9:00 to 13:00."
        times.append((days, span))
        rest = rest[time.end() :].lstrip(" ,")
    only = tuple(w.strip().lower() for w in (match["only"] or "").split(",") if w.strip())
    wrong = [word for word in only if word not in set(Operation)]
    if wrong:
        return f"“{wrong[0]}” is no work; there are {', '.join(Operation)}."
    return HelperHours(match["name"].strip(), tuple(times), only)


def parse_rooms(text: str) -> dict[str, str] | str:
    """`sand: shed, spray: booth` as use → room; what is not named is done in the shop."""
    rooms = dict.fromkeys(USE_WORDS.values(), "shop")
    for part in text.split(","):
        word, colon, room = part.partition(":")
        use = USE_WORDS.get(word.strip().lower())
        if use is None or not colon or not room.strip():
            return f"“{part.strip()}” names no room, as in sand: shed, spray: booth."
        rooms[use] = room.strip()
    return rooms


_MOMENT = re.compile(
    r"(?P<day>\d{4}-\d{2}-\d{2}|[a-z]+)(?:\s+(?P<hour>\d{1,2})[:.](?P<minute>\d{2}))?"
)


def parse_day(text: str, today: date) -> tuple[date, time | None] | None:
    """`2026-12-04`, `Fri`, `tomorrow 16:00`: the day that comes, and the time if one was said; None
    when it is not written like that. A day of the week is the next one, never today."""
    match = _MOMENT.fullmatch(text.strip().lower())
    if match is None:
        return None
    word = match["day"]
    number = _day(word)
    try:
        if word in ("today", "tonight"):
            day = today
        elif word == "tomorrow":
            day = today + timedelta(days=1)
        elif number is not None:
            day = today + timedelta(days=(number - today.weekday() - 1) % 7 + 1)
        else:
            day = date.fromisoformat(word)
        at = time(int(match["hour"]), int(match["minute"])) if match["hour"] else None
    except ValueError:
        return None
    return day, at
