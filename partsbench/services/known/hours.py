"""The hours of the shop, and until when a part is at an outside workshop."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from partsbench.core.finish import facts as rules
from partsbench.core.finish.hours import Hours, parse_span
from partsbench.services.shop import Shop
from partsbench.store import figures

WORK, QUIET = "work hours", "quiet hours"
"""The names of the two settings."""

MORNING = 8
"""O'clock; work begins then where the shop has not said when."""


def hours_of(shop: Shop) -> Hours:
    """The shop's hours as set; at any time where it has said nothing."""
    typed = figures.habits(shop.book)
    return Hours(parse_span(typed.get(WORK, "")), parse_span(typed.get(QUIET, "")))


def back_at(facts: Mapping[str, str]) -> datetime | None:
    """When a part comes back from outside: the morning of the day that was said."""
    day = rules.away_until(facts)
    if day is None:
        return None
    return datetime(day.year, day.month, day.day, MORNING).astimezone()


def now_words(hours: Hours, now: datetime) -> str:
    """What the hours say of this moment; "" within them."""
    if hours.work and hours.is_off(now):
        return f"Outside your hours, {hours.work}."
    if hours.quiet and hours.is_quiet(now):
        return f"Quiet hours, {hours.quiet}: no gun, no sander."
    return ""
