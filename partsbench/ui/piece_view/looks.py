"""How a tile of the piece looks: what stands on it, and its pattern."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Pattern(StrEnum):
    """What a tile says without words; each is told from the others without colour."""

    PLAIN = "plain"
    HATCHED = "hatched"
    DOTTED = "dotted"
    FILLED = "filled"
    DONE = "done"
    WRONG = "wrong"
    NEXT = "next"
    HIDDEN = "hidden"
    EMPTY = "empty"


class Sign(StrEnum):
    """What stands in the upper right corner."""

    NONE = "none"
    CHECK = "check mark"
    GLASS = "hourglass"
    BANG = "exclamation mark"
    BAR = "bar"


class Rim(StrEnum):
    """The outline of a tile: whether what it stands for is there."""

    THERE = "solid"
    GONE = "broken"
    BACK = "double"


@dataclass(frozen=True, slots=True)
class Gauge:
    """`share` from 0 to 1; `behind` has the heavy outline and a wedge in the lower left corner."""

    share: float
    sign: Sign = Sign.NONE
    rim: Rim = Rim.THERE
    behind: bool = False


@dataclass(frozen=True, slots=True)
class TileLook:
    """The face of one tile. `fill` is a role of the theme (`paint`, `stain`, `clear`) or empty."""

    number: str = ""
    words: str = ""
    pattern: Pattern = Pattern.PLAIN
    description: str = ""
    """For a screen reader, after the number: `drawer, row 2, left, is out`."""
    fill: str = ""
    gauge: Gauge | None = None
    """How far along it is; drawn instead of the pattern."""
