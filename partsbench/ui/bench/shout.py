"""The one large word of an answer, told by word, sign and border; colour only helps."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.core.outcomes import Answer
from partsbench.ui.fit_text import fitted, fitted_block, line_height
from partsbench.ui.theme import CAPITAL_SHARE, theme_of

BORDER = 14.0
SHORT_WORD = 5
ROLES: Mapping[Answer, str] = {
    Answer.GO: "go",
    Answer.WAIT: "wait",
    Answer.LATE: "stop",
    Answer.STOP: "stop",
    Answer.OTHER_JOB: "foreign",
}
Sign = Callable[[QPainter, QRectF], None]


class Shout(QWidget):
    """The word, a sign beside it, and below it one line of what it means now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._answer: Answer | None = None
        self._line = ""
        self.setObjectName("shout")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(220, 110)

    @property
    def word(self) -> str:
        return self._answer.value if self._answer else ""

    @property
    def line(self) -> str:
        return self._line

    def show_answer(self, answer: Answer | None, line: str = "") -> None:
        """Show an answer; None is the quiet state in which nothing was asked."""
        self._answer, self._line = answer, line
        self.setAccessibleName(f"{self.word}. {line}".strip(". ") or "No answer yet")
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(460, 180)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme = theme_of(self)
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        if self._answer is None:
            painter.setPen(QPen(theme.color("line"), 1.6, Qt.PenStyle.DashLine))
            painter.drawRoundedRect(box, 8, 8)
            self._draw_line(painter, box.adjusted(16, 12, -16, -12), "quiet", 26.0)
            return
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.color(ROLES[self._answer]))
        painter.drawRoundedRect(box, 8, 8)
        ink = theme.color("on_accent")
        painter.save()
        _BORDERS[self._answer](painter, box, QPen(ink, 4.0))
        painter.restore()
        self._draw_word(painter, box.adjusted(20, BORDER + 8, -20, -BORDER - 6), QPen(ink))

    def _draw_word(self, painter: QPainter, room: QRectF, pen: QPen) -> None:
        below = 0.26 if self._line else 0.0
        word_room = QRectF(room.left(), room.top(), room.width(), room.height() * (1 - below))
        share = 0.2 if len(self.word) <= SHORT_WORD else 0.13
        side = min(word_room.height() * 0.7, room.width() * share)
        sign = QRectF(room.left(), word_room.center().y() - side / 2, side, side)
        painter.save()
        pen.setWidthF(max(4.0, side * 0.13))
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        assert self._answer is not None
        _SIGNS[self._answer](painter, sign)
        painter.restore()
        text_room = word_room.adjusted(side + 22, 0, 0, 0)
        font = fitted(self.word, text_room.width(), text_room.height() * 0.86, 150.0)
        painter.setPen(pen.color())
        if font:
            painter.setFont(font)
            capitals = font.pixelSize() * CAPITAL_SHARE
            painter.drawText(
                QPointF(text_room.left(), text_room.center().y() + capitals / 2), self.word
            )
        self._draw_line(painter, room.adjusted(0, room.height() * (1 - below), 0, 0), "", 30.0)

    def _draw_line(self, painter: QPainter, room: QRectF, role: str, most: float) -> None:
        found = fitted_block(self._line, room, most) if self._line else None
        if found is None:
            return
        font, lines = found
        if role:
            painter.setPen(theme_of(self).color(role))
        painter.setFont(font)
        high = line_height(font)
        top = room.center().y() - high * len(lines) / 2
        for place, line in enumerate(lines):
            row = QRectF(room.left(), top + place * high, room.width(), high)
            painter.drawText(row, Qt.AlignmentFlag.AlignVCenter, line)


def _check(painter: QPainter, box: QRectF) -> None:
    painter.drawPolyline(_points(box, (0.08, 0.55), (0.38, 0.86), (0.94, 0.16)))


