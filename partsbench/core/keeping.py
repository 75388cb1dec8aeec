"""Which copies of a book are kept: many of late, fewer of long ago."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Final

ALL_FOR: Final = timedelta(days=7)
WEEKLY_FOR: Final = timedelta(weeks=9)
MONTHLY_FOR: Final = timedelta(days=731)
ALWAYS: Final = 3
COPY_NAME: Final = re.compile(r"(.+)-([0-9a-f]{6})-(\d{4}-\d\d-\d\dT\d{6}Z)-([0-9a-f]{6})")
"""Of a copy that was made by itself: its book, that one's first sum, when, and the latest sum."""
RULE: Final = (
    "All copies of the last 7 days are kept, then the last one of each week for two months, then "
    "the last one of each month for two years; the latest three always."
)


def to_drop(made: Iterable[datetime], now: datetime) -> list[datetime]:
    """The times of the copies that may go, the oldest first. `made` and `now` are aware.

    None go while the clock is doubtful, which it is when a copy is of a time to come.
    """
    newest_first = sorted(made, reverse=True)
    if newest_first and newest_first[0] > now:
        return []
    drop: list[datetime] = []
    had: set[tuple[str, int, int]] = set()
    for place, at in enumerate(newest_first):
        age = now - at
        if age < ALL_FOR:
            continue
        bucket = _week(at) if age < WEEKLY_FOR else _month(at)
        if place >= ALWAYS and (bucket in had or age > MONTHLY_FOR):
            drop.append(at)
        had.add(bucket)
    return drop[::-1]


def _week(at: datetime) -> tuple[str, int, int]:
    year, week, _ = at.isocalendar()
    return "week", year, week


def _month(at: datetime) -> tuple[str, int, int]:
    return "month", at.year, at.month
