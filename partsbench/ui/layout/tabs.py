"""Tabs that show when the keyboard is on them; Fusion's own do not."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QTabBar

from partsbench.ui.theme import theme_of


class Tabs(QTabBar):
    """A ring round the tab in front while the arrow keys turn it."""

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self.hasFocus():
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(theme_of(self).color("accent"), 2.0))
        box = QRectF(self.tabRect(self.currentIndex()))
        painter.drawRoundedRect(box.adjusted(4, 3, -4, -3), 3, 3)
