"""The band under the large word: what to mind, in letters that never shrink."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFont,
    QFontInfo,
    QFontMetrics,
    QHideEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.ui.theme import sized, theme_of

LETTERS_PX = 20
LINES = 4
EDGE, MARK = 10, 34
MORE = "… all of it: M"


class CautionBand(QWidget):
    """Always of the same height, with words or without. What has no room ends in how to see it all:
    M, or a press, lays the whole of it over what is below, until it is pressed again or the words
    change. Its page gives it the key."""

    pressed = Signal()

    def __init__(self, most_lines: int = LINES) -> None:
        super().__init__()
        self._text = ""
        self._most = most_lines
        self._over: CautionBand | None = None
        self._lent = False
        self.setObjectName("cautions")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.pressed.connect(self.on_all_pressed)
        self.setFixedHeight(round(most_lines * self._metrics().lineSpacing()) + 2 * EDGE)

    def text(self) -> str:
        """The words of the band."""
        return self._text

    def show_text(self, text: str) -> None:
        if text != self._text:
            self._text = text
            self.show_all(False)
            self._keep_room()
            self.setAccessibleName(f"Mind: {text}" if text else "Nothing to mind")
            self.setToolTip(text)
            self.update()

    def lend_room(self, on: bool) -> None:
        """Something else may have its room while there is nothing to mind; words come at once."""
        self._lent = on
        self._keep_room()

    def _keep_room(self) -> None:
        self.setHidden(self._lent and not self._text)

    def lines(self) -> list[str]:
        """The words as they are drawn; the last line says how to see more where some are left."""
        return fitted_lines(self._text, self._metrics(), self._room().width(), self._most, MORE)

    @property
    def is_cut(self) -> bool:
        """Some of the words have no room."""
        return self.lines()[-1:] != self._all_lines()[-1:]

    def on_all_pressed(self) -> None:
        self.show_all(self._over is None)

    def show_all(self, on: bool) -> None:
        """All of the words over the page, or no more; nothing moves for it."""
        if self._over is not None:
            self._over.deleteLater()
            self._over.hide()
            self._over = None
        page = self.parentWidget()
        if not on or page is None or not self.is_cut:
            return
        over = self._over = CautionBand(len(self._all_lines()))
        over.setParent(page)
        over.setObjectName("cautions-all")
        over.show_text(self._text)
        over.pressed.connect(self.on_all_pressed)
        top = max(0, min(self.y(), page.height() - over.height()))
        over.setGeometry(self.x(), top, self.width(), over.height())
        over.show()
        over.raise_()

    def _all_lines(self) -> list[str]:
        most = max(1, len(self._text))
        return fitted_lines(self._text, self._metrics(), self._room().width(), most, "")

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.pressed.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.show_all(False)
        super().resizeEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        self.show_all(False)
        super().hideEvent(event)

    def sizeHint(self) -> QSize:
        return QSize(600, self.height())

    def _font(self) -> QFont:
        font = sized(0)
        font.setPixelSize(max(LETTERS_PX, QFontInfo(font).pixelSize()))
        return font

    def _metrics(self) -> QFontMetrics:
        return QFontMetrics(self._font())

    def _room(self) -> QRectF:
        return QRectF(self.rect()).adjusted(EDGE + MARK, EDGE, -EDGE, -EDGE)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._text:
            return
        painter, theme = QPainter(self), theme_of(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter.setPen(QPen(theme.color("wait"), 2))
        painter.setBrush(theme.color("raised"))
        painter.drawRoundedRect(box, 6, 6)
        self._draw_mark(painter, QRectF(box.left() + EDGE, box.top() + EDGE + 2, 22, 22))
        painter.setFont(self._font())
        painter.setPen(theme.color("ink"))
        room, high = self._room(), self._metrics().lineSpacing()
        for place, line in enumerate(self.lines()):
            row = QRectF(room.left(), room.top() + place * high, room.width(), high)
            painter.drawText(row, Qt.AlignmentFlag.AlignVCenter, line)

    def _draw_mark(self, painter: QPainter, box: QRectF) -> None:
        """A bar over a dot, as on a warning sign."""
        colour = theme_of(self).color("wait")
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        bar = QRectF(box.center().x() - 3, box.top(), 6, box.height() * 0.62)
        painter.drawRoundedRect(bar, 3, 3)
        painter.drawEllipse(QRectF(box.center().x() - 3, box.bottom() - 5, 6, 6))


def fitted_lines(text: str, metrics: QFontMetrics, width: float, most: int, more: str) -> list[str]:
    """Words in at most so many lines; where some are left, the last line ends in `more`."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and metrics.horizontalAdvance(longer) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    lines.append(line)
    if len(lines) <= most:
        return [each for each in lines if each]
    last = lines[most - 1].split()
    while last and metrics.horizontalAdvance(" ".join([*last, more])) > width:
        last.pop()
    return [*lines[: most - 1], " ".join([*last, more])]