def _cross(painter: QPainter, box: QRectF) -> None:
    painter.drawPolyline(_points(box, (0.12, 0.12), (0.88, 0.88)))
    painter.drawPolyline(_points(box, (0.88, 0.12), (0.12, 0.88)))


def _two_pieces(painter: QPainter, box: QRectF) -> None:
    """Two chests that are not the same one."""
    painter.drawRect(QRectF(box.left(), box.top() + box.height() * 0.1, box.width() * 0.4,
                            box.height() * 0.8))  # fmt: skip
    painter.drawRect(QRectF(box.left() + box.width() * 0.6, box.top() + box.height() * 0.45,
                            box.width() * 0.4, box.height() * 0.45))  # fmt: skip


def _sandglass(painter: QPainter, box: QRectF) -> None:
    painter.drawPolygon(_points(box, (0.15, 0.08), (0.85, 0.08), (0.15, 0.92), (0.85, 0.92)))


def _past_the_end(painter: QPainter, box: QRectF) -> None:
    painter.drawPolyline(_points(box, (0.1, 0.5), (0.62, 0.5)))
    painter.drawPolyline(_points(box, (0.42, 0.26), (0.66, 0.5), (0.42, 0.74)))
    painter.drawPolyline(_points(box, (0.88, 0.08), (0.88, 0.92)))


def _points(box: QRectF, *shares: tuple[float, float]) -> QPolygonF:
    return QPolygonF(
        [QPointF(box.left() + x * box.width(), box.top() + y * box.height()) for x, y in shares]
    )


def _edges(box: QRectF) -> list[QRectF]:
    inner = box.adjusted(6, 4, -6, -4)
    return [
        QRectF(inner.left(), inner.top(), inner.width(), BORDER),
        QRectF(inner.left(), inner.bottom() - BORDER, inner.width(), BORDER),
    ]


def _no_border(painter: QPainter, box: QRectF, pen: QPen) -> None:
    """GO is calm."""


def _stripes(painter: QPainter, box: QRectF, pen: QPen) -> None:
    painter.setPen(pen)
    for edge in _edges(box):
        painter.setClipRect(edge)
        x = edge.left() - BORDER
        while x < edge.right():
            painter.drawLine(QPointF(x, edge.bottom()), QPointF(x + BORDER, edge.top()))
            x += 14
        painter.setClipping(False)


def _squares(painter: QPainter, box: QRectF, pen: QPen) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(pen.color())
    for edge in _edges(box):
        count = int(edge.width() / BORDER)
        for place in range(count):
            half = BORDER / 2
            y = edge.top() + (place % 2) * half
            painter.drawRect(QRectF(edge.left() + place * BORDER, y, half + 2, half))


def _dashes(painter: QPainter, box: QRectF, pen: QPen) -> None:
    pen.setStyle(Qt.PenStyle.DashLine)
    painter.setPen(pen)
    for edge in _edges(box):
        painter.drawLine(QPointF(edge.left(), edge.center().y()),
                         QPointF(edge.right(), edge.center().y()))  # fmt: skip


def _dots(painter: QPainter, box: QRectF, pen: QPen) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(pen.color())
    for edge in _edges(box):
        x = edge.left() + 6
        while x < edge.right():
            painter.drawEllipse(QPointF(x, edge.center().y()), 4, 4)
            x += 16


_SIGNS: Mapping[Answer, Sign] = {
    Answer.GO: _check,
    Answer.WAIT: _sandglass,
    Answer.LATE: _past_the_end,
    Answer.STOP: _cross,
    Answer.OTHER_JOB: _two_pieces,
}
_BORDERS: Mapping[Answer, Callable[[QPainter, QRectF, QPen], None]] = {
    Answer.GO: _no_border,
    Answer.WAIT: _dashes,
    Answer.LATE: _dots,
    Answer.STOP: _stripes,
    Answer.OTHER_JOB: _squares,
}
