"""A picture that was looked at, with an outline round each label that was found in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.reading.found import SIDE, Corners, PagePoint
from partsbench.reading.views import View
from partsbench.ui.theme import sized, theme_of

HALO = 6.0
THIN, THICK, RING = 2.5, 4.5, 1.5
LOOSE = 1.16
"""An outline stands this much away from the symbol, so that it covers none of it."""
LEAST_MARK = 3.0
"""Modules smaller than this on the screen are not marked one by one."""
MOST_WORDS = 8
"""On a whole sheet only the outline that is asked about bears its word: more would hide it."""


@dataclass(frozen=True, slots=True)
class Outline:
    """What to draw round one symbol: corners on its page, a short word, and the line's kind.

    `marked` are middles of modules to ring, in the same pixels.
    """

    page: int
    corners: Corners
    word: str
    line: Qt.PenStyle = Qt.PenStyle.SolidLine
    role: str = "accent"
    strong: bool = False
    marked: tuple[PagePoint, ...] = ()


class SeenPicture(QWidget):
    """As large as there is room, never larger than twice its pixels."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view: View | None = None
        self._image = QImage()
        self._outlines: tuple[Outline, ...] = ()
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(140, 110)

    def show_view(self, view: View | None, outlines: Sequence[Outline]) -> None:
        """Show a view, and those of the outlines that are on its page."""
        if view is not self._view:
            self._view = view
            self._image = image_of(view) if view else QImage()
        self._outlines = tuple(o for o in outlines if view and o.page == view.page)
        words = ", ".join(dict.fromkeys(outline.word for outline in self._outlines))
        self.setAccessibleDescription(f"Outlined: {words}" if words else "Nothing outlined")
        self.update()

    def page(self) -> int:
        return self._view.page if self._view else 0

    def sizeHint(self) -> QSize:
        return self._image.size().boundedTo(QSize(720, 540))

    def place_of(self, outline: Outline) -> QPolygonF:
        """Where an outline is drawn, in pixels of this widget."""
        points = self._points(outline.corners)
        centre = QPointF(sum(p.x() for p in points) / 4, sum(p.y() for p in points) / 4)
        return QPolygonF([centre + (point - centre) * LOOSE for point in points])

    def rings_of(self, outline: Outline) -> list[QRectF]:
        """Rings round the marked modules; none where they would be too small to be seen."""
        corners = self._points(outline.corners)
        module = QLineF(corners[0], corners[1]).length() / SIDE
        if module < LEAST_MARK or not outline.strong:
            return []
        ring = QRectF(0, 0, 0.6 * module, 0.6 * module)
        return [ring.translated(p - ring.center()) for p in self._points(outline.marked)]

    def _points(self, places: Sequence[PagePoint]) -> list[QPointF]:
        """Pixels of this widget for places of the page."""
        assert self._view is not None
        box, view = self._box(), self._view
        grown = box.width() / max(1, view.width) / view.scale
        return [
            QPointF(box.left() + (x - view.left) * grown, box.top() + (y - view.top) * grown)
            for x, y in places
        ]

    def _box(self) -> QRectF:
        """Where the picture stands: whole, in the middle."""
        size = QSize(self._image.size() * 2).boundedTo(self.size())
        fitted = self._image.size().scaled(size, Qt.AspectRatioMode.KeepAspectRatio)
        box = QRectF(0, 0, fitted.width(), fitted.height())
        box.moveCenter(QRectF(self.rect()).center())
        return box

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        theme = theme_of(self)
        if self._image.isNull():
            painter.fillRect(self.rect(), theme.color("recess"))
            return
        painter.setRenderHints(
            QPainter.RenderHint.SmoothPixmapTransform | QPainter.RenderHint.Antialiasing
        )
        painter.drawImage(self._box(), self._image)
        for outline in self._outlines:
            place = self.place_of(outline)
            for colour, width, line in (
                (theme.color("raised"), HALO, Qt.PenStyle.SolidLine),
                (theme.color(outline.role), THICK if outline.strong else THIN, outline.line),
            ):
                painter.setPen(QPen(colour, width, line, Qt.PenCapStyle.FlatCap))
                painter.drawPolygon(place)
            self._ring_modules(painter, outline)
        crowded = len(self._outlines) > MOST_WORDS
        for outline in self._outlines:
            if outline.strong or not crowded:
                self._write_word(painter, outline)

    def _ring_modules(self, painter: QPainter, outline: Outline) -> None:
        rings = self.rings_of(outline)
        for role, width in (("raised", RING + 1.5), (outline.role, RING)):
            painter.setPen(QPen(theme_of(self).color(role), width))
            for ring in rings:
                painter.drawEllipse(ring)

    def _write_word(self, painter: QPainter, outline: Outline) -> None:
        """The word on a ground of its own above the outline, kept inside the picture."""
        theme = theme_of(self)
        painter.setFont(sized(0, bold=True))
        room = painter.fontMetrics().size(Qt.TextFlag.TextSingleLine, outline.word)
        chip = QRectF(0, 0, room.width() + 10, room.height() + 2)
        around = self.place_of(outline).boundingRect()
        chip.moveBottomLeft(around.topLeft() - QPointF(0, HALO))
        box = self._box()
        chip.moveLeft(max(box.left(), min(chip.left(), box.right() - chip.width())))
        chip.moveTop(max(box.top(), chip.top()))
        painter.fillRect(chip, theme.color("raised"))
        painter.setPen(QPen(theme.color(outline.role), 1))
        painter.drawRect(chip)
        painter.setPen(theme.color("ink"))
        painter.drawText(chip, Qt.AlignmentFlag.AlignCenter, outline.word)


def image_of(view: View) -> QImage:
    """The view as an image that keeps its own bytes."""
    form = QImage.Format.Format_RGB888
    return QImage(view.rgb, view.width, view.height, 3 * view.width, form).copy()
