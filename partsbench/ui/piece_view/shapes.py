"""What a shape of the drawing is as a button: its key, its room, its look when none is given."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF

from partsbench.core.key_words import word_of
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.drawing import Drawing, Shape, ShapeKind
from partsbench.core.piece.front import OpeningKind
from partsbench.core.piece.piece import Piece, home_words, opening_words
from partsbench.ui.piece_view.looks import Pattern, TileLook
from partsbench.ui.piece_view.scaling import Scaling
from partsbench.ui.piece_view.tile import LEGS

LEG_ROOM = 34
"""A leg thinner than so many px has its number beside it."""
LEAST_HIGH = 26.0


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
        return TileLook(part.short, description=f"{part.called}, {words}")
    opening = piece.front.opening(shape.home)
    if opening and shape.kind not in LEGS:
        where = opening_words(piece.front, opening)
        return TileLook(pattern=Pattern.EMPTY, description=f"{word_of(opening.kind)}, {where}")
    return TileLook(pattern=Pattern.EMPTY, description="corner without a leg")


def outer(exact: QRectF, kind: ShapeKind, whole: QRectF, tag: float) -> QRect:
    """The button's rectangle: that of the shape; a thin leg has `tag` px more for its number.

    The number of a front leg stands outward of it and that of a rear one inward, so that they keep
    clear of each other. `whole` is the rectangle of the whole drawing.
    """
    if kind not in LEGS or exact.width() >= LEG_ROOM:
        return exact.toAlignedRect()
    leftward = (exact.center().x() < whole.center().x()) is (kind is ShapeKind.LEG)
    low = max(0.0, LEAST_HIGH - exact.height())
    return exact.adjusted(-tag if leftward else 0, 0, 0 if leftward else tag, low).toAlignedRect()


def pulls_of(piece: Piece, scaling: Scaling, host: Shape, exact: QRectF) -> list[QRectF]:
    """The pulls of a drawer, moved down so that its number has room above them; `exact` is where
    the drawer itself is drawn."""
    mine = {p.short for p in piece.children(host.part)} if host.part else set()
    pulls = []
    for shape in scaling.drawing.of_kind(ShapeKind.PULL):
        if shape.part in mine:
            rect = scaling.rect(shape)
            if host.opening is not OpeningKind.DOOR:
                rect.moveTop(exact.top() + exact.height() * 0.9 - rect.height())
            pulls.append(rect)
    return pulls


def reading_order(drawing: Drawing) -> list[Shape]:
    """Openings and corners by number, then the top, then the carcase."""
    homes = [s for s in drawing.shapes if s.home and s.kind is not ShapeKind.PULL]
    rest = drawing.of_kind(ShapeKind.TOP) + drawing.of_kind(ShapeKind.CARCASE)
    return [*sorted(homes, key=_home), *rest]


def _home(shape: Shape) -> int:
    return shape.home
