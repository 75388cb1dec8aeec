"""Three large choices for the hands, and the minutes one has."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QPushButton, QSpinBox, QWidget

from partsbench.core.finish.hands import Hands
from partsbench.ui.theme import grown, sized, theme_of

WORDS = {Hands.CLEAN: "Clean hands", Hands.DUSTY: "Dusty hands", Hands.GLOVES: "In gloves"}
KEYS = {Hands.CLEAN: "1", Hands.DUSTY: "2", Hands.GLOVES: "3"}
TALL = 46
CHECK = 24
"""Room for the check mark, on each side so that the words stay in the middle, px."""
ANY = 0
MOST_MINUTES = 480


class ChoiceButton(QPushButton):
    """Chosen, it has a bar along its foot and a check mark, so that it is told without colour."""

    def minimumSizeHint(self) -> QSize:
        return super().minimumSizeHint() + QSize(2 * CHECK, 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.isChecked():
            theme = theme_of(self)
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            foot = self.rect().adjusted(5, self.height() - 9, -5, -4)
            painter.fillRect(foot, theme.color("accent"))
            middle = self.height() / 2
            pen = QPen(theme.color("accent"), 3.5)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            painter.setPen(pen)
            corners = ((14, middle), (19, middle + 5), (28, middle - 7))
            painter.drawPolyline([QPointF(x, y) for x, y in corners])


class HandsChoices(QWidget):
    """Clean hands can do anything, so that is where it begins."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self.buttons: dict[Hands, ChoiceButton] = {}
        for hands, text in WORDS.items():
            button = ChoiceButton(f"{text}  ({KEYS[hands]})")
            button.setObjectName(f"hands-{hands.value}")
            button.setAccessibleName(text)
            button.setCheckable(True)
            button.setAutoDefault(True)
            button.setMinimumHeight(grown(TALL))
            button.setFont(sized(0.6, bold=True))
            self._group.addButton(button)
            self.buttons[hands] = button
            row.addWidget(button, 2)
        self.buttons[Hands.CLEAN].setChecked(True)
        self.time = QSpinBox()
        self.time.setObjectName("minutes")
        self.time.setAccessibleName("Minutes I have")
        self.time.setRange(ANY, MOST_MINUTES)
        self.time.setSingleStep(5)
        self.time.setSpecialValueText("any time")
        self.time.setSuffix(" min")
        self.time.setMinimumHeight(grown(TALL))
        self.time.setFont(sized(0.6))
        label = QLabel("I have")
        label.setBuddy(self.time)
        row.addSpacing(12)
        row.addWidget(label)
        row.addWidget(self.time, 1)
        self._group.buttonClicked.connect(self.on_hands_chosen)
        self.time.valueChanged.connect(self.on_time_changed)

    @property
    def hands(self) -> Hands:
        return next(h for h, b in self.buttons.items() if b.isChecked())

    @property
    def minutes(self) -> float | None:
        """None for any time."""
        return float(self.time.value()) or None

    def choose(self, hands: Hands) -> None:
        if not self.buttons[hands].isChecked():
            self.buttons[hands].setChecked(True)
            self.changed.emit()

    def on_hands_chosen(self) -> None:
        self.changed.emit()

    def on_time_changed(self) -> None:
        self.changed.emit()
