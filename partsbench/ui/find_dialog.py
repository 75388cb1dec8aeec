"""Where is it: a part by its number, its code or an earlier owner's mark."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QStringListModel, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QListView, QVBoxLayout, QWidget

from partsbench.services.acts.places import Sighting, find
from partsbench.services.shop import Shop
from partsbench.ui.big_word import BigWord
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.theme import grown, sized

HINT = "Number, code, or the mark of an earlier owner."
WIDE, TALL = 620, 400


class FindDialog(FittingDialog):
    """Answers as one types, with the place of the first in large letters; Enter, or a double
    click, goes to the part on the bench. Until something is found there is only the question."""

    part_chosen = Signal(str, str)
    """Tag and short number."""

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self._tag = tag
        self._found: list[Sighting] = []
        self.setWindowTitle("Find a part")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.field = QLineEdit()
        self.field.setObjectName("find-field")
        self.field.setAccessibleName("Number, code or old mark")
        self.field.setPlaceholderText("D6, K7Q4-D06…, or an old mark")
        self.field.setFont(sized(3))
        self.field.textChanged.connect(self.on_text_changed)
        self.field.returnPressed.connect(self.on_entered)
        self._model = QStringListModel(self)
        self.list = QListView()
        self.list.setObjectName("find-list")
        self.list.setAccessibleName("Found")
        self.list.setModel(self._model)
        self.list.setWordWrap(True)
        self.list.setFont(sized(1))
        self.list.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.list.activated.connect(self.on_line_activated)
        self.list.selectionModel().currentChanged.connect(self.on_line_reached)
        self.said = QLabel(HINT)
        self.said.setWordWrap(True)
        self.answer = self._answer()
        layout = QVBoxLayout(self)
        layout.addWidget(self.field)
        layout.addWidget(self.said)
        layout.addWidget(self.answer, 3)
        layout.addWidget(self.list, 2)
        self.answer.hide()
        self.list.hide()
        self.resize(WIDE, self.sizeHint().height())

    def _answer(self) -> QWidget:
        """Of which part, where it is, and when that was known."""
        whole = QWidget()
        self.whose = QLabel()
        self.whose.setFont(sized(2, bold=True))
        self.place = BigWord(align=Qt.AlignmentFlag.AlignLeft)
        self.place.setObjectName("find-place")
        self.place.setMinimumHeight(grown(72))
        self.seen = QLabel()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 12, 0, 0)
        column.addWidget(self.whose)
        column.addWidget(self.place, 1)
        column.addWidget(self.seen)
        return whole

    def scanned(self, text: str) -> None:
        """A scan while the dialog is open is a question too."""
        self.field.setText(text)

    def on_text_changed(self, text: str) -> None:
        asked = text.strip()
        self._found = find(self._shop, asked, self._tag) if asked else []
        self._model.setStringList([sighting.sentence for sighting in self._found])
        self.answer.setVisible(bool(self._found))
        self.list.setVisible(len(self._found) > 1)
        if self._found:
            self._grow()
            self.list.setCurrentIndex(self._model.index(0))
            count = len(self._found)
            self.said.setText(
                f"{count} parts. Enter shows the chosen one." if count > 1 else "Enter shows it."
            )
        else:
            self.said.setText(f"No part “{asked}”." if asked else HINT)

    def _grow(self) -> None:
        """Room for the answer; once it is there, it stays, so that nothing jumps while typing."""
        if self.height() < TALL:
            self.resize(self.width(), TALL)
            self.fit_into(self.screen().availableGeometry())

    def on_line_reached(self, index: QModelIndex) -> None:
        """The place in hand is told in large letters."""
        if not 0 <= index.row() < len(self._found):
            return
        found = self._found[index.row()]
        whose = f"{found.codename} {found.short}"
        self.whose.setText(f"{whose}  (old mark {found.old_mark})" if found.old_mark else whose)
        self.place.show_text(found.where)
        self.seen.setText(found.seen_words)

    def on_entered(self) -> None:
        if self._found:
            self._choose(max(0, self.list.currentIndex().row()))

    def on_line_activated(self, index: QModelIndex) -> None:
        self._choose(index.row())

    def _choose(self, row: int) -> None:
        sighting = self._found[row]
        self.accept()
        self.part_chosen.emit(sighting.tag, sighting.short)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self.field.hasFocus():
            self.list.setFocus()
        super().keyPressEvent(event)
