"""What a picture can tell: the codes found, where, and how."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from partsbench.core.piece.codes import Code

SIDE = 21
"""Modules along a side of a label's symbol."""

PagePoint = tuple[float, float]
Corners = tuple[PagePoint, PagePoint, PagePoint, PagePoint]


class How(StrEnum):
    """By what means a symbol was read, from the quickest to the last resort."""

    PLAIN = "plain"
    ENLARGED = "enlarged"
    SHARPENED = "sharpened"
    SMOOTHED = "smoothed"
    LOCAL_THRESHOLD = "local threshold"
    LOCAL_CONTRAST = "local contrast"
    KNOWN_MODULES = "known modules"
    BOTH_SYMBOLS = "both symbols"
    BOOK = "against the book"


@dataclass(frozen=True, slots=True)
class Found:
    """One code in a picture.

    `corners` are those of the symbol without its quiet zone, in pixels of the upright picture,
    beginning at the symbol's own top left and going round by its top right. `repaired` has the
    middles of the modules that were read wrong or not at all, in the same pixels. Only a `certain`
    reading may be recorded; another one carries the `chance` that it is wrong and waits for a
    person to confirm it.
    """

    text: str
    code: Code
    corners: Corners
    page: int = 1
    how: How = How.PLAIN
    certain: bool = True
    chance: float = 0.0
    repaired: tuple[PagePoint, ...] = ()


class ReadingError(ValueError):
    """A file that cannot be looked at; the message says what is wrong and where."""
