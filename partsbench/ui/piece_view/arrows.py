"""Arrows over the piece, from where a part sits to where it lives."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Protocol, cast

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPainterPathStroker,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from partsbench.ui.piece_view.tile import Tile
from partsbench.ui.theme import Theme, in_pixels, theme_of

HEAD = 20.0
EDGE, START = 0.72, 0.3
"""Where an arrow ends and where an upright one begins, as shares of the way to a tile's edge."""
ACROSS = 14.0
"""How far an arrow that goes straight across begins and ends inside the tiles, in px."""
LABEL = 11.0
"""Height of a capital on an arrow, in px."""
FURTHER = 24
"""In so many steps along an arrow a free place is sought for what is written on it."""


class Tiles(Protocol):
    """A widget of tiles, over which arrows lie."""

    def tiles(self) -> list[Tile]:
        """The tiles on show."""

    def tile_rect(self, key: str) -> QRectF:
        """Where a tile's shape is drawn, in px of the widget; an empty rectangle if nowhere."""


class Arrows(QWidget):
    """Lies over the tiles and lets every press through; its parent has `Tiles`."""

    def __init__(self, view: QWidget) -> None:
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
        view = cast(Tiles, self.parentWidget())
        ways: list[tuple[QLineF, str]] = []
        for (start, end), label in zip(self._pairs, self._labels, strict=True):
            a, b = view.tile_rect(start), view.tile_rect(end)
            if not (a.isEmpty() or b.isEmpty() or start == end):
                ways.append((_between(a, b), label))
        for role, width in (("raised", 11.0), ("stop", 5.0)):
            for way, _ in ways:
                _draw(painter, way.p1(), way.p2(), QPen(theme.color(role), width))
        _write_over(painter, view, [way for way, _ in ways], theme)
        numbers = [t.chip.translated(QPointF(tile.pos())) for tile in view.tiles()
                   for t in tile.texts()]  # fmt: skip
        for way, label in ways:
            if label:
                _draw_label(painter, _disc(way, label, numbers), label, theme)


def _between(a: QRectF, b: QRectF) -> QLineF:
    """From inside one edge to inside the other; two that swap have a lane each.

    What goes straight across runs along the lower edges to the right and along the upper ones to
    the left; what goes straight up or down keeps to one side. Neither meets the numbers in between.
    """
    whole = b.center() - a.center()
    if abs(whole.y()) < min(a.height(), b.height()) / 2:
        rightward = whole.x() > 0
        y = min(a.bottom(), b.bottom()) if rightward else max(a.top(), b.top())
        inward = ACROSS if rightward else -ACROSS
        start = a.right() - inward if rightward else a.left() - inward
        return QLineF(start, y, (b.left() if rightward else b.right()) + inward, y)
    upright = abs(whole.x()) < min(a.width(), b.width()) / 4
    aside = min(a.width(), b.width()) * 0.3 if upright else 0.0
    shift = QPointF(aside if whole.y() > 0 else -aside, 0)
    first = START if upright else EDGE
    return QLineF(a.center() + whole * _reach(a, whole) * first + shift,
                  b.center() - whole * _reach(b, whole) * EDGE + shift)  # fmt: skip


def _reach(box: QRectF, whole: QPointF) -> float:
    """Share of the way that lies inside a box, from its middle out."""
    across = box.width() / 2 / abs(whole.x()) if whole.x() else math.inf
    along = box.height() / 2 / abs(whole.y()) if whole.y() else math.inf
    return min(across, along, 0.5)


def _write_over(painter: QPainter, view: Tiles, ways: list[QLineF], theme: Theme) -> None:
    """Numbers that an arrow crosses are written again over it: no arrow hides a number."""
    stroker = QPainterPathStroker()
    stroker.setWidth(12.0)
    crossed = QPainterPath()
    for way in ways:
        line = QPainterPath(way.p1())
        line.lineTo(way.p2())
        crossed.addPath(stroker.createStroke(line))
    for tile in view.tiles():
        corner = QPointF(tile.pos())
        if any(crossed.intersects(text.chip.translated(corner)) for text in tile.texts()):
            painter.save()
            painter.translate(corner)
            tile.draw_texts(painter, theme, chips=True)
            painter.restore()


def _disc(way: QLineF, label: str, numbers: Sequence[QRectF]) -> QRectF:
    """Where the turn of a move is written: at the foot of its arrow, or as far on along it as it
    takes to lie on no number."""
    broad = QFontMetricsF(in_pixels(LABEL, bold=True)).horizontalAdvance(label) + LABEL
    disc = QRectF(0, 0, max(broad, LABEL * 2), LABEL * 2)
    for place in range(FURTHER):
        disc.moveCenter(way.pointAt(place / FURTHER))
        if not any(disc.intersects(number) for number in numbers):
            return disc
    disc.moveCenter(way.p1())
    return disc


def _draw_label(painter: QPainter, disc: QRectF, label: str, theme: Theme) -> None:
    """The turn of a move in a disc that hides that much of its arrow."""
    font = in_pixels(LABEL, bold=True)
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
