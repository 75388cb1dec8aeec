"""What a label says: made of the piece alone. Never a client's name, an address or a price."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.drawing import Drawing, Shape, ShapeKind, elevation
from partsbench.core.piece.parts import TIE_ON, Part, family_word, where_to_stick
from partsbench.core.piece.piece import Piece, home_words, opening_words
from partsbench.core.said_often import stick_it
from partsbench.paper.drawing import DrawnMark, ShapeLook

UP, FRONT = "up", "front"
_LYING = frozenset({"on the bottom", "on the underside"})
_IN_THE_OPENING = "inside, near the front"


@dataclass(frozen=True, slots=True)
class LabelContent:
    """The words of one label and the drawing with what is marked in it.

    `arrow` is where the arrow points when the label is stuck on: up, or to the front of the piece.
    `codename` is the public name of the job and `title` that of the piece: both are printed.
    """

    number: str
    code: str
    tag: str
    codename: str
    home: str
    stick: str
    arrow: str
    drawing: Drawing
    marks: tuple[DrawnMark, ...]
    title: str = ""
    kind: str = ""
    old_mark: str = ""
    note: str = ""
    is_home: bool = False


def label_of(piece: Piece, part: Part, drawing: Drawing | None = None) -> LabelContent:
    """The label of a part. `drawing` is the piece's elevation where the caller has it already."""
    drawing = drawing or elevation(piece)
    stick = where_to_stick(part)
    return LabelContent(
        number=part.short,
        code=str(piece.code(part)),
        tag=piece.tag,
        codename=piece.codename,
        home=home_words(piece, part),
        stick=stick if stick == TIE_ON else stick_it(stick),
        arrow=FRONT if stick in _LYING else UP,
        drawing=drawing,
        marks=marks_of(piece, part, drawing),
        title=piece.title,
        kind=_kind(part),
        old_mark=part.old_mark,
        note=_note(part),
    )


def home_label_of(piece: Piece, number: int, drawing: Drawing | None = None) -> LabelContent:
    """The label for the inside of an opening, or for a corner, that says who lives there."""
    drawing = drawing or elevation(piece)
    occupant = piece.occupant(number)
    opening = piece.front.opening(number)
    corner = next((c for c in piece.corners if c.number == number), None)
    shapes = [s for s in drawing.shapes if s.home == number]
    grouped = occupant is not None and bool(occupant.group)
    own = short_number(Family.HOME, number)
    if opening:
        where = opening_words(piece.front, opening)
    else:
        where = f"{corner.spot} corner" if corner else f"home {number}"
    return LabelContent(
        number=own if occupant is None or grouped else occupant.short,
        code=str(piece.home_code(number)),
        tag=piece.tag,
        codename=piece.codename,
        home=where,
        stick=_stick_home(piece, opening is not None),
        arrow=UP,
        drawing=drawing,
        marks=tuple(DrawnMark(s, ShapeLook.FILLED) for s in shapes),
        title=piece.title,
        kind=_dweller(occupant),
        is_home=True,
    )


def labels_of(piece: Piece, parts: Iterable[Part]) -> list[LabelContent]:
    """The labels of several parts of one piece, its drawing made once."""
    drawing = elevation(piece)
    return [label_of(piece, part, drawing) for part in parts]


def home_labels_of(piece: Piece, numbers: Iterable[int] | None = None) -> list[LabelContent]:
    """The home labels of a piece: of all homes that expect something back, if none are named."""
    drawing = elevation(piece)
    chosen = piece.home_numbers() if numbers is None else numbers
    return [home_label_of(piece, number, drawing) for number in chosen]


def marks_of(piece: Piece, part: Part, drawing: Drawing) -> tuple[DrawnMark, ...]:
    """This part's home filled black; what it sits on outlined, where that is another part."""
    shape = drawing.shape_of(piece, part)
    if part.group:
        mates = {drawing.shape_of(piece, p) for p in piece.alike_to(part)}
        own = [s for s in drawing.shapes if s in mates and s.kind is not ShapeKind.CARCASE]
        return tuple(DrawnMark(s, ShapeLook.FILLED) for s in own) or (
            DrawnMark(shape, ShapeLook.OUTLINED),
        )
    if shape.kind is ShapeKind.CARCASE:
        return (DrawnMark(shape, ShapeLook.OUTLINED),)
    if shape.kind is ShapeKind.PULL:
        host = next((s for s in drawing.shapes if s.part == part.parent), shape)
        return (DrawnMark(host, ShapeLook.OUTLINED), DrawnMark(shape, ShapeLook.FILLED))
    if part.family is Family.RUNNER or (part.parent and shape.part != part.short):
        return (
            DrawnMark(shape, ShapeLook.OUTLINED),
            DrawnMark(_at_spot(shape, part.home.spot), ShapeLook.FILLED),
        )
    return (DrawnMark(shape, ShapeLook.FILLED),)


def _at_spot(host: Shape, spot: str) -> Shape:
    """A small upright bar on the host: left, right, or in the middle when the spot says neither."""
    share = {"left": 0.06, "right": 0.94}.get(spot.partition(" ")[0], 0.5)
    width = host.width * 0.1
    x = host.x + host.width * share - width / 2
    return Shape(ShapeKind.PULL, x, host.y + host.height * 0.2, width, host.height * 0.6)


def _note(part: Part) -> str:
    told = ["fragile"] if part.fragile else []
    if part.contents:
        told.append(f"holds {part.contents}")
    return ", ".join(told)


def _kind(part: Part) -> str:
    """What it is; one of several equals is not called by the place that it happens to have."""
    return family_word(part.family) if part.group else part.called


def _dweller(occupant: Part | None) -> str:
    if occupant is None:
        return "nothing lives here"
    return f"any {_kind(occupant)}" if occupant.group else _kind(occupant)


def _stick_home(piece: Piece, in_opening: bool) -> str:
    """Inside the opening, unless the inside of the carcase is to be finished."""
    carcase = next((p for p in piece.present if p.family is Family.CARCASE), None)
    inside = carcase.face("inside") if carcase else None
    if inside and inside.finished:
        return f"{TIE_ON} in the opening" if in_opening else f"{TIE_ON} at the corner"
    return f"stick it {_IN_THE_OPENING}" if in_opening else "stick it under the corner"
