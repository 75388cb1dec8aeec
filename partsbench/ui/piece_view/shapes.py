"""What a shape of the drawing is as a button: its key, its room, its look when none is given."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF

from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.drawing import Drawing, Shape, ShapeKind
from partsbench.core.piece.piece import Piece, home_words, opening_words
from partsbench.ui.piece_view.looks import Pattern, TileLook
from partsbench.ui.piece_view.tile import LEGS

LEG_ROOM = 34
"""A leg is narrow: its button is at least so many px wide, to be pressed and read."""


def key_of(shape: Shape) -> str:
    """The key of a shape: `H5` for an opening or corner, else the part's short number."""
    if shape.home:
        return short_number(Family.HOME, shape.home)
    return shape.part


def plain_look(piece: Piece, shape: Shape) -> TileLook:
    """The number and the home in words."""
    part = piece.part(shape.part) if shape.part else None
    if part:
        words = home_words(piece, part)
        return TileLook(part.short, description=f"{part.name or shape.kind.value}, {words}")
    opening = piece.front.opening(shape.home)
    if opening and shape.kind not in LEGS:
        where = opening_words(piece.front, opening)
        return TileLook(pattern=Pattern.EMPTY, description=f"{opening.kind.value}, {where}")
    return TileLook(pattern=Pattern.EMPTY, description="corner without a leg")


def outer(exact: QRectF, kind: ShapeKind, whole: QRectF) -> QRect:
    """The button's rectangle: that of the shape, wider where the shape is too narrow to press.

    Front legs grow outward and rear ones inward, so that their numbers stand clear of each other.
    `whole` is the rectangle of the whole drawing.
    """
    extra = LEG_ROOM - exact.width()
    if kind in LEGS and extra > 0:
        aside = exact.center().x() - whole.center().x()
        if abs(aside) < whole.width() / 6:
            return exact.adjusted(-extra / 2, 0, extra / 2, 0).toAlignedRect()
        leftward = (aside < 0) is (kind is ShapeKind.LEG)
        exact = exact.adjusted(-extra if leftward else 0, 0, 0 if leftward else extra, 0)
    return exact.toAlignedRect()


def reading_order(drawing: Drawing) -> list[Shape]:
    """Openings and corners by number, then the top, then the carcase."""
    homes = [s for s in drawing.shapes if s.home and s.kind is not ShapeKind.PULL]
    rest = drawing.of_kind(ShapeKind.TOP) + drawing.of_kind(ShapeKind.CARCASE)
    return [*sorted(homes, key=_home), *rest]


def _home(shape: Shape) -> int:
    return shape.home
