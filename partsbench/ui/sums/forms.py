"""Fields made from a table: those that an answer reads at once, and those that are noted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from partsbench.core.key_words import choice_word
from partsbench.core.sums.shown import Measures
from partsbench.services.shop import Shop
from partsbench.services.sums.asked.description import SumEntry, SumField
from partsbench.services.sums.habits import habits
from partsbench.ui.hinted import show_hint
from partsbench.ui.theme import grown, sized

ACROSS = 4
"""Fields beside one another."""
LEAST = 90
"""How wide a field is at least, px."""


class Fields(QWidget):
    """A few labelled fields in rows. `edited` at each letter, `entered` at Enter."""

    edited = Signal()
    entered = Signal()

    def __init__(self, asks: Sequence[SumField], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.asks = tuple(asks)
        self.fields: dict[str, QLineEdit | QComboBox] = {}
        self.grid = QGridLayout(self)
        self.grid.setContentsMargins(0, 0, 0, 0)
        self.grid.setHorizontalSpacing(10)
        self.grid.setVerticalSpacing(2)
        for place, ask in enumerate(asks):
            self._add(ask, place)
        for column in range(ACROSS):
            self.grid.setColumnStretch(column, 1)

    def values(self) -> dict[str, str]:
        """What stands in the fields, by key."""
        return {
            key: (str(f.currentData()) if isinstance(f, QComboBox) else f.text().strip())
            for key, f in self.fields.items()
        }

    def fill(self, values: Mapping[str, str]) -> None:
        for key, text in values.items():
            field = self.fields.get(key)
            if isinstance(field, QComboBox):
                field.setCurrentIndex(field.findData(text))
            elif field is not None:
                field.setText(text)

    def show_examples(self, measures: Measures) -> None:
        """In empty fields stands an example in the units that the shop reads."""
        for ask in self.asks:
            field = self.fields[ask.key]
            if isinstance(field, QLineEdit):
                show_hint(field, ask.example(measures))

    def clear(self) -> None:
        """Empty the fields that are typed into; choices stay as they are."""
        for field in self.fields.values():
            if isinstance(field, QLineEdit):
                field.clear()

    def _add(self, ask: SumField, place: int) -> None:
        row, column = divmod(place, ACROSS)
        label = QLabel(ask.label, self)
        label.setFont(sized(-0.4))
        field = self._field(ask)
        field.setObjectName(f"field-{ask.key.replace(' ', '-')}")
        field.setAccessibleName(ask.label)
        if isinstance(field, QLineEdit):
            field.setMinimumWidth(grown(LEAST))
        label.setBuddy(field)
        self.fields[ask.key] = field
        self.grid.addWidget(label, 2 * row, column)
        self.grid.addWidget(field, 2 * row + 1, column)

    def _field(self, ask: SumField) -> QLineEdit | QComboBox:
        if ask.choices:
            chooser = QComboBox(self)
            for choice in ask.choices:
                chooser.addItem(choice_word(choice), choice)
            chooser.setMinimumWidth(max(grown(LEAST), chooser.sizeHint().width()))
            chooser.currentTextChanged.connect(self.on_choice_changed)
            return chooser
        line = QLineEdit(self)
        show_hint(line, ask.hint)
        line.textChanged.connect(self.on_text_changed)
        line.returnPressed.connect(self.on_return_pressed)
        return line

    def on_text_changed(self, _text: str) -> None:
        self.edited.emit()

    def on_choice_changed(self, _text: str) -> None:
        self.edited.emit()

    def on_return_pressed(self) -> None:
        self.entered.emit()


class EntryForm(QWidget):
    """Something to note: its fields and a button. `noted` with the entry and what was typed."""

    noted = Signal(SumEntry, object)

    def __init__(self, entry: SumEntry, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.entry = entry
        self.setObjectName(f"entry-{entry.title.lower().replace(' ', '-')}")
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 4, 0, 4)
        grid.setHorizontalSpacing(10)
        title = QLabel(entry.title, self)
        title.setFont(sized(0, bold=True))
        self.fields = Fields(entry.asks, self)
        self.button = QPushButton("Keep" if entry.now else "Note", self)
        self.button.setObjectName("note")
        self.button.setAccessibleName(f"Note: {entry.title}")
        self.button.setAutoDefault(True)
        self.button.setMinimumHeight(grown(30))
        grid.addWidget(title, 0, 0, 1, 2)
        grid.addWidget(self.fields, 1, 0)
        grid.addWidget(self.button, 1, 1, Qt.AlignmentFlag.AlignBottom)
        grid.setColumnStretch(0, 1)
        self.fields.entered.connect(self.on_note_asked)
        self.button.clicked.connect(self.on_note_asked)

    def show_kept(self, shop: Shop) -> None:
        """Put what is kept already into the fields, and examples into the empty ones."""
        self.fields.show_examples(habits(shop).measures)
        if self.entry.now:
            self.fields.fill(self.entry.now(shop))

    def on_note_asked(self) -> None:
        self.noted.emit(self.entry, self.fields.values())
