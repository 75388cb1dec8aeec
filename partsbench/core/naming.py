"""Many names in one line: those in a row drawn together, the first ones of too many."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from partsbench.core.piece.codes import parse_short, short_number
from partsbench.core.piece.spot import Spot
from partsbench.core.wording import listed

LEAST_RUN = 3
MOST = 8
"""So many names stand in a sentence."""
MOST_SPREAD = 400
_RUN = re.compile(
    r"(?P<family>[a-z])(?P<first>\d{1,3})\s*[-–]\s*(?P=family)?(?P<last>\d{1,3})(?P<rest>\s.+)?",
    re.IGNORECASE,
)
ALL = 10_000
"""For what is kept or printed: there every name counts."""


def few(texts: Sequence[str], most: int = 6) -> tuple[str, ...]:
    """The first ones, and how many more there are; a single one more is told itself."""
    more = len(texts) - most
    return (*texts[:most], f"and {more} more") if more > 1 else tuple(texts)


def runs(names: Iterable[str | Spot]) -> list[str]:
    """Numbers that follow one another drawn together: `P1–P4`, `P7`; all else stays as it is.

    The face has to be the same: `D1–D3 front`.
    """
    return [_told(run) for run in _runs(names)]


def together(names: Iterable[str | Spot], most: int = MOST) -> str:
    """`D1–D60, L2`, `D1, D3, … and 4 more`: names for a sentence; with `ALL` none is left out."""
    found = _runs(names)
    told, rest = found, 0
    if len(found) > most:
        told, rest = found[:most], sum(len(run) for run in found[most:])
    if rest == 1:
        told, rest = found, 0
    first = listed(map(_told, told))
    return f"{first} and {rest} more" if rest else first


def spread(name: str) -> list[str]:
    """`D1–D3 front` as `D1 front`, `D2 front`, `D3 front`: what `runs` drew together, with a dash
    or a hyphen; any other name as it is."""
    found = _RUN.fullmatch(name.strip())
    if found is None:
        return [name.strip()]
    family, first, last = found["family"].upper(), int(found["first"]), int(found["last"])
    rest = found["rest"] or ""
    if not first < last < first + MOST_SPREAD:
        return [name.strip()]
    return [f"{family}{number}{rest}" for number in range(first, last + 1)]


def _runs(names: Iterable[str | Spot]) -> list[list[Spot]]:
    """Names in runs of at least LEAST_RUN, and each other name by itself."""
    found: list[list[Spot]] = []
    for each in names:
        name = each if isinstance(each, Spot) else Spot(each)
        if found and found[-1][-1] == _before(name):
            found[-1].append(name)
        else:
            found.append([name])
    return [
        each
        for run in found
        for each in ([run] if len(run) >= LEAST_RUN else [[name] for name in run])
    ]


def _before(name: Spot) -> Spot | None:
    """The same face of the part before this one; None when there is none, or it is no number."""
    short = parse_short(name.part)
    if short is None or short_number(*short) != name.part or short[1] == 1:
        return None
    family, place = short
    return Spot(short_number(family, place - 1), name.face)


def _told(run: Sequence[Spot]) -> str:
    if len(run) < LEAST_RUN:
        return str(run[0])
    return f"{run[0].part}–{run[-1]}"
