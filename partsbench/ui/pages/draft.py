"""A piece as it is being typed: drawn at once, in no book yet."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.piece.front import front_from_rows, parse_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.units import length

NO_TAG = "0000"


@dataclass(frozen=True, slots=True)
class Draft:
    """What stands in the fields, as typed."""

    rows: str = ""
    codename: str = ""
    title: str = ""
    width: str = ""
    height: str = ""
    legs: int = 0
    equal_legs: bool = False
    pulls: int = 0
    top: bool = False


def size_of(text: str, what: str) -> float | Refused | None:
    """A size in mm from `900`, `90 cm` or `35 1/2`; None when nothing is typed."""
    if not text.strip():
        return None
    entry = length(text, what=what)
    return entry if isinstance(entry, Refused) else entry.value


def drawn(draft: Draft) -> Piece | Refused:
    """The piece that the draft describes so far, or what is not yet right about it."""
    counts = parse_rows(draft.rows)
    if isinstance(counts, Refused):
        return counts
    width, height = size_of(draft.width, "Width"), size_of(draft.height, "Height")
    for size in (width, height):
        if isinstance(size, Refused):
            return size
    assert not isinstance(width, Refused)
    assert not isinstance(height, Refused)
    heights = None if height is None else [height / len(counts)] * len(counts)
    front = (
        front_from_rows(counts, heights=heights)
        if width is None
        else front_from_rows(counts, width, heights)
    )
    if isinstance(front, Refused):
        return front
    return furnish(
        NO_TAG,
        draft.codename or "draft",
        front,
        legs=draft.legs,
        equal_legs=draft.equal_legs,
        pulls=draft.pulls,
        top=draft.top,
    )


def counted(piece: Piece) -> str:
    """How many of what: `7 drawers, 14 pulls, 4 legs, a top`."""
    from partsbench.core.piece.codes import Family

    words = []
    for family, name in (
        (Family.DRAWER, "drawer"),
        (Family.PULL, "pull"),
        (Family.LEG, "leg"),
        (Family.TOP, "top"),
    ):
        count = piece.count()[family]
        if count:
            words.append(f"{count} {name}{'' if count == 1 else 's'}")
    return ", ".join(words)
