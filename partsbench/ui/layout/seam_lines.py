"""Seams on the front: thick lines where two finish paths meet, with their metres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from partsbench.core.finish.masks import MaskState
from partsbench.core.piece.codes import Family
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.masks import SeamLine
from partsbench.ui.piece_view import PieceView
from partsbench.ui.piece_view.keys import tile_key
from partsbench.ui.theme import sized, theme_of

THICK = 6.0
FLAT = (Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
ALONG = (0.17, 0.83)
"""Where on its line the metres stand: clear of the number in the middle of a tile; at the other end
where something stands there already."""
LONG_ENOUGH = 70.0
"""Px of line that have room for their metres."""


class Side(StrEnum):
    """Which side of its tile a seam is seen on."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"


_FACING = frozenset({"front", "rails"})
_SIDES = {
    "left edge": Side.LEFT,
    "left side": Side.LEFT,
    "right edge": Side.RIGHT,
    "right side": Side.RIGHT,
    "top edge": Side.TOP,
    "top": Side.TOP,
    "bottom edge": Side.BOTTOM,
    "base": Side.BOTTOM,
}


@dataclass(frozen=True, slots=True)
class SeenSeam:
    """A seam that is seen from the front: on which side of which tile."""

    tile: str
    side: Side
    seam: SeamLine

    @property
    def metres(self) -> str:
        return f"{self.seam.length_mm / 1000:.2f} m"


def seen_seams(piece: Piece, seams: Sequence[SeamLine]) -> list[SeenSeam]:
    """Those that one sees from the front; the others lie at the back or underneath."""
    found = []
    for seam in seams:
        part = piece.part(seam.a.part)
        names = {seam.a.face, seam.b.face}
        side = _side(names, part.family) if part else None
        if part and side:
            found.append(SeenSeam(tile_key(piece, part), side, seam))
    return found


def _side(names: set[str], family: Family) -> Side | None:
    if family is Family.TOP:
        return Side.TOP if names == {"top", "front edge"} else None
    rest = names - _FACING
    return _SIDES.get(rest.pop()) if len(rest) == 1 else None


class SeamLines(QWidget):
    """Lies over the front and lets the pointer through."""

    def __init__(self, view: PieceView) -> None:
        super().__init__(view)
        self._view = view
        self.seen: list[SeenSeam] = []
        self.setObjectName("seam-lines")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def show_seams(self, seen: Sequence[SeenSeam]) -> None:
        self.seen = list(seen)
        told = [f"{s.seam.a} meets {s.seam.b}, {s.metres}" for s in self.seen]
        self.setAccessibleName("Seams seen from the front")
        self.setAccessibleDescription(". ".join(told))
        self.setGeometry(self._view.rect())
        self.raise_()
        self.update()

    def line_of(self, seen: SeenSeam) -> QLineF:
        """Where a seam is drawn, in px of the view; a null line when its tile is not shown."""
        tile = self._view.tile(seen.tile)
        if tile is None or tile.isHidden():
            return QLineF()
        box = self._view.tile_rect(seen.tile)
        half = THICK / 2
        inner = box.adjusted(half, half, -half, -half)
        corners = {
            Side.LEFT: (inner.topLeft(), inner.bottomLeft()),
            Side.RIGHT: (inner.topRight(), inner.bottomRight()),
            Side.TOP: (inner.topLeft(), inner.topRight()),
            Side.BOTTOM: (inner.bottomLeft(), inner.bottomRight()),
        }
        return QLineF(*corners[seen.side])

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        lines = [(s, self.line_of(s)) for s in self.seen]
        drawn = [(s, line) for s, line in lines if not line.isNull()]
        for seen, line in drawn:
            self._draw(painter, seen.seam.state, line)
        for metres, box in self.labels():
            self._label(painter, metres, box)

    def labels(self) -> list[tuple[str, QRectF]]:
        """The metres with their boxes, in px. What would lie on other words is left out, the
        shortest seams first: every length stands in the list of seams, too."""
        lines = [
            (s, self.line_of(s)) for s in self.seen if s.seam.state is not MaskState.NOT_NEEDED
        ]
        lines = [(s, line) for s, line in lines if line.length() >= LONG_ENOUGH]
        found: list[tuple[str, QRectF]] = []
        taken = self._words_of_tiles()
        for seen, line in sorted(lines, key=lambda each: -each[0].seam.length_mm):
            boxes = (self._box(seen.metres, line.pointAt(at), line.dx() == 0) for at in ALONG)
            free = (b for b in boxes if not any(b.intersects(other) for other in taken))
            if box := next(free, None):
                taken.append(box)
                found.append((seen.metres, box))
        return found

    def _words_of_tiles(self) -> list[QRectF]:
        """Where the numbers and words of the tiles stand, in px of the view."""
        return [
            text.chip.translated(QPointF(tile.pos()))
            for tile in self._view.tiles()
            if not tile.isHidden()
            for text in tile.texts()
        ]

    def _draw(self, painter: QPainter, state: MaskState, line: QLineF) -> None:
        """Open: solid. Masked: solid with the tape's stripes. No tape needed: thin and dotted."""
        theme = theme_of(self)
        if state is MaskState.NOT_NEEDED:
            painter.setPen(QPen(theme.color("quiet"), 2.5, Qt.PenStyle.DotLine))
            painter.drawLine(line)
            return
        masked = state is MaskState.MASKED
        painter.setPen(QPen(theme.color("go" if masked else "wait"), THICK, *FLAT))
        painter.drawLine(line)
        if masked:
            stripes = QPen(theme.color("raised"), THICK - 2, *FLAT)
            stripes.setDashPattern([1.2, 1.2])
            painter.setPen(stripes)
            painter.drawLine(line)

    def _box(self, text: str, at: QPointF, upright: bool) -> QRectF:
        """Round `at`; beside an upright line at the edge of the view it is moved inside."""
        metrics = QFontMetricsF(_font())
        wide, high = metrics.horizontalAdvance(text) + 10, metrics.height() + 2
        box = QRectF(at.x() - wide / 2, at.y() - high / 2, wide, high)
        if upright:
            box.translate(max(0.0, -box.left() + 1) - max(0.0, box.right() - self.width() + 1), 0)
        return box

    def _label(self, painter: QPainter, text: str, box: QRectF) -> None:
        theme = theme_of(self)
        painter.setFont(_font())
        painter.setPen(QPen(theme.color("wait"), 1.4))
        painter.setBrush(theme.color("raised"))
        painter.drawRoundedRect(box, 4, 4)
        painter.setPen(theme.color("ink"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def _font() -> QFont:
    """Of the metres."""
    return sized(-0.6, bold=True)
