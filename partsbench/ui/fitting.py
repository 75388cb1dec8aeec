"""Dialogs fit the screen: on a small or much enlarged one they scroll, and keep their buttons."""

from __future__ import annotations

from importlib import import_module

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QDialog, QFrame, QLayout, QScrollArea, QStyle, QWidget

FRAME = QSize(16, 44)
"""About what a title bar and its borders take, before the window system has told."""


class Scrolling(QScrollArea):
    """Wants the room that its content wants, and scrolls in less."""

    def __init__(self, content: QLayout | QWidget) -> None:
        super().__init__()
        body = content if isinstance(content, QWidget) else QWidget()
        if isinstance(content, QLayout):
            content.setContentsMargins(0, 0, 0, 0)
            body.setLayout(content)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidgetResizable(True)
        self.setWidget(body)
        self._body = body

    def sizeHint(self) -> QSize:
        return self._body.minimumSizeHint()


class FittingDialog(QDialog):
    """As large as it was made, but never larger than the screen it opens on.

    F1 opens the page of help called `helped_by`.
    """

    helped_by = "window"

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_F1:
            module = import_module("partsbench.ui.dialogs.help_dialog")  # it is such a dialog too
            module.HelpDialog(None, "", self, self.helped_by).open()
        else:
            super().keyPressEvent(event)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.fit_into(self.screen().availableGeometry())

    def wanted(self) -> QSize:
        """The size it would have with room enough: that it was given, or what its words need
        when they are broken into lines of that width."""
        inside = self.layout()
        high = inside.totalMinimumHeightForWidth(self.width()) if inside else 0
        return self.size().expandedTo(QSize(0, high))

    def fit_into(self, room: QRect) -> None:
        """Be no larger than this, and lie in it."""
        frame = self.frameGeometry().size() - self.size()
        most = room.size() - (frame if not frame.isEmpty() else FRAME)
        wanted = self.wanted()
        if wanted.height() > most.height():  # a bar to scroll by takes from the width
            bar = self.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent, None, self)
            wanted += QSize(bar, 0)
        self.resize(wanted.boundedTo(most))
        here = self.frameGeometry()
        here.setSize(self.size() + (room.size() - most))
        across = min(max(here.left(), room.left()), max(room.left(), room.right() - here.width()))
        down = min(max(here.top(), room.top()), max(room.top(), room.bottom() - here.height()))
        self.move(across, down)
