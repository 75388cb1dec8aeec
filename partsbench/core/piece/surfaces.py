"""Areas of faces, seams and openings to paper, from the front's own sizes and what was measured.

The front is drawn between the middles of its rails, so an opening is smaller than its cell by one
rail, and the rails are what is left between the openings.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from partsbench.core.finish.seams import Seam, seams
from partsbench.core.finish.sheets import USUAL_DEPTH, Size, sheets_of, size_of
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.front import Opening
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.said_often import width_of

RAIL_MM = 20.0
"""Width of a rail or stile of the front: common practice, until openings are measured."""
THICKNESS_MM = 20.0
"""Thickness of a drawer front, door or top: common practice, until it is measured."""

TOP_WIDTH, BOTTOM_WIDTH = "top width", "bottom width"
LEFT_HEIGHT, RIGHT_HEIGHT = "left height", "right height"
WIDTH, HEIGHT, DEPTH = "width", "height", "depth"
OVERALL_HEIGHT = "overall height"
"""Of the piece as it stands, from the floor to the top of it; kept with its carcase."""
THICKNESS, GIRTH = "thickness", "girth"

Named = tuple[str, int]
"""Family letter and number: what a size is of."""
Sizes = Mapping[Named, Mapping[str, float]]
"""Measured sizes in mm."""

_BOX = (TOP_WIDTH, BOTTOM_WIDTH, LEFT_HEIGHT, RIGHT_HEIGHT, DEPTH, THICKNESS)
_SOLID = (WIDTH, HEIGHT, DEPTH, THICKNESS)
_SIZES = {
    Family.DRAWER: _BOX,
    Family.DOOR: _BOX,
    Family.HOME: _BOX[:5],
    Family.LEG: (HEIGHT, GIRTH),
    Family.CARCASE: (*_SOLID, OVERALL_HEIGHT),
}


_DEEP = (Family.CARCASE, Family.TOP, Family.SHELF)


@dataclass(frozen=True, slots=True)
class FaceArea:
    """One face with its path, area in m², and the row it is seen in (empty: none)."""

    spot: Spot
    path: str
    m2: float
    row: str = ""


@dataclass(frozen=True, slots=True)
class Areas:
    """The faces whose area is known, and what is missing for the others."""

    faces: tuple[FaceArea, ...]
    missing: tuple[tuple[str, str], ...]
    """(path, what is missing) for each face whose area cannot be told."""

    def lacks(self, path: str) -> tuple[str, ...]:
        """What is missing for the faces on one path."""
        return tuple(dict.fromkeys(what for key, what in self.missing if key == path))


def size_names(family: Family) -> tuple[str, ...]:
    """What can be measured of such a thing."""
    return _SIZES.get(family, _SOLID)


def named_sizes(family: Family, asked: str) -> tuple[str, ...]:
    """The sizes that a person means: `width` of a drawer is both its ends; () for none."""
    wanted = " ".join(asked.lower().replace("-", " ").replace("_", " ").split())
    known = size_names(family)
    if wanted in known:
        return (wanted,)
    pairs = {
        WIDTH: (TOP_WIDTH, BOTTOM_WIDTH),
        HEIGHT: (LEFT_HEIGHT, RIGHT_HEIGHT),
        "front thickness": (THICKNESS,),
        "top": (TOP_WIDTH,),
        "bottom": (BOTTOM_WIDTH,),
        "left": (LEFT_HEIGHT,),
        "right": (RIGHT_HEIGHT,),
    }
    return tuple(name for name in pairs.get(wanted, ()) if name in known)


def opening_size(piece: Piece, opening: Opening, sizes: Sizes) -> tuple[float, float]:
    """Width and height of an opening, mm: the least measured, else its cell less one rail."""
    _, _, wide, high = piece.front.box(opening.span)
    own = sizes.get((Family.HOME.value, opening.number), {})
    width = _least(own, TOP_WIDTH, BOTTOM_WIDTH) or max(wide - RAIL_MM, wide / 2)
    return width, _least(own, LEFT_HEIGHT, RIGHT_HEIGHT) or max(high - RAIL_MM, high / 2)


def front_size(piece: Piece, part: Part, sizes: Sizes) -> tuple[float, float] | None:
    """Width and height of a drawer's or door's front, mm; None for what has no opening."""
    opening = piece.front.opening(part.home.number) if _in_front(part) else None
    if opening is None:
        return None
    width, height = opening_size(piece, opening, sizes)
    own = sizes.get((part.family.value, part.number), {})
    return (
        _most(own, TOP_WIDTH, BOTTOM_WIDTH) or width,
        _most(own, LEFT_HEIGHT, RIGHT_HEIGHT) or height,
    )


def areas(piece: Piece, sizes: Sizes) -> Areas:
    """Every face that gets a finish, in the order of the parts, with its area."""
    faces: list[FaceArea] = []
    missing: list[tuple[str, str]] = []
    for part in piece.present:
        row = _row(piece, part)
        for face in part.faces:
            if not face.finished:
                continue
            found = face_area(piece, part, face.name, sizes)
            if isinstance(found, str):
                missing.append((face.path, found))
            else:
                faces.append(FaceArea(part.spot(face.name), face.path, found / 1e6, row))
    return Areas(tuple(faces), tuple(missing))


def seams_of_part(piece: Piece, part: Part, sizes: Sizes) -> list[Seam]:
    """The seams between faces of one part, with their lengths in mm as far as it was measured."""
    if len({f.path for f in part.faces}) < 2:
        return []
    size = _sheet_size(piece, part, sizes)
    return [s for sheet in sheets_of(part, size) for s in seams(sheet)] if size else []


def depth_of(piece: Piece, part: Part, sizes: Sizes) -> float | None:
    """mm, as measured; a top or board that was not is as deep as its carcase. None: not known."""
    own = _own(part, sizes).get(DEPTH)
    return own if own is not None else _own(_host(piece), sizes).get(DEPTH)


def with_usual_depths(piece: Piece, sizes: Sizes, of: Collection[str]) -> tuple[Sizes, list[str]]:
    """The sizes with the usual depth where one of these parts has none, and what is missing."""
    found, lacks = {named: dict(own) for named, own in sizes.items()}, []
    for part in piece.present:
        if part.short in of and part.family in _DEEP and depth_of(piece, part, sizes) is None:
            found.setdefault((part.family.value, part.number), {})[DEPTH] = USUAL_DEPTH
            lacks.append(f"depth of {part.short}")
    return found, lacks


def face_area(piece: Piece, part: Part, face: str, sizes: Sizes) -> float | str:
    """mm² of a face, whether it gets a finish or not; or what is missing for it."""
    own = _own(part, sizes)
    if part.family in (Family.DRAWER, Family.DOOR) or part.home.kind is HomeKind.STAYS:
        size = front_size(piece, part, sizes)
        if size:
            return _box_area(part, face, size, own)
    if part.family is Family.CARCASE:
        return _carcase_area(piece, part, face, sizes)
    if part.family is Family.LEG:
        if HEIGHT in own and GIRTH in own:
            return own[HEIGHT] * own[GIRTH]
        return f"height and girth of {part.short}"
    return _solid_area(piece, part, face, sizes)


def openings_to_paper(piece: Piece, closed: Collection[int] = ()) -> tuple[Opening, ...]:
    """The openings to close before the front of the carcase is coated: its inside gets no finish.

    Hidden openings lie behind one that is closed already; a false front stays shut by itself, and
    so do the openings named in `closed`: what lives there is in its place.
    """
    carcase = next((p for p in piece.present if p.family is Family.CARCASE), None)
    rails = carcase.face("rails") if carcase else None
    inside = carcase.face("inside") if carcase else None
    if rails is None or not rails.finished or (inside and inside.path == rails.path):
        return ()
    stays = {p.home.number for p in piece.present if p.home.kind is HomeKind.STAYS}
    shut = {*stays, *closed}
    return tuple(o for o in piece.front.openings if o.layer == 0 and o.number not in shut)


def _box_area(
    part: Part, face: str, size: tuple[float, float], own: Mapping[str, float]
) -> float | str:
    width, height = size
    thick, depth = own.get(THICKNESS, THICKNESS_MM), own.get(DEPTH)
    flat = {
        "front": width * height,
        "whole": width * height,
        "back": width * height,
        "top edge": width * thick,
        "bottom edge": width * thick,
        "left edge": height * thick,
        "right edge": height * thick,
    }
    if face in flat:
        return flat[face]
    if depth is None:
        return f"depth of {part.short}"
    deep = {
        "sides": 2 * height * depth,
        "bottom": width * depth,
        "inside": width * depth + 2 * height * (width + depth),
    }
    return deep.get(face, f"{face} of {part.short}")


def _carcase_area(piece: Piece, part: Part, face: str, sizes: Sizes) -> float | str:
    own = sizes.get((part.family.value, part.number), {})
    width = own.get(WIDTH, piece.front.width)
    height = own.get(HEIGHT, piece.front.height)
    if face == "rails":
        shown = [o for o in piece.front.openings if o.layer == 0]
        open_mm2 = sum(w * h for w, h in (opening_size(piece, o, sizes) for o in shown))
        return max(width * height - open_mm2, 0.0)
    if face == "back":
        return width * height
    depth = own.get(DEPTH)
    if depth is None:
        return f"depth of {part.short}"
    across = {"left side": height, "right side": height, "top": width, "base": width}
    if face in across:
        return across[face] * depth
    return 2 * depth * (width + height) + width * height


def _solid_area(piece: Piece, part: Part, face: str, sizes: Sizes) -> float | str:
    """A top, shelf or board; what is not measured of a top is taken from front and carcase."""
    own = _own(part, sizes)
    width = own.get(WIDTH, piece.front.width if part.family is Family.TOP else None)
    depth = depth_of(piece, part, sizes)
    thick = own.get(THICKNESS, THICKNESS_MM)
    if width is None:
        return width_of(part.short)
    if face in ("front edge", "back edge"):
        return width * thick
    if depth is None:
        return f"depth of {part.short}"
    return depth * thick if face in ("left edge", "right edge") else width * depth


def _sheet_size(piece: Piece, part: Part, sizes: Sizes) -> Size | None:
    own = _own(part, sizes)
    usual = USUAL_DEPTH if part.family in _DEEP else 0.0
    known = depth_of(piece, part, sizes) if part.family in _DEEP else own.get(DEPTH)
    size = size_of(piece, part, known or usual, own.get(THICKNESS, THICKNESS_MM))
    front = front_size(piece, part, sizes)
    if size and front and part.family in (Family.DRAWER, Family.DOOR):
        return Size(*front, size.thickness)
    if size and part.family is Family.CARCASE:
        return Size(own.get(WIDTH, size.width), own.get(HEIGHT, size.height), size.thickness)
    return size


def _own(part: Part | None, sizes: Sizes) -> Mapping[str, float]:
    return sizes.get((part.family.value, part.number), {}) if part else {}


def _host(piece: Piece) -> Part | None:
    return next((p for p in piece.present if p.family is Family.CARCASE), None)


def _in_front(part: Part) -> bool:
    return part.home.kind in (HomeKind.OPENING, HomeKind.STAYS) and part.home.number > 0


def _row(piece: Piece, part: Part) -> str:
    opening = piece.front.opening(part.home.number) if _in_front(part) else None
    return f"row {opening.span.row + 1}" if opening else short_number(part.family, part.number)


def _least(own: Mapping[str, float], *names: str) -> float | None:
    return min((own[name] for name in names if name in own), default=None)


def _most(own: Mapping[str, float], *names: str) -> float | None:
    return max((own[name] for name in names if name in own), default=None)
