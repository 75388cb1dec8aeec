"""Arrows over the piece, from where a part sits to where it lives."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from partsbench.ui.theme import Theme, in_pixels, theme_of

if TYPE_CHECKING:
    from partsbench.ui.piece_view.view import PieceView

HEAD = 20.0
EDGE = 0.72
LABEL = 11.0
"""Height of a capital on an arrow, in px."""


class Arrows(QWidget):
    """Lies over the tiles and lets every press through."""

    def __init__(self, view: PieceView) -> None:
        super().__init__(view)
        self._pairs: tuple[tuple[str, str], ...] = ()
        self._labels: tuple[str, ...] = ()
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.hide()

    def show_pairs(self, pairs: Sequence[tuple[str, str]], labels: Sequence[str] = ()) -> None:
        """Arrows between tiles, each with a few characters at its foot where `labels` has any."""
        self._pairs = tuple(pairs)
        self._labels = (*labels, *[""] * (len(pairs) - len(labels)))
        self.setVisible(bool(pairs))
        self.raise_()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme = theme_of(self)
        view = cast("PieceView", self.parentWidget())
        for (start, end), label in zip(self._pairs, self._labels, strict=True):
            a, b = view.tile_rect(start), view.tile_rect(end)
            if a.isEmpty() or b.isEmpty() or start == end:
                continue
            start_point, end_point = _between(a, b)
            for role, width in (("raised", 11.0), ("stop", 5.0)):
                _draw(painter, start_point, end_point, QPen(theme.color(role), width))
            if label:
                _draw_label(painter, start_point, label, theme)


def _between(a: QRectF, b: QRectF) -> tuple[QPointF, QPointF]:
    """From inside one edge to inside the other, so that the numbers stay clear."""
    whole = b.center() - a.center()

    def reach(box: QRectF) -> float:
        """Share of the way that lies inside a box, from its middle out."""
        across = box.width() / 2 / abs(whole.x()) if whole.x() else math.inf
        along = box.height() / 2 / abs(whole.y()) if whole.y() else math.inf
        return min(across, along, 0.5)

    aside = _aside(whole, min(a.width(), b.width()), min(a.height(), b.height()))
    start = a.center() + whole * reach(a) * EDGE
    return start + aside, b.center() - whole * reach(b) * EDGE + aside


def _aside(way: QPointF, width: float, height: float) -> QPointF:
    """Off the middle, to the left hand of the way: two that swap have an arrow each.

    Only for ways that go straight up, down or across; slanting ones keep clear of the numbers.
    """
    length = math.hypot(way.x(), way.y()) or 1.0
    upright, across = way.y() / length, way.x() / length
    return QPointF(upright**5 * width * 0.28, -(across**9) * height * 0.18)


def _draw_label(painter: QPainter, foot: QPointF, label: str, theme: Theme) -> None:
    """The turn of a move in a disc that hides the foot of its arrow."""
    font = in_pixels(LABEL, bold=True)
    broad = QFontMetricsF(font).horizontalAdvance(label) + LABEL
    disc = QRectF(0, 0, max(broad, LABEL * 2), LABEL * 2)
    disc.moveCenter(foot)
    painter.setPen(QPen(theme.color("raised"), 2.5))
    painter.setBrush(theme.color("stop"))
    painter.drawRoundedRect(disc, LABEL, LABEL)
    painter.setPen(theme.color("on_accent"))
    painter.setFont(font)
    painter.drawText(disc, Qt.AlignmentFlag.AlignCenter, label)


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
