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


@dataclass(frozen=True, slots=True)
class TileLook:
    """The face of one tile. `fill` is a role of the theme (`paint`, `stain`, `clear`) or empty."""

    number: str = ""
    words: str = ""
    pattern: Pattern = Pattern.PLAIN
    description: str = ""
    """For a screen reader, after the number: `drawer, row 2, left, is out`."""
    fill: str = ""
