"""A piece is in the book: what has to be known of it is asked one after the other, then labels."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from partsbench.services.shown.first_things import FirstThing
from partsbench.ui.main_button import MainButton
from partsbench.ui.theme import grown, sized

LABELS, LAYOUT = "labels", "layout"
AT_LAST = "Stick the labels on before anything is pulled; they come in the order of taking apart."


class MadePanel(QWidget):
    """The main button leads to the first thing that is not known; Later passes it over."""

    asked = Signal(str)
    """The key of an action or page that is to come up."""

    def __init__(self) -> None:
        super().__init__()
        self._later: set[str] = set()
        self._things: tuple[FirstThing, ...] = ()
        self._buttons: dict[str, QPushButton] = {}
        self._said: dict[str, QLabel] = {}
        self.name = QLabel()
        self.name.setObjectName("made-name")
        self.name.setFont(sized(5, bold=True))
        self.name.setWordWrap(True)
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setFont(sized(1))
        self.next = MainButton("Print its labels", "made-next")
        self.next.clicked.connect(self.on_next_clicked)
        self.later = step_button("Later", "made-later")
        self.later.clicked.connect(self.on_later_clicked)
        self.layout_button = step_button("Draw its front and finish paths", "go-layout")
        self.layout_button.clicked.connect(self.on_layout_clicked)
        self.labels = step_button("Print its labels", "print-labels")
        self.labels.clicked.connect(self.on_labels_clicked)
        self.another = step_button("Take in another piece", "another")
        self._rest = QVBoxLayout()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(10)
        for widget in (self.name, self.words, self.next, self.later):
            column.addWidget(widget)
        column.addLayout(self._rest)
        for widget in (self.layout_button, self.labels, self.another):
            column.addWidget(widget)
        column.addStretch(1)

    def show_made(self, codename: str, tag: str, counted: str) -> None:
        """A new piece: nothing was passed over yet."""
        self._later.clear()
        self.name.setText(f"{codename}  {tag}")
        self._counted = counted

    def show_things(self, things: Sequence[FirstThing]) -> None:
        """What is asked, and what of it is known by now."""
        self._things = tuple(things)
        for thing in things:
            self._line(thing)
        for key, button in self._buttons.items():
            there = key in {thing.key for thing in things}
            button.setVisible(there)
            self._said[key].setVisible(there)
        ahead = self.ahead()
        self.later.setVisible(ahead is not None)
        self.labels.setVisible(ahead is not None)
        self.next.setText(ahead.next if ahead else "Print its labels")
        self.words.setText(f"{self._counted}. {ahead.says if ahead else AT_LAST}")

    def ahead(self) -> FirstThing | None:
        """The first thing that is neither known nor passed over."""
        return next((t for t in self._things if not t.answered and t.key not in self._later), None)

    def _line(self, thing: FirstThing) -> None:
        if thing.key not in self._buttons:
            button = step_button("", f"first-{thing.key}")
            button.clicked.connect(lambda _=False, key=thing.key: self.asked.emit(key))
            said = QLabel()
            said.setWordWrap(True)
            said.setObjectName(f"first-{thing.key}-said")
            self._buttons[thing.key], self._said[thing.key] = button, said
            self._rest.addWidget(button)
            self._rest.addWidget(said)
        done = "✓  " if thing.answered else ""
        self._buttons[thing.key].setText(f"{done}{thing.title}…")
        self._said[thing.key].setText(thing.says)

    def on_next_clicked(self) -> None:
        ahead = self.ahead()
        self.asked.emit(ahead.key if ahead else LABELS)

    def on_later_clicked(self) -> None:
        ahead = self.ahead()
        if ahead:
            self._later.add(ahead.key)
        self.show_things(self._things)
        self.next.setFocus()

    def on_layout_clicked(self) -> None:
        self.asked.emit(LAYOUT)

    def on_labels_clicked(self) -> None:
        self.asked.emit(LABELS)


def step_button(text: str, name: str) -> QPushButton:
    """A button as high as a finger."""
    button = QPushButton(text)
    button.setObjectName(name)
    button.setMinimumHeight(grown(38))
    button.setAutoDefault(True)
    return button
