"""A pointer that rests on a widget until it is told what is there."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QApplication, QToolTip, QWidget

RAISED = "does not support raise"
"""What the screen of the tests says when a tool tip comes up."""


def rest_at(widget: QWidget, x: float, y: float) -> str:
    """What is told where the pointer rests; after it was told nothing, what was told before."""
    place = QPoint(round(x), round(y))
    event = QHelpEvent(QEvent.Type.ToolTip, place, widget.mapToGlobal(place))
    assert QApplication.sendEvent(widget, event)
    return QToolTip.text()
