"""Arrows over the piece, from where a part sits to where it lives."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from partsbench.ui.theme import theme_of

if TYPE_CHECKING:
    from partsbench.ui.piece_view.view import PieceView

HEAD = 20.0
EDGE = 0.72


class Arrows(QWidget):
    """Lies over the tiles and lets every press through."""

    def __init__(self, view: PieceView) -> None:
        super().__init__(view)
        self._pairs: tuple[tuple[str, str], ...] = ()
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hide()

    def show_pairs(self, pairs: Sequence[tuple[str, str]]) -> None:
        self._pairs = tuple(pairs)
        self.setVisible(bool(pairs))
        self.raise_()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme = theme_of(self)
        view = cast("PieceView", self.parentWidget())
        for start, end in self._pairs:
            a, b = view.tile_rect(start), view.tile_rect(end)
            if a.isEmpty() or b.isEmpty() or start == end:
                continue
            start_point, end_point = _between(a, b)
            for role, width in (("raised", 11.0), ("stop", 5.0)):
                _draw(painter, start_point, end_point, QPen(theme.color(role), width))


def _between(a: QRectF, b: QRectF) -> tuple[QPointF, QPointF]:
    """From inside one edge to inside the other, so that the numbers stay clear."""
    whole = b.center() - a.center()

    def reach(box: QRectF) -> float:
        """Share of the way that lies inside a box, from its middle out."""
        across = box.width() / 2 / abs(whole.x()) if whole.x() else math.inf
        along = box.height() / 2 / abs(whole.y()) if whole.y() else math.inf
        return min(across, along, 0.5)

    return a.center() + whole * reach(a) * EDGE, b.center() - whole * reach(b) * EDGE


def _draw(painter: QPainter, start: QPointF, end: QPointF, pen: QPen) -> None:
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    angle = math.atan2(end.y() - start.y(), end.x() - start.x())
    head = QPolygonF(
        [end]
        + [
            QPointF(end.x() - HEAD * math.cos(angle + s), end.y() - HEAD * math.sin(angle + s))
            for s in (-0.5, 0.5)
        ]
    )
    painter.setPen(pen)
    painter.setBrush(pen.color())
    painter.drawLine(start, end)
    painter.drawPolygon(head)
