"""How each pattern is drawn: outline, hatching, check mark, cross."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from partsbench.core.piece.front import OpeningKind
from partsbench.ui.piece_view.looks import Pattern
from partsbench.ui.theme import Theme

ROUND = 3.0
HATCH_STEP = 9.0
SOFT_WASH = 0.16
STRONG = 4.0
"""Px of the outline of what is next or wrong."""


def ground_of(theme: Theme, pattern: Pattern, fill: str) -> QColor:
    """What a tile is filled with before anything is drawn on it."""
    if pattern is Pattern.FILLED:
        return theme.color(fill or "accent")
    if pattern is Pattern.EMPTY:
        return theme.color("recess")
    if pattern in (Pattern.DONE, Pattern.WRONG):
        role = "go" if pattern is Pattern.DONE else "stop"
        return mixed(theme.color("raised"), theme.color(role), SOFT_WASH)
    return theme.color(fill or "raised")


def ink_of(theme: Theme, pattern: Pattern, fill: str = "") -> QColor:
    """The colour of what is written on a tile."""
    return theme.color("on_accent" if pattern is Pattern.FILLED and not fill else "ink")


def mixed(under: QColor, over: QColor, share: float) -> QColor:
    return QColor.fromRgbF(
        under.redF() + (over.redF() - under.redF()) * share,
        under.greenF() + (over.greenF() - under.greenF()) * share,
        under.blueF() + (over.blueF() - under.blueF()) * share,
    )


def draw_ground(
    painter: QPainter, box: QRectF, theme: Theme, pattern: Pattern, fill: str, wide: bool
) -> None:
    """Fill and outline; `wide` is the strong phase of a pulsing outline."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground_of(theme, pattern, fill))
    painter.drawRoundedRect(box, ROUND, ROUND)
    if pattern is Pattern.HATCHED:
        draw_hatching(painter, box, theme.color("hatch"))
    if pattern is Pattern.DOTTED:
        draw_dots(painter, box, theme.color("hatch"))
    pen = outline(theme, pattern, wide)
    pen.setWidthF(outline_width(box, pen.widthF(), wide))
    inset = pen.widthF() / 2
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(box.adjusted(inset, inset, -inset, -inset), ROUND, ROUND)


def outline_width(box: QRectF, asked: float = STRONG, wide: bool = False) -> float:
    """How far an outline reaches into a tile, in px: a small one keeps room for its number."""
    return min(asked, max(2.0, min(box.width(), box.height()) * (0.12 if wide else 0.08)))


def outline(theme: Theme, pattern: Pattern, wide: bool) -> QPen:
    if pattern is Pattern.NEXT:
        return QPen(theme.color("accent"), 2 * STRONG if wide else STRONG)
    if pattern is Pattern.WRONG:
        return QPen(theme.color("stop"), STRONG)
    if pattern is Pattern.DONE:
        return QPen(theme.color("go"), 2.0)
    if pattern is Pattern.HIDDEN:
        return QPen(theme.color("ink"), 1.6, Qt.PenStyle.DashLine)
    if pattern is Pattern.EMPTY:
        return QPen(theme.color("line"), 1.4, Qt.PenStyle.DotLine)
    return QPen(theme.color("ink"), 1.4)


def draw_hatching(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """Lines that rise to the right, kept inside the box."""
    painter.save()
    painter.setClipRect(box)
    painter.setPen(QPen(colour, 1.6))
    x = box.left() - box.height()
    while x < box.right():
        painter.drawLine(QPointF(x, box.bottom()), QPointF(x + box.height(), box.top()))
        x += HATCH_STEP
    painter.restore()


def draw_dots(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """Small dots, every other row set back by half a step."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    row, y = 0, box.top() + HATCH_STEP / 2
    while y < box.bottom() - 1:
        x = box.left() + HATCH_STEP * (0.5 + row % 2 / 2)
        while x < box.right() - 1:
            painter.drawEllipse(QPointF(x, y), 1.3, 1.3)
            x += HATCH_STEP
        row, y = row + 1, y + HATCH_STEP


def draw_kind(painter: QPainter, box: QRectF, theme: Theme, kind: OpeningKind | None) -> None:
    """What an opening is for, as thin lines: a door has a panel, a false front a broken one."""
    if kind not in (OpeningKind.DOOR, OpeningKind.FALSE_FRONT, OpeningKind.SHELF):
        return
    pen = QPen(theme.color("line"), 1.0)
    gap = min(box.width(), box.height()) * 0.09
    inner = box.adjusted(gap, gap, -gap, -gap)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if kind is OpeningKind.SHELF:
        painter.setPen(pen)
        painter.drawLine(inner.topLeft(), inner.topRight())
        painter.drawLine(inner.topLeft(), box.topLeft())
        painter.drawLine(inner.topRight(), box.topRight())
        return
    if kind is OpeningKind.FALSE_FRONT:
        pen.setStyle(Qt.PenStyle.DashLine)
    painter.setPen(pen)
    painter.drawRect(inner)


def draw_mark(painter: QPainter, box: QRectF, theme: Theme, pattern: Pattern) -> None:
    """The check mark of DONE or the cross of WRONG, in the upper right corner."""
    if pattern not in (Pattern.DONE, Pattern.WRONG):
        return
    size = max(9.0, min(box.height() * 0.42, box.width() * 0.2, 40.0))
    gap = max(3.0, size * 0.22)
    spot = QRectF(box.right() - size - gap, box.top() + gap, size, size)
    role = "go" if pattern is Pattern.DONE else "stop"
    pen = QPen(theme.color(role), max(2.2, size * 0.16))
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)

    def at(x: float, y: float) -> QPointF:
        return QPointF(spot.x() + x * size, spot.y() + y * size)

    if pattern is Pattern.DONE:
        painter.drawPolyline([at(0.08, 0.55), at(0.38, 0.86), at(0.92, 0.16)])
        return
    painter.drawLine(at(0.12, 0.12), at(0.88, 0.88))
    painter.drawLine(at(0.88, 0.12), at(0.12, 0.88))


def draw_chosen(painter: QPainter, box: QRectF, theme: Theme) -> None:
    """A chosen tile: a second line inside the first, and a filled corner. In a low tile it is
    thinner and further out, clear of the number."""
    thick = min(3.0, min(box.width(), box.height()) * 0.1)
    painter.setPen(QPen(theme.color("accent"), thick))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inset = thick * 1.5
    painter.drawRect(box.adjusted(inset, inset, -inset, -inset))
    size = max(8.0, min(box.width(), box.height()) * 0.2)
    corner = box.adjusted(3, 3, -3, -3).topLeft()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(theme.color("accent"))
    painter.drawPolygon([corner, corner + QPointF(size, 0), corner + QPointF(0, size)])


def draw_focus(painter: QPainter, box: QRectF, theme: Theme) -> None:
    """Where the keyboard is: a strong ring with a light one inside it."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(theme.color("ink"), 3.0))
    painter.drawRoundedRect(box.adjusted(1.5, 1.5, -1.5, -1.5), ROUND, ROUND)
    painter.setPen(QPen(theme.color("raised"), 1.5))
    painter.drawRoundedRect(box.adjusted(3.75, 3.75, -3.75, -3.75), ROUND, ROUND)
