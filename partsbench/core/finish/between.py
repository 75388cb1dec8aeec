"""Seams between two parts: a front in its opening, a top on its carcase.

They want tape only while the two are together; what comes out is coated by itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from partsbench.core.finish.sheets import USUAL_DEPTH
from partsbench.core.finish.steps import NO_STEP_PATHS
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import Opening
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.piece.surfaces import Sizes, depth_of, opening_size

_LIES_ON = (("front edge", "rails"), ("left edge", "left side"), ("right edge", "right side"),
            ("back edge", "back"))  # fmt: skip
"""The edges of a top, and the faces of the carcase below them."""

MEETING = {
    Family.CARCASE: frozenset(face for _, face in _LIES_ON),
    Family.TOP: frozenset(edge for edge, _ in _LIES_ON),
    Family.DRAWER: frozenset({"front"}),
    Family.DOOR: frozenset({"front"}),
    Family.OTHER: frozenset({"front", "whole"}),
}
"""The faces that can meet another part's."""


class Together(StrEnum):
    """Whether a part is where its neighbour is, as far as the records tell."""

    YES = "in place"
    MAYBE = "may be in place"
    NO = "apart"


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where a face of `part` meets a face of the carcase; length all round, mm."""

    part: str
    a: Spot
    b: Spot
    length: float

    def other(self, face: Spot) -> Spot:
        return self.b if face == self.a else self.a


def meetings(piece: Piece, sizes: Sizes | None = None, of: Part | None = None) -> list[Meeting]:
    """Where two parts of different finish meet, in the order of the parts; those of one part only.

    sizes: what was measured, for the lengths. What a door hides meets nothing that is seen.
    """
    carcase = next((p for p in piece.present if p.family is Family.CARCASE), None)
    if carcase is None:
        return []
    parts = piece.present if of is None or of.short == carcase.short else (of,)
    return [m for part in parts for m in _of(piece, part, carcase, sizes or {})]


def _of(piece: Piece, part: Part, carcase: Part, sizes: Sizes) -> Iterator[Meeting]:
    opening = _opening(piece, part)
    if opening:
        width, height = opening_size(piece, opening, sizes)
        front = "front" if part.face("front") else "whole"
        yield from _meeting(part, front, carcase, "rails", 2 * (width + height))
    elif part.family is Family.TOP:
        depth = depth_of(piece, part, sizes) or USUAL_DEPTH
        for edge, face in _LIES_ON:
            along = depth if edge in ("left edge", "right edge") else piece.front.width
            yield from _meeting(part, edge, carcase, face, along)


def _meeting(part: Part, face: str, carcase: Part, beside: str, length: float) -> Iterator[Meeting]:
    one, other = part.face(face), carcase.face(beside)
    if one is None or other is None or one.path == other.path:
        return
    if one.path in NO_STEP_PATHS and other.path in NO_STEP_PATHS:
        return
    yield Meeting(part.short, part.spot(face), carcase.spot(beside), length)


def _opening(piece: Piece, part: Part) -> Opening | None:
    """The opening in plain view that a drawer, door or false front fills."""
    if part.family not in (Family.DRAWER, Family.DOOR) and part.home.kind is not HomeKind.STAYS:
        return None
    found = piece.front.opening(part.home.number) if part.home.number else None
    return found if found and found.layer == 0 else None


def together(part: Part, has_moved: bool, is_home: bool) -> Together:
    """A top that was never scanned out may still sit on its carcase; a drawer that was not is out
    all the same when its front is coated, so only one that was put back, or stays, is in place."""
    if part.home.kind is HomeKind.STAYS or is_home:
        return Together.YES
    if not has_moved and part.family is Family.TOP:
        return Together.MAYBE
    return Together.NO
