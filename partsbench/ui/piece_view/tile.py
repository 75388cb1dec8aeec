"""One opening, leg, top or carcase as a real button, so that keys and screen readers reach it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from partsbench.core.piece.drawing import ShapeKind
from partsbench.core.piece.front import OpeningKind
from partsbench.ui.fit_text import fitted, line_height, wrapped
from partsbench.ui.piece_view import strokes
from partsbench.ui.piece_view.looks import Pattern, TileLook
from partsbench.ui.piece_view.neighbours import Way
from partsbench.ui.theme import CAPITAL_SHARE, Theme, in_pixels, theme_of

LEGS = (ShapeKind.LEG, ShapeKind.REAR_LEG)
HIGHEST_NUMBER = 46.0
HIGHEST_WORDS = 15.0


class Tile(QAbstractButton):
    """Painted from its look; `box` is its shape within its own rectangle, in px."""

    arrow_pressed = Signal(object, bool)
    chosen = Signal(str, object)
    """The key, and the keyboard modifiers it was pressed with."""
    space_pressed = Signal(str)
    swept = Signal(str, object)
    """The pointer moves with a button down: the key it started on, and where it is (global)."""

    def __init__(
        self, key: str, kind: ShapeKind, opening: OpeningKind | None, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.key = key
        self.kind = kind
        self.opening = opening
        self.look = TileLook()
        self.box = QRectF()
        self.pulls: Sequence[QRectF] = ()
        self.wide = False
        self.note = ""
        self.most = HIGHEST_NUMBER
        self.setObjectName(f"tile-{key}")
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def show_look(self, look: TileLook) -> None:
        """Take a look; the words for a screen reader follow from it."""
        if look == self.look and self.accessibleName():
            return
        self.look = look
        self.setAccessibleName(f"{look.number or self.key} {look.words}".strip())
        self.setAccessibleDescription(look.description or look.pattern.value)
        self.setToolTip(look.description)
        self.update()

    def nextCheckState(self) -> None:
        """What is chosen is decided by the view, not by the press."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        way = _way_of(event.key())
        if way is not None:
            grow = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            self.arrow_pressed.emit(way, grow)
        elif event.key() == Qt.Key.Key_Space:
            self.space_pressed.emit(self.key)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.chosen.emit(self.key, Qt.KeyboardModifier.NoModifier)
        else:
            event.ignore()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        inside = self.isDown() and self.rect().contains(event.position().toPoint())
        super().mouseReleaseEvent(event)
        if inside and event.button() == Qt.MouseButton.LeftButton:
            self.chosen.emit(self.key, event.modifiers())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        if event.buttons() & Qt.MouseButton.LeftButton:
            self.swept.emit(self.key, event.globalPosition())

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self.look
        strokes.draw_ground(painter, self.box, theme, look.pattern, look.fill, self.wide)
        strokes.draw_kind(painter, self.box, theme, self.opening)
        self._draw_pulls(painter, theme)
        strokes.draw_mark(painter, self.box, theme, look.pattern)
        if self.isChecked():
            strokes.draw_chosen(painter, self.box, theme)
        self._draw_texts(painter, theme)
        if self.hasFocus():
            strokes.draw_focus(painter, self.box, theme)

    def _draw_pulls(self, painter: QPainter, theme: Theme) -> None:
        if self.look.pattern is Pattern.EMPTY:
            return
        painter.setPen(QPen(strokes.ink_of(theme, self.look.pattern), 1.2))
        painter.setBrush(strokes.ground_of(theme, self.look.pattern, self.look.fill))
        for pull in self.pulls:
            painter.drawRoundedRect(pull, 2.0, 2.0)

    def _draw_texts(self, painter: QPainter, theme: Theme) -> None:
        if self.kind is ShapeKind.CARCASE:
            return
        room = self._room()
        number = self.look.number
        font = self.number_font(number, self.most)
        if font is None:
            return
        words, lines = self._words(room, font)
        capitals = font.pixelSize() * CAPITAL_SHARE
        block = capitals + (len(lines) * line_height(words) if words else 0.0)
        top = room.center().y() - block / 2
        painter.setPen(strokes.ink_of(theme, self.look.pattern))
        wide = QRectF(room.left() - 20, top - 2, room.width() + 40, capitals + 4)
        if self._needs_chip():
            self._draw_chip(painter, theme, wide, font)
        painter.setFont(font)
        _draw_line(painter, wide, number)
        if words:
            painter.setFont(words)
            for i, line in enumerate(lines):
                y = top + capitals + i * line_height(words)
                _draw_line(
                    painter, QRectF(room.left(), y, room.width(), line_height(words) + 3), line
                )

    def number_font(self, number: str, most: float) -> QFont | None:
        """The font for a number on this tile, its capitals at most `most` px."""
        room = self._room()
        share = 0.5 if self.look.words else 0.62
        marked = self.look.pattern in (Pattern.DONE, Pattern.WRONG) and self.kind not in LEGS
        width = room.width() * (0.62 if marked else 0.88)
        return fitted(number, width, room.height() * share, most)

    def _room(self) -> QRectF:
        """Where the texts go: above the pulls, and clear of the check mark."""
        gap = 3.0
        room = self.box.adjusted(gap, gap, -gap, -gap)
        if self.kind in LEGS:
            return QRectF(self.rect()).adjusted(0, 2, 0, -2)
        if self.pulls and self.opening is not OpeningKind.DOOR:
            room.setBottom(min(pull.top() for pull in self.pulls) - 1)
        if self.note:
            room.setBottom(room.bottom() - min(22.0, room.height() * 0.2))
        return room

    def _words(self, room: QRectF, number: QFont) -> tuple[QFont | None, list[str]]:
        """The second line, when it can be read at all: it is not cut but left out."""
        text = self.look.words if not self.note else f"{self.look.words} {self.note}".strip()
        if not text:
            return None, []
        capitals = number.pixelSize() * CAPITAL_SHARE
        size = min(HIGHEST_WORDS, max(8.0, capitals * 0.42))
        while size >= 7.0:
            font = in_pixels(size)
            lines = wrapped(text, font, room.width() * 0.94)
            fits = lines and capitals + len(lines) * line_height(font) <= room.height()
            if lines and fits:
                return font, lines
            size -= 1.0
        return None, []

    def _needs_chip(self) -> bool:
        return self.kind in LEGS or self.look.pattern in (Pattern.HATCHED, Pattern.DOTTED)

    def _draw_chip(self, painter: QPainter, theme: Theme, line: QRectF, font: QFont) -> None:
        """A quiet ground behind a number that would stand on lines."""
        broad = QFontMetricsF(font).horizontalAdvance(self.look.number) + 8
        chip = QRectF(line.center().x() - broad / 2, line.top() - 2, broad, line.height() + 4)
        pen = painter.pen()
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(strokes.ground_of(theme, self.look.pattern, self.look.fill))
        painter.drawRoundedRect(chip, 3, 3)
        painter.setPen(pen)


def _way_of(key: int) -> Way | None:
    """The direction of an arrow key."""
    return {
        Qt.Key.Key_Left: Way.LEFT,
        Qt.Key.Key_Right: Way.RIGHT,
        Qt.Key.Key_Up: Way.UP,
        Qt.Key.Key_Down: Way.DOWN,
    }.get(Qt.Key(key))


def _draw_line(painter: QPainter, box: QRectF, text: str) -> None:
    """One line, its capitals in the middle of the box's height."""
    metrics = painter.fontMetrics()
    x = box.center().x() - metrics.horizontalAdvance(text) / 2
    painter.drawText(int(x), int(box.center().y() + metrics.capHeight() / 2 + 0.5), text)
