"""The one large word of an answer, told by word, sign and border; colour only helps."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import StrEnum

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.core.key_words import word_of
from partsbench.ui.fit_text import fitted, fitted_block, line_height
from partsbench.ui.theme import CAPITAL_SHARE, theme_of


class WordLook(StrEnum):
    """How the large word is worn; the value is the word that it mostly is."""

    GO = "GO"
    WAIT = "WAIT"
    LATE = "LATE"
    STOP = "STOP"
    OTHER_JOB = "OTHER JOB"
    DONE = "DONE"
    """Something was recorded: a frame and no ground, unlike all that is still to be answered."""


BORDER = 14.0
SHORT_WORD = 5
FRAME = 7.0
QUIET_MOST = 26.0
ROLES: Mapping[WordLook, str] = {
    WordLook.GO: "go",
    WordLook.WAIT: "wait",
    WordLook.LATE: "stop",
    WordLook.STOP: "stop",
    WordLook.OTHER_JOB: "foreign",
    WordLook.DONE: "go",
}
PaintSign = Callable[[QPainter, QRectF], None]


class Shout(QWidget):
    """The word, a sign beside it, and below it one line of what it means now.

    `below` is the share of the height that the line has, `most` its capitals at most, in px.
    """

    def __init__(
        self, parent: QWidget | None = None, *, below: float = 0.26, most: float = 30.0
    ) -> None:
        super().__init__(parent)
        self._look: WordLook | None = None
        self._line = self._about = self._word = ""
        self._below, self._most = below, most
        self.setObjectName("shout")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(220, 110)

    @property
    def word(self) -> str:
        return self._word or (word_of(self._look) if self._look else "")

    @property
    def line(self) -> str:
        return self._line

    @property
    def about(self) -> str:
        return self._about

    def show_answer(
        self, look: WordLook | None, line: str = "", about: str = "", word: str = ""
    ) -> None:
        """Show an answer; None is the quiet state in which nothing was asked.

        `about` is the number of the part, shown as large as the word where it is not seen already.
        `word` stands for the answer's own.
        """
        self._look, self._line, self._about, self._word = look, line, about, word
        said = ". ".join(words for words in (about, self.word, line) if words)
        self.setAccessibleName(said or "No answer yet")
        self.update()

    def line_capitals(self) -> float:
        """How high the capitals of the line are drawn, in px; 0 when it has no room."""
        found = self._fitted_line()
        return found[0].pixelSize() * CAPITAL_SHARE if found else 0.0

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
        box = self._box()
        if self._look is None:
            painter.setPen(QPen(theme.color("line"), 1.6, Qt.PenStyle.DashLine))
            painter.drawRoundedRect(box, 8, 8)
            painter.setPen(theme.color("quiet"))
            self._draw_line(painter)
            return
        role = theme.color(ROLES[self._look])
        framed = self._look is WordLook.DONE
        painter.setPen(QPen(role, FRAME) if framed else Qt.PenStyle.NoPen)
        painter.setBrush(theme.color("raised") if framed else role)
        inset = FRAME / 2 if framed else 0.0
        painter.drawRoundedRect(box.adjusted(inset, inset, -inset, -inset), 8, 8)
        ink = role if framed else theme.color("on_accent")
        painter.save()
        _BORDERS[self._look](painter, box, QPen(ink, 4.0))
        painter.restore()
        self._draw_word(painter, self._word_room(), QPen(ink))
        painter.setPen(ink)
        self._draw_line(painter)

    # Rooms

    def _box(self) -> QRectF:
        return QRectF(self.rect()).adjusted(1, 1, -1, -1)

    def _room(self) -> QRectF:
        """What is inside the border."""
        if self._look is None:
            return self._box().adjusted(16, 12, -16, -12)
        return self._box().adjusted(20, BORDER + 8, -20, -BORDER - 6)

    def _word_room(self) -> QRectF:
        room = self._room()
        share = 1 - self._below if self._line else 1.0
        return QRectF(room.left(), room.top(), room.width(), room.height() * share)

    def _line_room(self) -> QRectF:
        room = self._room()
        if self._look:
            room.setTop(room.bottom() - room.height() * self._below)
        return room

    def _fitted_line(self) -> tuple[QFont, list[str]] | None:
        most = self._most if self._look else QUIET_MOST
        return fitted_block(self._line, self._line_room(), most) if self._line else None

    # Drawing

    def _draw_word(self, painter: QPainter, room: QRectF, pen: QPen) -> None:
        share = 0.2 if len(self.word) <= SHORT_WORD else 0.13
        side = min(room.height() * 0.7, room.width() * share)
        sign = QRectF(room.left(), room.center().y() - side / 2, side, side)
        painter.save()
        pen.setWidthF(max(4.0, side * 0.13))
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        assert self._look is not None
        _SIGNS[self._look](painter, sign)
        painter.restore()
        text_room = room.adjusted(side + 22, 0, 0, 0)
        both = f"{self.word}   {self._about}" if self._about else self.word
        font = fitted(both, text_room.width(), text_room.height() * 0.86, 150.0)
        if font is None:
            return
        painter.setPen(pen.color())
        painter.setFont(font)
        base = text_room.center().y() + font.pixelSize() * CAPITAL_SHARE / 2
        painter.drawText(QPointF(text_room.left(), base), self.word)
        if self._about:
            broad = painter.fontMetrics().horizontalAdvance(self._about)
            painter.drawText(QPointF(text_room.right() - broad, base), self._about)

    def _draw_line(self, painter: QPainter) -> None:
        found = self._fitted_line()
        if found is None:
            return
        font, lines = found
        room = self._line_room()
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


_SIGNS: Mapping[WordLook, PaintSign] = {
    WordLook.GO: _check,
    WordLook.WAIT: _sandglass,
    WordLook.LATE: _past_the_end,
    WordLook.STOP: _cross,
    WordLook.OTHER_JOB: _two_pieces,
    WordLook.DONE: _check,
}
_BORDERS: Mapping[WordLook, Callable[[QPainter, QRectF, QPen], None]] = {
    WordLook.GO: _no_border,
    WordLook.WAIT: _dashes,
    WordLook.LATE: _dots,
    WordLook.STOP: _stripes,
    WordLook.OTHER_JOB: _squares,
    WordLook.DONE: _no_border,
}
