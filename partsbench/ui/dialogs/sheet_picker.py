"""A small picture of a label sheet: the first free label is clicked, or walked to with arrows."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.services.shown.labels import SheetShape
from partsbench.ui.theme import sized, theme_of

EMPTY = SheetShape(210, 297, ())


class SheetPicker(QWidget):
    """Labels before the chosen one are used up and drawn crossed; those to be printed are full."""

    start_changed = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shape = EMPTY
        self._start = 1
        self._count = 0
        self.setObjectName("sheet-picker")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setToolTip("Click the first free label of a sheet that is used in part")
        self._tell()

    def show_shape(self, shape: SheetShape) -> None:
        """Show a stock; the start stays where it can."""
        self._shape = shape
        self.set_start(self._start)
        self._tell()
        self.update()

    def show_count(self, count: int) -> None:
        """How many labels are to be printed."""
        self._count = count
        self.update()

    @property
    def start(self) -> int:
        return self._start

    def set_start(self, start: int) -> None:
        """Begin at label `start` of the first sheet, counted from 1."""
        kept = max(1, min(start, len(self._shape.labels) or 1))
        if kept == self._start:
            return
        self._start = kept
        self._tell()
        self.update()
        self.start_changed.emit(kept)

    def label_rect(self, number: int) -> QRectF:
        """Where label `number` is drawn, in px of this widget."""
        x, y, width, height = self._shape.labels[number - 1]
        scale, corner = self._scale(), self._corner()
        return QRectF(corner.x() + x * scale, corner.y() + y * scale, width * scale, height * scale)

    def _scale(self) -> float:
        return min((self.width() - 4) / self._shape.width, (self.height() - 4) / self._shape.height)

    def _corner(self) -> QPointF:
        scale = self._scale()
        wide, high = self._shape.width * scale, self._shape.height * scale
        return QPointF((self.width() - wide) / 2, (self.height() - high) / 2)

    def _tell(self) -> None:
        self.setAccessibleName(f"First free label: {self._start} of {len(self._shape.labels)}")
        self.setAccessibleDescription("Arrow keys choose another one.")

    def sizeHint(self) -> QSize:
        return QSize(150, 190)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        xs = {round(label[0], 1) for label in self._shape.labels}
        step = {
            Qt.Key.Key_Left: -1,
            Qt.Key.Key_Right: 1,
            Qt.Key.Key_Up: -len(xs),
            Qt.Key.Key_Down: len(xs),
        }.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
        elif 1 <= self._start + step <= len(self._shape.labels):
            self.set_start(self._start + step)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        for number in range(1, len(self._shape.labels) + 1):
            if self.label_rect(number).contains(event.position()):
                self.set_start(number)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale, corner = self._scale(), self._corner()
        page = QRectF(corner.x(), corner.y(), self._shape.width * scale, self._shape.height * scale)
        painter.setPen(QPen(theme.color("accent" if self.hasFocus() else "line"), 2))
        painter.setBrush(theme.color("raised"))
        painter.drawRect(page)
        painter.setFont(sized(-2))
        last = self._start + self._count - 1
        for number in range(1, len(self._shape.labels) + 1):
            box = self.label_rect(number).adjusted(1, 1, -1, -1)
            used, printed = number < self._start, number <= last
            painter.setPen(QPen(theme.color("quiet" if used else "ink"), 1))
            painter.setBrush(theme.color("accent" if printed and not used else "ground"))
            painter.drawRect(box)
            if used:
                painter.drawLine(box.topLeft(), box.bottomRight())
                painter.drawLine(box.topRight(), box.bottomLeft())
            elif number == self._start:
                painter.setPen(theme.color("on_accent" if printed else "ink"))
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, "first")
