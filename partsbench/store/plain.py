"""What an export may hold: plain values of a size that a book takes, and times with their zone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from math import isfinite
from typing import Any

from partsbench.core.piece.codes import HIGHEST_NUMBER, Family
from partsbench.core.said_often import no_number

LARGEST = 2**53
"""Whole numbers beyond are no counts, and not every program reads them alike."""
LONGEST_TEXT = 100_000
"""Characters of one value; the text of a finish path is the longest there is."""
FIRST_YEAR, LAST_YEAR = 1970, 2200
_HOMES = frozenset({"home", "home_number"})
_MOMENTS = frozenset({"at", "begun", "ended"})


def fault_of(doc: Any) -> str | None:
    """The first value that cannot be, and where it stands: `parts 2, marks 1, at: …`."""
    return next(_faults(doc, ""), None)


def _faults(value: Any, where: str) -> Iterator[str]:
    if isinstance(value, dict):
        yield from _of_thing(value, where)
        for key, inner in value.items():
            yield from _at_key(key, inner, f"{where}, {key}" if where else key)
    elif isinstance(value, list):
        for place, inner in enumerate(value, 1):
            yield from _faults(inner, f"{where} {place}")
    else:
        why = _wrong(value)
        if why:
            yield f"{where}: {why}"


def _of_thing(row: dict[str, Any], where: str) -> Iterator[str]:
    """A row that names a part or home by family and number names one that there can be."""
    family = row.get("family")
    if "family" not in row or family is None:
        return
    if not isinstance(family, str) or family not in set(Family):
        yield f"{where}: {str(family)[:30]} is no family"
    number = row.get("number", row.get("part"))
    if not isinstance(number, int) or not 1 <= number <= HIGHEST_NUMBER:
        yield f"{where}: {str(number)[:30]} is no number of a part"


def _at_key(key: str, value: Any, where: str) -> Iterator[str]:
    moment = key in _MOMENTS or key.endswith("_at")
    if _wrong(key):
        yield f"a name in it {_wrong(key)}"
    elif moment and value is not None and not is_moment(value):
        yield f"{where}: {str(value)[:30]} is no time with its zone"
    elif key in _HOMES and not _is_home(value):
        yield f"{where}: {str(value)[:30]} is no number of a home"
    elif key == "day" and not is_day(value):
        yield f"{where}: {str(value)[:30]} is no day"
    elif not moment:
        yield from _faults(value, where)


def _wrong(value: Any) -> str | None:
    if isinstance(value, str):
        if len(value) > LONGEST_TEXT:
            return f"holds {len(value)} characters, more than {LONGEST_TEXT}"
        if any("\ud800" <= c <= "\udfff" for c in value):
            return "holds a character that is none"
        return None
    if isinstance(value, bool) or value is None:
        return None
    if isinstance(value, int):
        return None if abs(value) <= LARGEST else "is too large a number"
    return None if isfinite(value) else no_number(value)


def _is_home(value: Any) -> bool:
    """Zero stands for none."""
    return isinstance(value, int) and 0 <= value <= HIGHEST_NUMBER


def is_moment(value: Any) -> bool:
    try:
        at = datetime.fromisoformat(value)
    except (TypeError, ValueError):
        return False
    return at.tzinfo is not None and FIRST_YEAR <= at.year <= LAST_YEAR


def is_day(value: Any) -> bool:
    try:
        return FIRST_YEAR <= date.fromisoformat(value).year <= LAST_YEAR
    except (TypeError, ValueError):
        return False
