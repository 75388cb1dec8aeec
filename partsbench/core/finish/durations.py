"""Lengths of time as they are written in a table and said to a person."""

from __future__ import annotations

import re
from datetime import timedelta

_UNITS = {"min": 1, "h": 60, "d": 1440}
_PART = re.compile(r"(\d+(?:\.\d+)?)\s*(min|h|d)")
_WHOLE = re.compile(rf"\s*(?:{_PART.pattern}\s*)+")


def parse_duration(text: str) -> timedelta | None:
    """'10 min', '2 h', '1 d 12 h' as a length of time; None when it is not written like that."""
    if not _WHOLE.fullmatch(text):
        return None
    minutes = sum(float(n) * _UNITS[unit] for n, unit in _PART.findall(text))
    return timedelta(minutes=minutes)


def say_duration(length: timedelta) -> str:
    """'8 min', '3 h 10', '2 d 4 h': whole minutes, rounded up, so that no wait reads shorter."""
    minutes = -(-int(length.total_seconds()) // 60)
    if minutes < 60:
        return f"{minutes} min"
    hours, rest = divmod(minutes, 60)
    if hours < 48:
        return f"{hours} h {rest:02d}" if rest else f"{hours} h"
    days, hours = divmod(hours, 24)
    return f"{days} d {hours} h" if hours else f"{days} d"
