"""The column of pages at the left: a large button each, the page in front marked."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QAction, QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QScrollArea, QToolButton, QVBoxLayout, QWidget

from partsbench.ui.theme import grown, sized, theme_of

ICON = 24
WIDTH = 96
"""So wide at least; a longer title makes the whole rail wider."""
ROUND = 3
"""Room left and right of a title, px."""
HIGH = 55
STEP = -0.3
"""Size of the titles, in steps of the theme."""
LOW = 44
"""So low a button may be, so that all stand in a window of 720 without scrolling."""


class RailButton(QToolButton):
    """The title of a page below its icon; the page in front has a bar at its edge, and bold."""

    draws_focus = True

    def __init__(self, action: QAction, parent: QWidget) -> None:
        super().__init__(parent)
        self.setDefaultAction(action)
        self.setObjectName(f"rail-{action.objectName().removeprefix('action-')}")
        self.setAccessibleDescription(action.statusTip())
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setMinimumHeight(grown(LOW))
        self.setMaximumHeight(grown(HIGH))

    def minimumSizeHint(self) -> QSize:
        """Room for the title in bold, as it is in front."""
        words = QFontMetrics(sized(STEP, bold=True)).horizontalAdvance(self.text())
        return QSize(max(grown(WIDTH), words + 2 * ROUND), grown(LOW))

    def sizeHint(self) -> QSize:
        return QSize(self.minimumSizeHint().width(), grown(HIGH))

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect())
        if self.isChecked():
            painter.fillRect(box, theme.color("raised"))
            painter.fillRect(QRectF(0, 0, 5, box.height()), theme.color("accent"))
        elif self.underMouse():
            painter.fillRect(box, theme.color("recess"))
        side = grown(ICON)
        top = (self.height() - grown(LOW)) // 2 + 1
        self.icon().paint(painter, (self.width() - side) // 2, top, side, side)
        painter.setFont(sized(STEP, self.isChecked()))
        painter.setPen(theme.color("ink"))
        words = box.adjusted(ROUND, top + side, -ROUND, -1)
        painter.drawText(words, Qt.AlignmentFlag.AlignCenter, self.text())
        if self.hasFocus():
            pen = painter.pen()
            pen.setWidthF(2.5)
            painter.setPen(pen)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(box.adjusted(3, 3, -3, -3), 3, 3)


class Rail(QScrollArea):
    """Scrolls where the window is too low for all buttons."""

    def __init__(self, actions: Iterable[QAction], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("rail")
        self.setAccessibleName("Pages")
        self._column = column = QWidget()
        layout = QVBoxLayout(column)
        layout.setContentsMargins(0, 6, 0, 4)
        layout.setSpacing(1)
        self.buttons = [RailButton(action, column) for action in actions]
        self._broad = max((b.sizeHint().width() for b in self.buttons), default=grown(WIDTH))
        for button in self.buttons:
            button.setFixedWidth(self._broad)
            layout.addWidget(button)
        layout.addStretch(1)
        self.setWidget(column)
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFixedWidth(self._broad)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Room for the scroll bar beside the buttons where it is needed."""
        super().resizeEvent(event)
        scrolls = self._column.minimumSizeHint().height() > self.height()
        bar = self.verticalScrollBar().sizeHint().width() if scrolls else 0
        self.setFixedWidth(self._broad + bar)

    def minimumSizeHint(self) -> QSize:
        return QSize(self._broad, 80)
