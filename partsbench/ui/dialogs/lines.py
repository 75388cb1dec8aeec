"""A plain list of sentences with one of them chosen, and fields that grow in a form."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QStringListModel, Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QDoubleSpinBox,
    QLineEdit,
    QListView,
    QWidget,
)

from partsbench.ui.empty_hint import EmptyHint
from partsbench.ui.focus_ring import INNER, OUTER
from partsbench.ui.hinted import show_hint
from partsbench.ui.model_index import Index


class Lines(QListView):
    """Emits the place of the line that is chosen; -1 when there is none.

    `empty` stands in it while there is no line.
    """

    picked = Signal(int)

    def __init__(
        self, name: str, what: str, parent: QWidget | None = None, *, empty: str = ""
    ) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(what)
        self.setWordWrap(True)
        self.setSpacing(2)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._model = QStringListModel(self)
        self.setModel(self._model)
        if empty:
            EmptyHint(self, empty)

    def show_lines(self, lines: Sequence[str]) -> None:
        """Show lines; the chosen place stays where it can."""
        if list(lines) == self._model.stringList():
            return
        place = self.row()
        self._model.setStringList(list(lines))
        if 0 <= place < len(lines):
            self.choose(place)

    def lines(self) -> list[str]:
        return self._model.stringList()

    def row(self) -> int:
        return self.currentIndex().row()

    def choose(self, place: int) -> None:
        self.setCurrentIndex(self._model.index(place))

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        self.picked.emit(current.row())


def text_field(name: str, what: str, hint: str = "") -> QLineEdit:
    """A field with a name for the keyboard, for screen readers and for tests."""
    field = QLineEdit()
    field.setObjectName(name)
    field.setAccessibleName(what)
    show_hint(field, hint)
    return field


def typed_or_chosen(name: str, what: str, offered: Sequence[str]) -> QComboBox:
    """A field to type in, with a list of what is offered."""
    box = QComboBox()
    box.setObjectName(name)
    box.setAccessibleName(what)
    box.setEditable(True)
    box.addItems(list(offered))
    # Its rows are tight, and the ring of the keyboard would lie on the first and the last.
    view = box.view()
    assert isinstance(view, QListView)  # a box has one unless it was given another
    view.setSpacing(round(OUTER + INNER))
    return box


def number_field(
    name: str, what: str, unit: str, least: float, most: float, *, unsaid: bool = True
) -> QDoubleSpinBox:
    """A number; its lowest value means "not said" where `unsaid`."""
    box = QDoubleSpinBox()
    box.setObjectName(name)
    box.setAccessibleName(what)
    box.setRange(least, most)
    box.setDecimals(1)
    box.setSuffix(f" {unit}")
    if unsaid:
        box.setSpecialValueText("not said")
        box.setValue(least)
    return box


def said(box: QDoubleSpinBox) -> float | None:
    """The number, or None when it was not said."""
    return None if box.value() == box.minimum() else box.value()
