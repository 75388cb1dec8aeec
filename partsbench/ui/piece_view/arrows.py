"""Arrows over the piece, from where a part sits to where it lives."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from partsbench.ui.theme import theme_of

if TYPE_CHECKING:
    from partsbench.ui.piece_view.view import PieceView

HEAD = 20.0


class Arrows(QWidget):
    """Lies over the tiles and lets every press through."""

    def __init__(self, view: PieceView) -> None:
        super().__init__(view)
        self._view = view
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
        for start, end in self._pairs:
            a, b = self._view.tile_rect(start), self._view.tile_rect(end)
            if a.isEmpty() or b.isEmpty() or start == end:
                continue
            for role, width in (("raised", 11.0), ("stop", 5.0)):
                _draw(painter, a.center(), b.center(), QPen(theme.color(role), width))


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
