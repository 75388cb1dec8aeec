"""The trade's tables from parsed TOML: each figure with its source and status.

Bad data is refused by key and reason; the file is the shop's to edit, so it is no exception.
Inside a parser the first fault unwinds to `_refusing`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from functools import wraps
from math import isfinite
from typing import ParamSpec, TypeVar

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import no_finite_number
from partsbench.core.sources import Status
from partsbench.core.sums.climate import Limits
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.film import Coating, Transfer
from partsbench.core.sums.fit import Play
from partsbench.core.sums.masking import Laps
from partsbench.core.sums.papers import Grit
from partsbench.core.sums.refusal import wrong
from partsbench.core.sums.screws import Thread
from partsbench.core.sums.spacings import Spacing
from partsbench.core.sums.tipover import Scope
from partsbench.core.sums.wood import Wood

P = ParamSpec("P")
T = TypeVar("T")
K = TypeVar("K")
Toml = Mapping[str, object]


class _FaultError(Exception):
    """One fault in a table, on its way to the caller as a value."""

    def __init__(self, key: str, why: str) -> None:
        super().__init__(key, why)
        self.refusal = wrong(key, why)


def _refusing(parse: Callable[P, T]) -> Callable[P, T | Refused]:
    @wraps(parse)
    def parsed(*args: P.args, **kwargs: P.kwargs) -> T | Refused:
        try:
            return parse(*args, **kwargs)
        except _FaultError as fault:
            return fault.refusal

    return parsed


@_refusing
def woods(data: Toml) -> dict[str, Wood]:
    """`woods.toml`: each wood by its key, and the boards made of wood."""
    cite = _sources(data)
    found = [
        Wood(
            _text(row, at, "key"),
            _text(row, at, "name"),
            _figure(row, at, "radial", cite, 0, 0.01),
            _figure(row, at, "tangential", cite, 0, 0.01),
            _figure(row, at, "moves_below", cite, 10, 40),
            _maybe(row, at, "shrinkage_radial", cite, 0, 30),
            _maybe(row, at, "shrinkage_tangential", cite, 0, 30),
        )
        for at, row in _rows(data, "wood")
    ]
    for at, row in _rows(data, "board") if "board" in data else ():
        moves = _figure(row, at, "moves", cite, 0, 0.01)
        found.append(Wood(_text(row, at, "key"), _text(row, at, "name"), moves, moves, board=True))
    return _by_key([(wood.key, wood) for wood in found], "wood")


@_refusing
def regions(data: Toml) -> dict[str, tuple[str, Figure]]:
    """`woods.toml`: average indoor moisture of wood by region, name and %."""
    cite = _sources(data)
    return _by_key(
        [
            (
                _text(row, at, "key"),
                (_text(row, at, "name"), _figure(row, at, "moisture", cite, 0, 30)),
            )
            for at, row in _rows(data, "region")
        ],
        "region",
    )


@_refusing
def figure(data: Toml, table: str, name: str) -> Figure:
    """One figure of a table: `figure(woods, "start", "moisture")`."""
    return _figure(_table(data, table), table, name, _sources(data), 0, 1e6)


@_refusing
def span(data: Toml, table: str, name: str) -> tuple[Figure, Figure]:
    """The low and the high end of a figure that is given as a range."""
    low, high = _band(_table(data, table), table, name, _sources(data), 1e6)
    if low is None or high is None:
        raise _FaultError(f"{table}.{name}", "is missing")
    return low, high


@_refusing
def coatings(data: Toml) -> dict[str, Coating]:
    """`coatings.toml`: each class by its key."""
    cite = _sources(data)
    found = []
    for at, row in _rows(data, "coating"):
        low, high = _band(row, at, "solids", cite, 100)
        if low is None and not ("wet" in row and "dry" in row):
            raise _FaultError(f"{at}.solids", "is missing, and wet and dry film are not both given")
        found.append(
            Coating(
                _text(row, at, "key"),
                _text(row, at, "name"),
                low,
                high,
                _maybe(row, at, "wet", cite, 0, 2000),
                _maybe(row, at, "dry", cite, 0, 2000),
            )
        )
    return _by_key([(coating.key, coating) for coating in found], "coating")


@_refusing
def transfers(data: Toml) -> dict[str, Transfer]:
    """`transfer.toml`: each tool by its key."""
    cite = _sources(data)
    found = [
        Transfer(
            _text(row, at, "key"),
            _text(row, at, "name"),
            _figure(row, at, "share", cite, 0, 100),
            _text(row, at, "why"),
            *_band(row, at, "band", cite, 100),
        )
        for at, row in _rows(data, "tool")
    ]
    return _by_key([(tool.key, tool) for tool in found], "tool")


@_refusing
def grits(data: Toml) -> dict[tuple[str, int], Grit]:
    """`grits.toml`: each paper by system and number."""
    cite = _sources(data)
    found = [
        Grit(
            _text(row, at, "system"),
            int(_number(row, at, "number", 1, 10_000)),
            _figure(row, at, "micron", cite, 0, 3000),
        )
        for at, row in _rows(data, "grit")
    ]
    return _by_key([((grit.system, grit.number), grit) for grit in found], "grit")


@_refusing
def spacings(data: Toml) -> tuple[Spacing, ...]:
    """`pulls.toml`: the standard hole spacings."""
    cite = _sources(data)
    return tuple(
        Spacing(_text(row, at, "name"), _figure(row, at, "mm", cite, 0, 1000))
        for at, row in _rows(data, "spacing")
    )


@_refusing
def threads(data: Toml) -> dict[str, Thread]:
    """`pulls.toml`: the threads by name, with the lengths they are sold in."""
    cite = _sources(data)
    found = []
    for at, row in _rows(data, "thread"):
        lengths = row.get("lengths")
        if not isinstance(lengths, list) or not lengths:
            raise _FaultError(f"{at}.lengths", "is no list of lengths")
        each = {f"{at}.lengths {i}": {"mm": mm} for i, mm in enumerate(lengths, 1)}
        sizes = tuple(_number(one, where, "mm", 0, 500) for where, one in each.items())
        name = _text(row, at, "name")
        origin = {end: row.get(f"lengths_{end}") for end in ("source", "status")}
        sold = Figure(sizes[0], *_origin(origin, f"{at}.lengths", cite)).cited
        found.append((name, Thread(name, _figure(row, at, "diameter", cite, 0, 20), sizes, sold)))
    return _by_key(found, "thread")


@_refusing
def tipover_scope(data: Toml) -> Scope:
    """`tipover.toml`: the three thresholds."""
    row, cite = _table(data, "scope"), _sources(data)
    return Scope(
        _figure(row, "scope", "height_mm", cite, 0, 5000),
        _figure(row, "scope", "mass_kg", cite, 0, 1000),
        _figure(row, "scope", "volume_dm3", cite, 0, 10_000),
        _figure(row, "scope", "shelf_share", cite, 0, 1),
        _figure(row, "scope", "drawer_inset_mm", cite, 0, 100, zero=True),
    )


@_refusing
def climate_limits(data: Toml) -> Limits:
    """`climate.toml`: limits while coating, and the air that labels are written for."""
    row, label, cite = _table(data, "limits"), _table(data, "label"), _sources(data)
    return Limits(
        _figure(row, "limits", "over_dew_point_c", cite, 0, 30),
        _figure(row, "limits", "humidity_most", cite, 0, 100),
        _figure(row, "limits", "water_borne_least_c", cite, -30, 50),
        _figure(row, "limits", "oil_least_c", cite, -30, 50),
        _figure(label, "label", "temperature_c", cite, -30, 60),
        _figure(label, "label", "humidity", cite, 0, 100),
    )


@_refusing
def play(data: Toml) -> Play:
    """`fit.toml`: the play a drawer wants, mm."""
    row, cite = _table(data, "play"), _sources(data)
    side = _figure(row, "play", "side", cite, 0, 20)
    return Play(side, _figure(row, "play", "top", cite, 0, 20))


@_refusing
def laps(data: Toml) -> Laps:
    """`masking.toml`: allowances of tape and paper, mm."""
    row, cite = _table(data, "rules"), _sources(data)
    return Laps(
        _figure(row, "rules", "lap", cite, 0, 500, zero=True),
        _figure(row, "rules", "turn_in", cite, 0, 500, zero=True),
    )


def _sources(data: Toml) -> Mapping[str, str]:
    table = _table(data, "sources")
    return {name: _text(table, "sources", name) for name in table}


def _table(data: Toml, name: str) -> Toml:
    found = data.get(name)
    if not isinstance(found, dict):
        raise _FaultError(name, "is missing" if found is None else "is no table")
    return found


def _rows(data: Toml, name: str) -> list[tuple[str, Toml]]:
    """The entries of a list of tables, each with the words that find it in the file."""
    found = data.get(name)
    if not isinstance(found, list) or not found:
        raise _FaultError(name, "has no entries")
    rows: list[tuple[str, Toml]] = []
    for count, row in enumerate(found, 1):
        if not isinstance(row, dict):
            raise _FaultError(f"{name} {count}", "is no table")
        rows.append((f"{name} {row.get('key') or row.get('name') or count}", row))
    return rows


def _text(row: Toml, at: str, name: str) -> str:
    value = row.get(name)
    if not isinstance(value, str) or not value.strip():
        raise _FaultError(f"{at}.{name}", "is missing" if value is None else "is no text")
    return value


def _number(
    row: Toml, at: str, name: str, above: float, most: float, *, zero: bool = False
) -> float:
    value = row.get(name)
    if value is None:
        raise _FaultError(f"{at}.{name}", "is missing")
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not isfinite(value):
        raise _FaultError(f"{at}.{name}", no_finite_number(repr(value)))
    if not (above < value <= most or (zero and value == 0)):
        raise _FaultError(f"{at}.{name}", f"{value:g} is not over {above:g} and up to {most:g}")
    return float(value)


def _figure(
    row: Toml,
    at: str,
    name: str,
    cite: Mapping[str, str],
    above: float,
    most: float,
    *,
    zero: bool = False,
) -> Figure:
    entry = row.get(name)
    where = f"{at}.{name}"
    if not isinstance(entry, dict):
        why = "is missing" if entry is None else "needs value, source and status"
        raise _FaultError(where, why)
    source, status = _origin(entry, where, cite)
    return Figure(_number(entry, where, "value", above, most, zero=zero), source, status)


def _maybe(
    row: Toml, at: str, name: str, cite: Mapping[str, str], above: float, most: float
) -> Figure | None:
    return _figure(row, at, name, cite, above, most) if name in row else None


def _band(
    row: Toml, at: str, name: str, cite: Mapping[str, str], most: float
) -> tuple[Figure | None, Figure | None]:
    """A `low` and a `high` with one source; None twice when the entry is left out."""
    entry = row.get(name)
    if entry is None:
        return None, None
    where = f"{at}.{name}"
    if not isinstance(entry, dict):
        raise _FaultError(where, "needs low, high, source and status")
    source, status = _origin(entry, where, cite)
    low, high = (_number(entry, where, end, 0, most) for end in ("low", "high"))
    if low > high:
        raise _FaultError(where, f"low {low:g} is over high {high:g}")
    return Figure(low, source, status), Figure(high, source, status)


def _origin(entry: Toml, where: str, cite: Mapping[str, str]) -> tuple[str, Status]:
    name = _text(entry, where, "source")
    if name not in cite:
        raise _FaultError(f"{where}.source", f"{name!r} is not among the sources")
    status = _text(entry, where, "status")
    if status not in set(Status):
        raise _FaultError(f"{where}.status", f"{status!r} is none of {', '.join(Status)}")
    return cite[name], Status(status)


def _by_key(pairs: list[tuple[K, T]], name: str) -> dict[K, T]:
    for key, count in Counter(key for key, _ in pairs).items():
        if count > 1:
            raise _FaultError(f"{name} {key}", "stands there twice")
    return dict(pairs)
