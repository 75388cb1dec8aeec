"""One opening, leg, top or carcase as a real button, so that keys and screen readers reach it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from partsbench.core.piece.drawing import ShapeKind
from partsbench.core.piece.front import OpeningKind
from partsbench.ui.fit_text import SMALLEST, fitted, line_height, wrapped
from partsbench.ui.piece_view import strokes
from partsbench.ui.piece_view.gauge import (
    clear_of_sign,
    draw_gauge,
    draw_quiet,
    draw_sign,
    rim_width,
)
from partsbench.ui.piece_view.looks import Pattern, TileLook
from partsbench.ui.piece_view.neighbours import Way
from partsbench.ui.theme import CAPITAL_SHARE, Theme, in_pixels, theme_of

LEGS = (ShapeKind.LEG, ShapeKind.REAR_LEG)
HIGHEST_NUMBER = 46.0
HIGHEST_WORDS = 15.0
LOW = 2.6
"""So many times as broad as high: number and steps stand in one row."""
STEPS_SHARE = 0.8
HIGHEST_STEPS = 24.0
"""How far along a part is has to be read from two metres."""
LEAST_TAG = 8.0
INSIDE = 3.0
"""So far from the edge of a tile its words begin, in px, or inside a heavier outline."""


@dataclass(frozen=True, slots=True)
class Text:
    """One line on a tile, and where the middle of its capitals is."""

    text: str
    font: QFont
    middle: QPointF

    @property
    def chip(self) -> QRectF:
        """The room it takes, with a little air."""
        metrics = QFontMetricsF(self.font)
        broad, high = metrics.horizontalAdvance(self.text) + 8, metrics.capHeight() + 8
        return QRectF(self.middle.x() - broad / 2, self.middle.y() - high / 2, broad, high)


class Tile(QAbstractButton):
    """Painted from its look; `box` is its shape within its own rectangle, in px."""

    draws_focus = True

    arrow_pressed = Signal(Way, bool)
    chosen = Signal(str, Qt.KeyboardModifier)
    """The key, and the keyboard modifiers it was pressed with."""
    space_pressed = Signal(str)
    swept = Signal(str, QPointF)
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
        if look.gauge:
            draw_gauge(painter, self.box, theme, look.gauge)
            draw_sign(painter, self.box, theme, look.gauge.sign)
        else:
            strokes.draw_ground(painter, self.box, theme, look.pattern, look.fill, self.wide)
            strokes.draw_kind(painter, self.box, theme, self.opening)
            self._draw_pulls(painter, theme)
            strokes.draw_mark(painter, self.box, theme, look.pattern)
        if self.isChecked():
            strokes.draw_chosen(painter, self.box, theme)
        self.draw_texts(painter, theme, self._on_lines())
        if self.hasFocus():
            strokes.draw_focus(painter, QRectF(self.rect()) if self._tag() else self.box, theme)

    def _draw_pulls(self, painter: QPainter, theme: Theme) -> None:
        if self.look.pattern is Pattern.EMPTY:
            return
        painter.setPen(QPen(strokes.ink_of(theme, self.look.pattern, self.look.fill), 1.2))
        painter.setBrush(strokes.ground_of(theme, self.look.pattern, self.look.fill))
        for pull in self.pulls:
            painter.drawRoundedRect(pull, 2.0, 2.0)

    def texts(self) -> list[Text]:
        """The number and the words under it, each with its font and the middle of its capitals."""
        font = self.number_font(self.look.number, self.most)
        if self.kind is ShapeKind.CARCASE or font is None:
            return []
        room = self._room()
        if self._beside(self.look.number, self.most):
            return self._side_by_side(room, font)
        rows = [(self.look.number, font, font.pixelSize() * CAPITAL_SHARE)]
        words, lines = self._words(room, font)
        if words:
            rows += [(line, words, line_height(words)) for line in lines]
        top = room.center().y() - sum(height for _, _, height in rows) / 2
        placed = []
        for text, each, height in rows:
            # Capitals of the number fill its row; a line of words stands a little lower in its own.
            middle = top + height / 2 + (1.5 if each is words else 0.0)
            placed.append(Text(text, each, QPointF(room.center().x(), middle)))
            top += height
        return placed

    def _beside(self, number: str, most: float) -> QFont | None:
        """The font of a number with its steps beside it: in a low tile both are larger so."""
        room = self._room()
        if not self.look.gauge or not self.look.words or room.width() <= LOW * room.height():
            return None
        both = f"{number}  {self.look.words}"
        font = fitted(both, room.width() * 0.92, room.height() * 0.62, most)
        # Steps that could not be read would only make the number smaller.
        read = font and font.pixelSize() * CAPITAL_SHARE * STEPS_SHARE >= SMALLEST
        return font if read else None

    def _side_by_side(self, room: QRectF, number: QFont) -> list[Text]:
        """The number and the steps in one row, the steps a little smaller and not bold."""
        steps = in_pixels(number.pixelSize() * CAPITAL_SHARE * STEPS_SHARE)
        widths = [
            QFontMetricsF(font).horizontalAdvance(text)
            for font, text in ((number, self.look.number), (steps, self.look.words))
        ]
        gap = number.pixelSize() * 0.5
        left = room.center().x() - (sum(widths) + gap) / 2
        y = room.center().y()
        return [
            Text(self.look.number, number, QPointF(left + widths[0] / 2, y)),
            Text(self.look.words, steps, QPointF(left + widths[0] + gap + widths[1] / 2, y)),
        ]

    def draw_texts(self, painter: QPainter, theme: Theme, chips: bool) -> None:
        """Write what stands on the tile, on a quiet ground of its own where it lies on lines."""
        placed = self.texts()
        if self.look.gauge and self._tag() is None:
            rooms = [text.chip for text in placed]
            draw_quiet(painter, self.box, theme, self.look.gauge, rooms)
        elif chips:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(strokes.ground_of(theme, self.look.pattern, self.look.fill))
            for text in placed:
                painter.drawRoundedRect(text.chip, 3, 3)
        beside = self._tag() is not None
        ink = strokes.ink_of(theme, self.look.pattern, self.look.fill)
        painter.setPen(theme.color("ink") if beside else ink)
        for text in placed:
            painter.setFont(text.font)
            _draw_line(painter, text.middle, text.text)

    def number_font(self, number: str, most: float) -> QFont | None:
        """The font for a number on this tile, its capitals at most `most` px."""
        if self.look.gauge and self.look.words:
            return self._gauge_font(number, most)
        room = self._room()
        share = 0.5 if self.look.words else 0.62
        marked = self.look.pattern in (Pattern.DONE, Pattern.WRONG) and self.kind not in LEGS
        share_across = 0.54 if marked else 0.92
        return fitted(number, room.width() * share_across, room.height() * share, most)

    def _gauge_font(self, number: str, most: float) -> QFont | None:
        """The same where steps stand beside or below; where they have no room, for it alone."""
        room = self._room()
        wide, high = room.width() * 0.92, room.height()
        if beside := self._beside(number, most):
            return beside
        return fitted(number, wide, high * 0.4, most) or fitted(number, wide, high * 0.8, most)

    def _tag(self) -> QRectF | None:
        """Beside a leg too thin to be written on: the room for its number."""
        whole = QRectF(self.rect())
        left, right = self.box.left() - whole.left(), whole.right() - self.box.right()
        if self.kind not in LEGS or max(left, right) < LEAST_TAG:
            return None
        if left > right:
            return QRectF(whole.left(), whole.top(), left - 3, whole.height())
        return QRectF(self.box.right() + 3, whole.top(), right - 3, whole.height())

    def _room(self) -> QRectF:
        """Where the texts go: clear of the pulls."""
        tag = self._tag()
        if tag is not None:
            return tag
        gauge, inside = self.look.gauge, INSIDE
        if gauge:
            inside = max(INSIDE, rim_width(self.box, gauge) + 1.5)
        elif self.look.pattern in (Pattern.NEXT, Pattern.WRONG):
            inside = max(INSIDE, strokes.outline_width(self.box) + 1.5)
        room = self.box.adjusted(inside, inside, -inside, -inside)
        if gauge:
            return clear_of_sign(room, self.box, gauge.sign)
        if not self.pulls or self.look.pattern is Pattern.EMPTY:
            return room
        if self.opening is OpeningKind.DOOR:
            room.setRight(min(pull.left() for pull in self.pulls) - 1)
        else:
            room.setBottom(min(pull.top() for pull in self.pulls) - 1)
        return room

    def _words(self, room: QRectF, number: QFont) -> tuple[QFont | None, list[str]]:
        """The second line, when it can be read at all: it is not cut but left out."""
        text = ", ".join(part for part in (self.look.words, self.note) if part)
        if not text or self._tag() is not None:
            return None, []
        capitals = number.pixelSize() * CAPITAL_SHARE
        width = min(room.width(), self.box.width()) * 0.94
        highest = HIGHEST_STEPS if self.look.gauge else HIGHEST_WORDS
        size = min(highest, max(9.0, capitals * (0.6 if self.look.gauge else 0.5)))
        while size >= 7.0:
            font = in_pixels(size)
            lines = wrapped(text, font, width)
            fits = lines and capitals + len(lines) * line_height(font) <= room.height()
            if lines and fits:
                return font, lines
            size -= 1.0
        return None, []

    def _on_lines(self) -> bool:
        return self._tag() is None and self.look.pattern in (Pattern.HATCHED, Pattern.DOTTED)


def _way_of(key: int) -> Way | None:
    """The direction of an arrow key."""
    return {
        Qt.Key.Key_Left: Way.LEFT,
        Qt.Key.Key_Right: Way.RIGHT,
        Qt.Key.Key_Up: Way.UP,
        Qt.Key.Key_Down: Way.DOWN,
    }.get(Qt.Key(key))


def _draw_line(painter: QPainter, middle: QPointF, text: str) -> None:
    """One line, the middle of its capitals at a point."""
    metrics = painter.fontMetrics()
    x = middle.x() - metrics.horizontalAdvance(text) / 2
    painter.drawText(int(x), int(middle.y() + metrics.capHeight() / 2 + 0.5), text)
