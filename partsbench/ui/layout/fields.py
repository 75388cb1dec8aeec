"""Small parts that the panels share: a field for a length, headings, rows of buttons."""

from __future__ import annotations

from PySide6.QtCore import QObject, QSize, Qt, Signal
from PySide6.QtGui import QAction, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.outcomes import Refused
from partsbench.core.sums.units import Measures, length, show_length
from partsbench.ui.theme import grown, sized, theme_of


class LengthField(QLineEdit):
    """A size in mm or inches, as typed; tells the mm when it was changed, or why it cannot."""

    given = Signal(float)
    refused = Signal(str)

    def __init__(self, what: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.what = what
        self.measures = Measures.METRIC
        self._mm: float | None = None
        self.setObjectName(name)
        self.setAccessibleName(what)
        self.setToolTip("As in 876, 34 1/2 in or 87.6 cm; Enter sets it")
        self.setMinimumWidth(self.sizeHint().width())
        self.editingFinished.connect(self.on_editing_finished)

    def show_mm(self, mm: float | None, measures: Measures) -> None:
        """Show a size; None empties the field and switches it off."""
        self._mm, self.measures = mm, measures
        self.setEnabled(mm is not None)
        places = 0 if mm is None or abs(mm - round(mm)) < 0.05 else 1
        self.setText("" if mm is None else show_length(mm, measures, places))

    def on_editing_finished(self) -> None:
        if not self.isModified() or self._mm is None:
            return
        self.setModified(False)
        size = length(self.text(), self.measures, self.what)
        if isinstance(size, Refused):
            self.refused.emit(size.sentence)
        elif abs(size.value - self._mm) >= 0.05:
            self.given.emit(size.value)
            return
        self.show_mm(self._mm, self.measures)

    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        return QSize(self.fontMetrics().horizontalAdvance('00-00/00" mm') + 16, hint.height())


def heading(text: str, parent: QWidget | None = None) -> QLabel:
    """The name of a group of controls."""
    label = QLabel(text, parent)
    label.setFont(sized(0, bold=True))
    return label


def quiet(text: str, parent: QWidget | None = None) -> QLabel:
    """A line of help in small letters; breaks where it must."""
    label = QLabel(text, parent)
    label.setFont(sized(-0.6))
    label.setWordWrap(True)
    return label


class WordButton(QToolButton):
    """A button in words; switched on, it has a bar along its foot, so that it is told from off."""

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.isChecked():
            painter = QPainter(self)
            foot = self.rect().adjusted(6, self.height() - 8, -6, -4)
            painter.fillRect(foot, theme_of(self).color("accent"))


def button(action: QAction, parent: QWidget | None = None) -> WordButton:
    """A wide button for an action."""
    made = WordButton(parent)
    made.setDefaultAction(action)
    made.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
    made.setObjectName(f"button-{action.objectName()}")
    made.setAccessibleName(action.text())
    made.setAccessibleDescription(action.toolTip())
    made.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    made.setMinimumHeight(grown(34))
    made.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return made


def row(*widgets: QWidget) -> QHBoxLayout:
    """Widgets side by side."""
    made = QHBoxLayout()
    made.setSpacing(6)
    for widget in widgets:
        made.addWidget(widget)
    return made


def labelled(text: str, widget: QWidget) -> QHBoxLayout:
    """A word before a control, bound to it for the keyboard and screen readers."""
    label = QLabel(text)
    label.setBuddy(widget)
    return row(label, widget)


def rule(parent: QWidget | None = None) -> QFrame:
    """A thin line between groups."""
    line = QFrame(parent)
    line.setFrameShape(QFrame.Shape.HLine)
    line.setForegroundRole(line.palette().ColorRole.Mid)
    return line


class Panel(QScrollArea):
    """A column of controls that scrolls when the window is low; nothing of it is cut."""

    def __init__(self, name: str, parent: QObject | None = None) -> None:
        super().__init__(parent if isinstance(parent, QWidget) else None)
        self.setObjectName(name)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.inside = QWidget(self)
        self.column = QVBoxLayout(self.inside)
        self.column.setContentsMargins(12, 10, 12, 10)
        self.column.setSpacing(8)
        self.setWidget(self.inside)

    def minimumSizeHint(self) -> QSize:
        wide = self.inside.minimumSizeHint().width() + self.verticalScrollBar().sizeHint().width()
        return QSize(wide, 120)
