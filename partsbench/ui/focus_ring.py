"""Where the keyboard is: a ring round the control that has it, the same on all of them.

Fusion's own sign has a contrast of less than 3:1 on most controls, and none on some.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSlider,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QGroupBox,
    QLineEdit,
    QPlainTextEdit,
    QTabBar,
    QWidget,
)
from shiboken6 import isValid

from partsbench.ui.theme import theme_of

CONTROLS = (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSlider,
    QAbstractSpinBox,
    QComboBox,
    QGroupBox,
    QLineEdit,
    QPlainTextEdit,
    QTabBar,
)
DRAWS_ITS_OWN = "draws_focus"
"""A class with this attribute shows by itself that it has the keyboard."""
OUTER, INNER = 2.5, 1.5
"""Thickness in px: the ring itself, and the light line inside it that parts it from the control."""


class Ring(QWidget):
    """Lies over all of a control and takes nothing from it."""

    def __init__(self, control: QWidget) -> None:
        super().__init__(control)
        self.setObjectName("focus-ring")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setGeometry(control.rect())
        control.installEventFilter(self)
        self.show()
        self.raise_()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize and isinstance(watched, QWidget):
            self.setGeometry(watched.rect())
        return False

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect())
        inset = OUTER / 2
        painter.setPen(QPen(theme.color("accent"), OUTER))
        painter.drawRoundedRect(box.adjusted(inset, inset, -inset, -inset), 3, 3)
        inset = OUTER + INNER / 2
        painter.setPen(QPen(theme.color("raised"), INNER))
        painter.drawRoundedRect(box.adjusted(inset, inset, -inset, -inset), 2, 2)


def show_focus() -> None:
    """From now on the ring is shown; the second time does nothing."""
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    if not app.findChildren(FocusRing):
        FocusRing(app)


class FocusRing(QObject):
    """Follows the keyboard through all windows of the program."""

    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        self._ring: Ring | None = None
        app.focusChanged.connect(self.on_focus_moved)

    def on_focus_moved(self) -> None:
        """Takes no argument: a control that goes away must not be looked at again."""
        if self._ring is not None and isValid(self._ring):
            self._ring.hide()
            self._ring.deleteLater()
        self._ring = None
        control = QApplication.focusWidget()
        if isinstance(control, CONTROLS) and not hasattr(control, DRAWS_ITS_OWN):
            self._ring = Ring(control)


def is_going(control: QWidget) -> bool:
    """Whether a control was hidden or switched off, by itself or with what it lies in."""
    at: QWidget | None = control
    while at is not None and not at.isWindow():
        if at.isHidden():
            return True
        at = at.parentWidget()
    return not control.isEnabled()
