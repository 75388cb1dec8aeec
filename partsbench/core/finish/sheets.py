"""The faces of a part laid out flat, so that the edges they share can be measured."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from partsbench.core.finish.seams import FaceRect, Seam, seams
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot

USUAL_DEPTH = 450.0
USUAL_THICKNESS = 20.0
"""mm; taken where the piece's own were not said."""

_LYING = frozenset({"top", "underside", "base", "bottom"})
_CARCASE = ("rails", "left side", "right side", "top", "base", "back")
_FRONT = ("front", "left edge", "right edge", "top edge", "bottom edge")
_TOP = ("top", "left edge", "right edge", "back edge", "front edge")
_BOARDS = {Family.DRAWER: _FRONT, Family.DOOR: _FRONT, Family.TOP: _TOP}


@dataclass(frozen=True, slots=True)
class Size:
    """mm: across, down the sheet, and how thick."""

    width: float
    height: float
    thickness: float


def is_upright(face: str) -> bool:
    """True for faces that stand while they are coated, so that a thick coat runs."""
    return face not in _LYING


def size_of(piece: Piece, part: Part, depth: float, thickness: float) -> Size | None:
    """The size of a part as the front tells it; None when it does not."""
    if part.family is Family.CARCASE:
        return Size(piece.front.width, piece.front.height, depth)
    if part.family is Family.TOP:
        return Size(piece.front.width, depth, thickness)
    if part.home.kind is not HomeKind.OPENING:
        return None
    opening = piece.front.opening(part.home.number)
    if opening is None or part.family not in (Family.DRAWER, Family.DOOR, Family.SHELF):
        return None
    _, _, width, height = piece.front.box(opening.span)
    return Size(width, depth if part.family is Family.SHELF else height, thickness)


def sheets_of(part: Part, size: Size) -> tuple[tuple[FaceRect, ...], ...]:
    """Flat sheets on which each shared edge of the part's faces lies once."""
    if part.family is Family.CARCASE:
        return _box(part, size)
    if part.family is Family.SHELF:
        w, d, t = size.width, size.height, size.thickness
        flat = (("top", 0.0, 0.0, w, d), ("front edge", 0.0, d, w, t))
        return (_rects(part, flat),)
    names = _BOARDS.get(part.family)
    return (_cross(part, names, size),) if names else ()


def seams_of(
    piece: Piece, part: Part, depth: float = USUAL_DEPTH, thickness: float = USUAL_THICKNESS
) -> list[Seam]:
    """The seams between faces of one part, with their lengths in mm."""
    if len({f.path for f in part.faces}) < 2:
        return []
    size = size_of(piece, part, depth, thickness)
    if size is None:
        return []
    return list(_seams(part, size))


@functools.lru_cache(maxsize=1024)
def _seams(part: Part, size: Size) -> tuple[Seam, ...]:
    return tuple(seam for sheet in sheets_of(part, size) for seam in seams(sheet))


def area_m2(
    piece: Piece,
    part: Part,
    face: str,
    depth: float = USUAL_DEPTH,
    thickness: float = USUAL_THICKNESS,
) -> float:
    """The area of a face; 0 when the front does not tell it."""
    size = size_of(piece, part, depth, thickness)
    return _areas(part, size).get(part.spot(face), 0.0) if size else 0.0


@functools.lru_cache(maxsize=1024)
def _areas(part: Part, size: Size) -> Mapping[Spot, float]:
    """Each face → its area in m²; kept, as a part is asked for face by face."""
    rects = [r for sheet in sheets_of(part, size) for r in sheet]
    return {r.face: r.width * r.height / 1e6 for r in reversed(rects)}


def _cross(part: Part, names: tuple[str, ...], size: Size) -> tuple[FaceRect, ...]:
    """A board with its four edges folded out: middle, left, right, above, below."""
    w, h, t = size.width, size.height, size.thickness
    places = ((0, 0, w, h), (-t, 0, t, h), (w, 0, t, h), (0, -t, w, t), (0, h, w, t))
    return _rects(part, tuple((n, *p) for n, p in zip(names, places, strict=True)))


def _box(part: Part, size: Size) -> tuple[tuple[FaceRect, ...], ...]:
    """The twelve edges of a box: round the front, round the back, and the four between."""
    w, h, d = size.width, size.height, size.thickness
    front = _cross(part, _CARCASE[:5], size)
    back = _cross(part, ("back", "right side", "left side", "top", "base"), size)
    over, under = (
        _rects(
            part,
            (("left side", 0.0, 0.0, h, d), (name, h, 0.0, w, d), ("right side", h + w, 0.0, h, d)),
        )
        for name in ("top", "base")
    )
    return front, back, over, under


def _rects(
    part: Part, places: tuple[tuple[str, float, float, float, float], ...]
) -> tuple[FaceRect, ...]:
    """The faces of the part that lie there, each with its path."""
    return tuple(
        FaceRect(part.spot(name), face.path, x, y, w, h)
        for name, x, y, w, h in places
        if (face := part.face(name))
    )
