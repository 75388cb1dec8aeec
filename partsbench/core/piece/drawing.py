"""The piece seen from the front as rectangles in mm: one geometry for window, label and proof."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import Opening, OpeningKind
from partsbench.core.piece.parts import Home, HomeKind, Part
from partsbench.core.piece.piece import Piece


class ShapeKind(StrEnum):
    """What a rectangle of the drawing stands for."""

    CARCASE = "carcase"
    TOP = "top"
    LEG = "leg"
    REAR_LEG = "rear leg"
    OPENING = "opening"
    HIDDEN = "hidden opening"
    PULL = "pull"


@dataclass(frozen=True, slots=True)
class Shape:
    """A rectangle: x and y of its top left corner, width and height, in mm."""

    kind: ShapeKind
    x: float
    y: float
    width: float
    height: float
    part: str = ""
    """Short number of the part it shows; empty for an opening that nothing lives in."""
    home: int = 0
    opening: OpeningKind | None = None

    @property
    def middle(self) -> tuple[float, float]:
        return self.x + self.width / 2, self.y + self.height / 2


@dataclass(frozen=True, slots=True)
class Drawing:
    """The whole in mm, and its shapes from the back to the front."""

    width: float
    height: float
    shapes: tuple[Shape, ...]

    def of_kind(self, *kinds: ShapeKind) -> tuple[Shape, ...]:
        return tuple(s for s in self.shapes if s.kind in kinds)

    def shape_of(self, piece: Piece, part: Part) -> Shape:
        """Where a part lives in the drawing: its own shape, else that of what it sits on."""
        own = next((s for s in self.shapes if s.part == part.short), None)
        if own:
            return own
        if part.home.number:
            for shape in self.shapes:
                if shape.home == part.home.number:
                    return shape
        parent = piece.part(part.parent) if part.parent else None
        return self.shape_of(piece, parent) if parent else self.of_kind(ShapeKind.CARCASE)[0]


FRAME_SHARE = 0.03
TOP_SHARE = 0.05
LEG_SHARE = 0.14
OVERHANG_SHARE = 0.015
GAP = 4.0
"""Drawing proportions of our own: they make a piece look like one, and measure nothing."""


def elevation(piece: Piece) -> Drawing:
    """The piece as its labels, pages and proof sheet draw it."""
    front = piece.front
    frame = max(front.width, front.height) * FRAME_SHARE
    overhang = front.width * OVERHANG_SHARE
    body_width, body_height = front.width + 2 * frame, front.height + 2 * frame
    top = next((p for p in piece.present if p.family is Family.TOP), None)
    top_height = body_height * TOP_SHARE if top else 0.0
    leg_height = front.height * LEG_SHARE if piece.corners else 0.0
    width = body_width + 2 * overhang
    shapes = [
        *_legs(piece, overhang, top_height + body_height, body_width, leg_height),
        Shape(ShapeKind.CARCASE, overhang, top_height, body_width, body_height, _carcase(piece)),
    ]
    if top:
        shapes.append(Shape(ShapeKind.TOP, 0, 0, width, top_height, top.short))
    for hidden in (False, True):
        for opening in front.openings:
            if (opening.behind is not None) is hidden:
                shapes += _opening(piece, opening, overhang + frame, top_height + frame)
    return Drawing(width, top_height + body_height + leg_height, tuple(shapes))


def _carcase(piece: Piece) -> str:
    return next((p.short for p in piece.present if p.family is Family.CARCASE), "")


def _opening(piece: Piece, opening: Opening, left: float, top: float) -> list[Shape]:
    x, y, width, height = piece.front.box(opening.span)
    gap = min(GAP, width / 20, height / 20)
    kind = ShapeKind.OPENING
    if opening.behind is not None:
        kind = ShapeKind.HIDDEN
        gap = min(width, height) / 10
    occupant = piece.occupant(opening.number) or _fixed_front(piece, opening.number)
    shape = Shape(
        kind,
        left + x + gap,
        top + y + gap,
        width - 2 * gap,
        height - 2 * gap,
        occupant.short if occupant else "",
        opening.number,
        opening.kind,
    )
    pulls = piece.children(occupant.short) if occupant else ()
    return [shape, *_pulls(shape, [p for p in pulls if p.family is Family.PULL])]


def _fixed_front(piece: Piece, number: int) -> Part | None:
    stays = Home(HomeKind.STAYS, number)
    return next((p for p in piece.present if p.home == stays), None)


def _pulls(host: Shape, pulls: list[Part]) -> list[Shape]:
    size = min(host.width * 0.14, host.height * 0.28)
    spots = list(dict.fromkeys(p.home.spot for p in pulls))
    shapes = []
    for part in pulls:
        share = _spot_share(part.home.spot, spots)
        broad = size * (1.5 if "plate" in part.name else 1.0)
        x = host.x + host.width * share - broad / 2
        y = host.middle[1] - size * 0.25
        if host.opening is OpeningKind.DOOR:
            x = host.x + host.width * 0.88 - broad / 2
        shapes.append(Shape(ShapeKind.PULL, x, y, broad, size * 0.5, part.short))
    return shapes


def _spot_share(spot: str, spots: list[str]) -> float:
    named = {"left": 0.25, "middle": 0.5, "right": 0.75}
    if spot in named:
        return named[spot]
    return (spots.index(spot) + 1) / (len(spots) + 1)


def _legs(piece: Piece, left: float, top: float, width: float, height: float) -> list[Shape]:
    if not piece.corners:
        return []
    broad = min(width * 0.06, height * 0.6)
    shapes = []
    middles = [c for c in piece.corners if "middle" in c.spot]
    for corner in piece.corners:
        rear = corner.spot.startswith("rear")
        if "left" in corner.spot:
            share = 0.0
        elif "right" in corner.spot:
            share = 1.0
        else:
            share = (middles.index(corner) + 1) / (len(middles) + 1) if middles else 0.5
        inset = broad * (1.3 if rear else 0.0)
        x = left + inset + (width - broad - 2 * inset) * share
        leg = piece.occupant(corner.number)
        kind = ShapeKind.REAR_LEG if rear else ShapeKind.LEG
        shapes.append(
            Shape(
                kind,
                x,
                top,
                broad,
                height * (0.85 if rear else 1.0),
                leg.short if leg else "",
                corner.number,
            )
        )
    return sorted(shapes, key=lambda s: s.kind is ShapeKind.LEG)
