"""A band across the window that says, as long as it is so, what every scan does now."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.ui.fit_text import fitted
from partsbench.ui.theme import theme_of

HIGH = 48
LOW = 30
BAR = 10.0
TALLEST = 24.0
RAISED = 0.42


class Band(QWidget):
    """Loud: full width between two rows of bars. Quiet: one line of what is at hand."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._text = self._beside = ""
        self.setObjectName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.hide()

    def show_words(self, text: str, beside: str = "") -> None:
        """`text` in large letters, `beside` in small ones; hidden when there is neither."""
        if (text, beside) == (self._text, self._beside):
            return
        self._text, self._beside = text, beside
        self.setAccessibleName(". ".join(filter(None, (text, beside))))
        self.setVisible(bool(text or beside))
        self.updateGeometry()
        self.update()

    @property
    def text(self) -> str:
        return self._text

    @property
    def beside(self) -> str:
        return self._beside

    def sizeHint(self) -> QSize:
        return QSize(400, HIGH if self._text else LOW)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        box = QRectF(self.rect())
        if not self._text:
            painter.fillRect(box, theme.color("recess"))
            self._draw(painter, self._beside, box.adjusted(16, 0, -16, 0), 12, bold=False)
            return
        painter.fillRect(box, theme.color("accent"))
        x = 0.0
        while x < box.width():
            for y in (0.0, box.height() - 4):
                painter.fillRect(QRectF(x, y, BAR, 4), theme.color("on_accent"))
            x += 2 * BAR
        room = box.adjusted(16, 8, -16, -8)
        if self._beside:
            half = room.width() * 0.55
            self._draw(painter, self._beside, room.adjusted(half + 12, 0, 0, 0), 13, bold=False)
            room.setWidth(half)
        self._draw(painter, self._text, room, TALLEST, bold=True)

    def _draw(self, painter: QPainter, text: str, room: QRectF, most: float, *, bold: bool) -> None:
        font = fitted(text, room.width(), room.height() - 6, most, bold)
        if font is None:
            return
        painter.setFont(font)
        painter.setPen(theme_of(self).color("on_accent" if self._text else "ink"))
        metrics = QFontMetricsF(font)
        alone = bool(self._text) and not self._beside
        over = room.width() - metrics.horizontalAdvance(text)
        # The capitals stand a little above the middle, so that what hangs below has room.
        foot = room.center().y() + RAISED * metrics.capHeight()
        painter.drawText(QPointF(room.left() + (over / 2 if alone else 0), foot), text)
