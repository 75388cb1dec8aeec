"""The one button of a page that is pressed most: large, flat, in the accent of the theme."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from partsbench.ui.theme import grown, sized, theme_of

TALL = 60


class MainButton(QPushButton):
    """Filled while it can be pressed, an outline while it cannot; the keyboard's ring inside."""

    draws_focus = True

    def __init__(self, text: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setObjectName(name)
        self.setFont(sized(2.4, bold=True))
        self.setMinimumHeight(grown(TALL))
        self.setAutoDefault(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width() + 24, TALL)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5)
        on = self.isEnabled()
        painter.setPen(QPen(theme.color("accent" if on else "line"), 1.5))
        painter.setBrush(theme.color("accent") if on else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(box, 4, 4)
        painter.setPen(theme.color("on_accent" if on else "quiet"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self.text())
        if self.hasFocus() or self.isDown():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(theme.color("on_accent"), 4.0 if self.isDown() else 2.0))
            painter.drawRoundedRect(box.adjusted(5, 5, -5, -5), 2, 2)
