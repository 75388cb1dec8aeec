"""How far something is, drawn in its tile: a level, what its rest waits for, and one sign.

The level rises along the longer side, so that drawers in a column are compared at a glance.
Nothing is told by colour alone: the level has an edge, the rest a pattern, each stand its sign.
"""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from partsbench.ui.piece_view.looks import Gauge, Rim, Sign
from partsbench.ui.piece_view.strokes import ROUND, draw_hatching, mixed
from partsbench.ui.theme import Theme

LEVEL_WASH = 0.38
TALL = 1.7
"""So many times as high as broad: the level rises from the foot."""
RIM = 6.0
"""Px at each side that belong to the outline."""
LEAST_SIGN = 9.0
MOST_SIGN = 34.0


def level_ground(theme: Theme) -> QColor:
    """The ground of what is done; ink is read on it as on the rest."""
    return mixed(theme.color("raised"), theme.color("accent"), LEVEL_WASH)


def level_box(box: QRectF, share: float) -> QRectF:
    """The done part of a box: from the left, or from the foot of a tall one."""
    share = max(0.0, min(1.0, share))
    if box.height() > box.width() * TALL:
        high = box.height() * share
        return QRectF(box.left(), box.bottom() - high, box.width(), high)
    return QRectF(box.left(), box.top(), box.width() * share, box.height())


def draw_gauge(painter: QPainter, box: QRectF, theme: Theme, gauge: Gauge) -> None:
    """Ground, level, outline; the sign comes with `draw_sign`, when texts have been written."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(theme.color("raised"))
    painter.drawRoundedRect(box, ROUND, ROUND)
    level = level_box(box, gauge.share)
    if gauge.sign is Sign.GLASS:
        draw_hatching(painter, box, mixed(theme.color("raised"), theme.color("hatch"), 0.55))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(level_ground(theme))
    painter.drawRoundedRect(level, ROUND, ROUND)
    if 0 < gauge.share < 1:
        _draw_edge(painter, box, level, theme)
    _draw_rim(painter, box, theme, gauge)
    if gauge.behind:
        _draw_wedge(painter, box, theme)


def draw_quiet(
    painter: QPainter, box: QRectF, theme: Theme, gauge: Gauge, rooms: Iterable[QRectF]
) -> None:
    """The ground again where words will stand, without the edge and the hatching."""
    rims = box.adjusted(RIM, RIM, -RIM, -RIM)
    level = level_box(box, gauge.share)
    for room in rooms:
        # Whole px: a soft border would show as a frame round the words.
        quiet = (room & rims).toAlignedRect()
        painter.fillRect(quiet, theme.color("raised"))
        painter.fillRect(quiet & level.toAlignedRect(), level_ground(theme))


def _draw_edge(painter: QPainter, box: QRectF, level: QRectF, theme: Theme) -> None:
    """The strong line at which the level ends."""
    painter.setPen(QPen(theme.color("accent"), max(2.0, min(5.0, box.height() * 0.06))))
    if level.height() < box.height():
        painter.drawLine(level.topLeft(), level.topRight())
    else:
        painter.drawLine(level.topRight(), level.bottomRight())


def rim_width(box: QRectF, gauge: Gauge) -> float:
    """How far the outline reaches into a box, in px: words stand inside it."""
    small = min(box.width(), box.height())
    return max(2.2, min(5.0, small * 0.1)) if gauge.behind else 1.4


def _draw_rim(painter: QPainter, box: QRectF, theme: Theme, gauge: Gauge) -> None:
    thick = rim_width(box, gauge)
    pen = QPen(theme.color("ink"), thick)
    if gauge.rim is Rim.GONE:
        pen.setStyle(Qt.PenStyle.CustomDashLine)
        pen.setDashPattern([7 / thick, 5 / thick])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inset = thick / 2
    painter.drawRoundedRect(box.adjusted(inset, inset, -inset, -inset), ROUND, ROUND)
    if gauge.rim is Rim.BACK:
        painter.setPen(QPen(theme.color("ink"), 1.4))
        inset = thick + 2.6
        painter.drawRoundedRect(box.adjusted(inset, inset, -inset, -inset), ROUND, ROUND)


def _draw_wedge(painter: QPainter, box: QRectF, theme: Theme) -> None:
    """A filled corner at the lower left: behind."""
    size = max(6.0, min(box.width(), box.height()) * 0.34)
    size = min(size, 26.0)
    corner = box.bottomLeft()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(theme.color("ink"))
    painter.drawPolygon([corner, corner + QPointF(size, 0), corner - QPointF(0, size)])


def sign_box(box: QRectF) -> QRectF:
    """Where the sign stands; empty where there is no room for one that can be told."""
    size = min(MOST_SIGN, box.height() * 0.46, box.width() * 0.26)
    if size < LEAST_SIGN:
        size = min(LEAST_SIGN, box.height() * 0.8, box.width() * 0.8)
    gap = max(1.5, size * 0.2)
    return QRectF(box.right() - size - gap, box.top() + gap, size, size)


def clear_of_sign(room: QRectF, box: QRectF, sign: Sign) -> QRectF:
    """What a sign leaves of a room for words."""
    if sign is Sign.NONE:
        return room
    return QRectF(room.left(), room.top(), sign_box(box).left() - 2 - room.left(), room.height())


def draw_sign(painter: QPainter, box: QRectF, theme: Theme, sign: Sign) -> None:
    """The sign of a stand in the corner of its tile."""
    if sign is Sign.NONE:
        return
    spot = sign_box(box)
    size = spot.width()
    role = {Sign.CHECK: "go", Sign.GLASS: "ink"}.get(sign, "stop")
    pen = QPen(theme.color(role), max(1.4, size * 0.13))
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)

    def at(x: float, y: float) -> QPointF:
        return QPointF(spot.x() + x * size, spot.y() + y * size)

    if sign is Sign.CHECK:
        painter.drawPolyline([at(0.06, 0.55), at(0.38, 0.88), at(0.94, 0.12)])
    elif sign is Sign.GLASS:
        painter.setBrush(theme.color(role))
        painter.drawPolygon([at(0.14, 0.06), at(0.86, 0.06), at(0.5, 0.5)])
        painter.drawPolygon([at(0.14, 0.94), at(0.86, 0.94), at(0.5, 0.5)])
    else:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.color(role))
        painter.drawEllipse(spot)
        painter.setPen(QPen(theme.color("raised"), max(1.6, size * 0.16)))
        if sign is Sign.BAR:
            painter.drawLine(at(0.24, 0.5), at(0.76, 0.5))
        else:
            painter.drawLine(at(0.5, 0.2), at(0.5, 0.56))
            painter.drawPoint(at(0.5, 0.78))
