"""The sizes along one side of the front, and the grips between them that move a border."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from partsbench.core.key_words import choice_word, place_word
from partsbench.core.piece.shaping import Axis
from partsbench.core.sums.units import Measures, show_figure, show_length
from partsbench.core.wording import capital
from partsbench.ui.theme import sized, theme_of

GRIP = 14
THICK = {Axis.COLUMNS: 30, Axis.ROWS: 66}
WORD = {Axis.COLUMNS: choice_word("column"), Axis.ROWS: choice_word("row")}
BOTH = {Axis.COLUMNS: choice_word("columns"), Axis.ROWS: choice_word("rows")}
WAYS = {
    Axis.COLUMNS: (place_word("left"), place_word("right")),
    Axis.ROWS: (choice_word("up"), choice_word("down")),
}
"""Which way a border went, back or on."""


def both(axis: Axis, place: int) -> str:
    """`columns 2 and 3`: what a border parts."""
    return f"{BOTH[axis]} {place + 1} and {place + 2}"


_BACK = (Qt.Key.Key_Left, Qt.Key.Key_Up)
_ON = (Qt.Key.Key_Right, Qt.Key.Key_Down)


class SizeButton(QAbstractButton):
    """One column's width or row's height; pressed, it asks to be typed."""

    asked = Signal(int)

    def __init__(self, axis: Axis, place: int, parent: QWidget) -> None:
        super().__init__(parent)
        self.axis = axis
        self.place = place
        self.setObjectName(f"size-{axis.value}-{place}")
        self._size = self._figure = ""
        self.setFont(sized(-1))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.IBeamCursor)
        self.clicked.connect(self.on_clicked)

    def show_size(self, size: str, figure: str) -> None:
        """The size, or its figure alone where the cell is narrow; the whole is told in both."""
        self._size, self._figure = size, figure
        self._choose_text()
        name = f"row {self.place + 1}, {size} high"
        if self.axis is Axis.COLUMNS:
            name = f"column {self.place + 1}, {size} wide"
        self.setAccessibleName(name)
        self.setToolTip(f"{capital(name)}. Press to type another size.")
        self.update()

    def _choose_text(self) -> None:
        """The most that can be read where it stands: all, the figure, or nothing."""
        metrics = self.fontMetrics()
        high = self.height() - (6 if self.axis is Axis.COLUMNS else 0)
        text = ""
        if high >= metrics.height() - 4:
            # The grips at both ends reach over a size, but a figure is worth that.
            for each, spare in ((self._figure, 2), (self._size, GRIP)):
                if metrics.horizontalAdvance(each) <= self.width() - spare:
                    text = each
        self.setText(text)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._choose_text()

    def minimumSizeHint(self) -> QSize:
        """Room for the words that stand on it."""
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self.text()), metrics.height() - 4)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def on_clicked(self) -> None:
        self.asked.emit(self.place)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        lit = self.hasFocus() or self.underMouse()
        painter.setPen(QPen(theme.color("accent" if lit else "line"), 2 if lit else 1))
        for line in _bracket(QRectF(self.rect()), self.axis):
            painter.drawLine(*line)
        painter.setPen(theme.color("ink" if lit else "quiet"))
        box = QRectF(self.rect()).adjusted(0, 0, 0, -6 if self.axis is Axis.COLUMNS else 0)
        box.setRight(box.right() - (6 if self.axis is Axis.ROWS else 0))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self.text())


def _bracket(box: QRectF, axis: Axis) -> list[tuple[QPointF, QPointF]]:
    """A measuring line beside the front, with a tick at both ends."""
    if axis is Axis.COLUMNS:
        y, a, b = box.bottom() - 4, box.left() + 1, box.right() - 1
        ticks = [(QPointF(x, y - 3), QPointF(x, y + 3)) for x in (a, b)]
        return [(QPointF(a, y), QPointF(b, y)), *ticks]
    x, a, b = box.right() - 4, box.top() + 1, box.bottom() - 1
    ticks = [(QPointF(x - 3, y), QPointF(x + 3, y)) for y in (a, b)]
    return [(QPointF(x, a), QPointF(x, b)), *ticks]


class BorderGrip(QAbstractButton):
    """The border after a column or row: dragged with the pointer, or moved by arrow keys."""

    dragged = Signal(int, float)
    """Its place, and by how many px the pointer has moved it so far."""
    dropped = Signal(int, float)
    nudged = Signal(int, int, bool)
    """Its place, one step back (-1) or on (1), and whether the fine step is meant."""

    def __init__(self, axis: Axis, place: int, parent: QWidget) -> None:
        super().__init__(parent)
        self.axis = axis
        self.place = place
        self._from: float | None = None
        self.setObjectName(f"border-{axis.value}-{place}")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        upright = axis is Axis.COLUMNS
        self.setCursor(Qt.CursorShape.SplitHCursor if upright else Qt.CursorShape.SplitVCursor)
        self.setAccessibleName(f"border between {both(axis, place)}")
        self.setAccessibleDescription("Arrow keys move it, with Shift by a small step.")
        self.setToolTip("Drag, or use the arrow keys (with Shift: a small step)")

    def _along(self, event: QMouseEvent) -> float:
        where = event.globalPosition()
        return where.x() if self.axis is Axis.COLUMNS else where.y()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        if event.button() == Qt.MouseButton.LeftButton:
            self._from = self._along(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._from is not None:
            self.dragged.emit(self.place, self._along(event) - self._from)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        if self._from is not None:
            moved, self._from = self._along(event) - self._from, None
            self.dropped.emit(self.place, moved)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = -1 if event.key() in _BACK else 1 if event.key() in _ON else 0
        if step:
            fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            self.nudged.emit(self.place, step, fine)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        lit = self.hasFocus() or self.underMouse() or self._from is not None
        painter.setBrush(theme.color("accent" if lit else "raised"))
        painter.setPen(QPen(theme.color("accent" if lit else "ink"), 1.2))
        middle = QPointF(self.rect().center())
        long, short = 8.0, 3.5
        if self.axis is Axis.ROWS:
            long, short = short, long
        painter.drawRoundedRect(
            QRectF(middle.x() - short, middle.y() - long, 2 * short, 2 * long), 3, 3
        )
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(theme.color("ink"), 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))


class Ruler(QWidget):
    """Column widths above the front, or row heights left of it, each opposite its cells."""

    size_asked = Signal(int)
    border_dragged = Signal(int, float)
    border_dropped = Signal(int, float)
    border_nudged = Signal(int, int, bool)

    def __init__(self, axis: Axis, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.axis = axis
        self._sizes: list[SizeButton] = []
        self._grips: list[BorderGrip] = []
        self.setObjectName(f"ruler-{axis.value}")
        self.setAccessibleName(f"{WORD[axis]} sizes")

    def show_sizes(
        self, sizes: Sequence[float], lines: Sequence[float], measures: Measures
    ) -> None:
        """Sizes in mm, and where the grid lines are in px of this widget."""
        self._make(len(sizes))
        for button, size, start, end in zip(self._sizes, sizes, lines, lines[1:], strict=False):
            button.setGeometry(self._between(start, end))
            button.show_size(show_length(size, measures), show_figure(size, measures))
        for grip, line in zip(self._grips, lines[1:-1], strict=True):
            grip.setGeometry(self._between(line - GRIP / 2, line + GRIP / 2))
            grip.raise_()

    def size_button(self, place: int) -> SizeButton | None:
        return self._sizes[place] if 0 <= place < len(self._sizes) else None

    def grip(self, place: int) -> BorderGrip | None:
        return self._grips[place] if 0 <= place < len(self._grips) else None

    def _between(self, start: float, end: float) -> QRect:
        if self.axis is Axis.COLUMNS:
            return QRect(round(start), 0, max(1, round(end) - round(start)), self.height())
        return QRect(0, round(start), self.width(), max(1, round(end) - round(start)))

    def _make(self, count: int) -> None:
        while len(self._sizes) > count:
            _put_away(self._sizes.pop())
        while len(self._grips) > max(0, count - 1):
            _put_away(self._grips.pop())
        while len(self._sizes) < count:
            button = SizeButton(self.axis, len(self._sizes), self)
            button.asked.connect(self.size_asked)
            button.show()
            self._sizes.append(button)
        while len(self._grips) < count - 1:
            grip = BorderGrip(self.axis, len(self._grips), self)
            grip.dragged.connect(self.border_dragged)
            grip.dropped.connect(self.border_dropped)
            grip.nudged.connect(self.border_nudged)
            grip.show()
            self._grips.append(grip)
        chain: list[QWidget] = []
        for place, button in enumerate(self._sizes):
            chain += [button, *self._grips[place : place + 1]]
        for first, second in itertools.pairwise(chain):
            QWidget.setTabOrder(first, second)


def _put_away(widget: QWidget) -> None:
    widget.hide()
    widget.setParent(None)
    widget.deleteLater()
