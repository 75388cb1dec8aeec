"""A question put in the page itself: usual answers as buttons, and a field for any other."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from partsbench.ui.bench.caution_band import CautionBand
from partsbench.ui.bench.controls import KeyButton, words
from partsbench.ui.bench.flow import Flow
from partsbench.ui.theme import grown, sized, theme_of

NUMBERED = ("insist", "back why", "count of")
"""Questions whose choices answer to number keys as well."""
MOST_NUMBERED = 9


class Ask(QFrame):
    """Asks one thing at a time; `kind` says what for. Hidden while nothing is asked."""

    answered = Signal(str, str)
    """The kind of the question, and the answer."""
    closed = Signal()
    edited = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.kind = ""
        self.instead: QWidget | None = None
        """What goes away while a question is open, and comes back after it."""
        self.spare: CautionBand | None = None
        """The band above that; a question has its room too while there is nothing to mind."""
        self._given: tuple[str, ...] = ()
        self.setObjectName("ask")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self._question = words(1, bold=True, name="ask-question")
        self._fault = words(name="ask-fault")
        self.field = QLineEdit()
        self.field.setObjectName("ask-field")
        self.field.setFont(sized(1))
        self.field.setMinimumHeight(grown(38))
        self.field.installEventFilter(self)
        self._choices = QWidget()
        self._flow = Flow(self._choices)
        self._listed: QLabel = words(name="ask-list")
        self.field.returnPressed.connect(self.on_ok_pressed)
        self.field.textEdited.connect(self.on_field_edited)
        self._lay_out()
        self.hide()

    def ask(
        self,
        kind: str,
        question: str,
        choices: Sequence[str] = (),
        *,
        hint: str = "",
        text: str = "",
    ) -> None:
        """Put a question; `choices` answer it with one press."""
        self._take_room()
        self.kind = kind
        self._question.setText(question)
        self.field.setPlaceholderText(hint)
        self.field.setAccessibleName(question)
        self.field.setText(text)
        self._flow.clear()
        self._given = tuple(choices)
        for place, choice in enumerate(choices, 1):
            numbered = kind in NUMBERED and place <= MOST_NUMBERED
            button = QPushButton(f"{choice}  ({place})" if numbered else choice)
            button.setAccessibleName(choice)
            button.setMinimumHeight(grown(34))
            button.setAutoDefault(True)
            button.clicked.connect(self.on_choice_pressed)
            self._flow.addWidget(button)
        self._choices.setVisible(bool(choices))
        self.show_fault("")
        self.show_list([])
        self.show()
        self.field.setFocus()

    def show_fault(self, sentence: str) -> None:
        """Say what was wrong with the answer; the question stays."""
        self._fault.setText(sentence)
        self._fault.setVisible(bool(sentence))
        self._tint()

    def show_list(self, lines: Sequence[str]) -> None:
        """Show what was found."""
        self._listed.setText("\n".join(lines))
        self._listed.setVisible(bool(lines))

    @property
    def text(self) -> str:
        return self.field.text()

    def put_text(self, text: str) -> None:
        """Write into the field, as after a restart."""
        self.field.setText(text)

    @property
    def question(self) -> str:
        return self._question.text()

    @property
    def fault(self) -> str:
        """What was wrong with the answer, as it is shown; "" for nothing."""
        return self._fault.text()

    def close_question(self) -> None:
        """Take the question away."""
        if self.kind:
            self.kind = ""
            self.hide()
            if self.spare:
                self.spare.lend_room(False)
            if self.instead:
                self.instead.show()
            self.closed.emit()

    def _take_room(self) -> None:
        """Stand where something else stood, no lower: what is above stays where it is."""
        if self.kind or self.instead is None:
            return
        high = self.instead.height()
        if self.spare and not self.spare.text():
            high = self.instead.geometry().bottom() - self.spare.geometry().top() + 1
            self.spare.lend_room(True)
        self.instead.hide()
        self.setMinimumHeight(high)

    def on_ok_pressed(self) -> None:
        self.answered.emit(self.kind, self.field.text().strip())

    def on_choice_pressed(self) -> None:
        button = self.sender()
        if isinstance(button, QPushButton):
            self.answered.emit(self.kind, button.accessibleName())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """A number key gives the reason of that number, until something else is written."""
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return False
        place = event.text()
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if self.kind not in NUMBERED or held or self.field.text() or not place.isdecimal():
            return False
        if not 1 <= int(place) <= min(len(self._given), MOST_NUMBERED):
            return False
        if not event.isAutoRepeat():
            # A key that is held down must not answer what is asked next.
            self.answered.emit(self.kind, self._given[int(place) - 1])
        return True

    def on_field_edited(self) -> None:
        self.show_fault("")
        self.edited.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.close_question()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._tint()

    def _tint(self) -> None:
        shade = self._fault.palette()
        colour = theme_of(self).color("stop")
        if shade.windowText().color() != colour:
            shade.setColor(self._fault.foregroundRole(), colour)
            self._fault.setPalette(shade)

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.addWidget(self.field, 1)
        row.addWidget(KeyButton("OK", "Enter", self.on_ok_pressed, name="ask-ok"))
        row.addWidget(KeyButton("Leave it", "Esc", self.close_question, name="ask-leave"))
        column = QVBoxLayout(self)
        # Close together: what was wrong with an answer has a line too, and nothing above it moves.
        column.setContentsMargins(12, 6, 12, 6)
        column.setSpacing(3)
        for widget in (self._question, self._choices):
            column.addWidget(widget)
        column.addLayout(row)
        column.addWidget(self._fault)
        column.addWidget(self._listed)
        column.addStretch(1)
