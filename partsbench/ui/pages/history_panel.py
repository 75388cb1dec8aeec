"""The journal beside any page: every change in a sentence, with undo and redo."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    Qt,
    Signal,
)
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QListView, QVBoxLayout, QWidget

from partsbench.core.journal_lines import JournalLine
from partsbench.core.outcomes import Done, Refused
from partsbench.core.shown_times import moment
from partsbench.services.acts.history import history, last_change, next_redo, redo
from partsbench.services.known.clock_doubt import clock_set
from partsbench.services.shop import Shop
from partsbench.ui.bench.controls import KeyButton, words
from partsbench.ui.bench.wording import brief
from partsbench.ui.model_index import Index
from partsbench.ui.theme import grown
from partsbench.ui.turning_back import UndoTwice

AT_ONCE = 100


class JournalModel(QAbstractListModel):
    """Changes, newest first, read from the book as one scrolls down."""

    def __init__(self, shop: Shop, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self._tag = ""
        self._entries: list[JournalLine] = []
        self._clock_set: dict[int, str] = {}
        self._more = False

    def read(self, tag: str) -> None:
        """Begin anew with the changes of a piece, or of all when `tag` is empty."""
        self.beginResetModel()
        self._tag = tag
        self._clock_set = clock_set(self._shop)
        self._entries = history(self._shop, tag, AT_ONCE)
        self._more = len(self._entries) == AT_ONCE
        self.endResetModel()

    def entry(self, row: int) -> JournalLine:
        return self._entries[row]

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._entries)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> str | None:
        if not index.isValid() or index.row() >= len(self._entries):
            return None
        entry = self._entries[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self._line(entry, brief(entry.sentence))
        whole = (
            Qt.ItemDataRole.ToolTipRole,
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.AccessibleDescriptionRole,
        )
        return self._line(entry, entry.sentence) if role in whole else None

    def _line(self, entry: JournalLine, sentence: str) -> str:
        when = moment(entry.at, self._shop.clock())
        was_set = self._clock_set.get(entry.id)
        lines = [f"{when}   {entry.who}" if entry.who else when, sentence]
        return "\n".join([*lines, *([f"Before this record {was_set}."] if was_set else [])])

    def canFetchMore(self, parent: Index) -> bool:
        return self._more and not parent.isValid()

    def fetchMore(self, parent: Index) -> None:
        before = self._entries[-1].id if self._entries else None
        found = history(self._shop, self._tag, AT_ONCE, before)
        self._more = len(found) == AT_ONCE
        if found:
            first = len(self._entries)
            self.beginInsertRows(QModelIndex(), first, first + len(found) - 1)
            self._entries += found
            self.endInsertRows()


class HistoryPanel(QWidget):
    """The journal of the piece at work, or of the whole book."""

    answered = Signal(object)
    changed = Signal()

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("history-panel")
        self._shop = shop
        self._undo = UndoTwice(shop)
        self.tag = ""
        self.model = JournalModel(shop, self)
        self.title = words(1, bold=True, name="history-title")
        self.all_box = QCheckBox("All pieces")
        self.all_box.setObjectName("history-all")
        self.all_box.toggled.connect(self.on_all_toggled)
        self.list = QListView()
        self.list.setObjectName("history-list")
        self.list.setAccessibleName("Changes, newest first")
        self.list.setModel(self.model)
        self.list.setWordWrap(True)
        self.list.setSpacing(3)
        self.list.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.list.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.next_undo = words(name="history-next-undo")
        self.undo_button = KeyButton("Undo", "Ctrl+Z", self.on_undo_pressed, name="history-undo")
        self.redo_button = KeyButton(
            "Redo", "Ctrl+Shift+Z", self.on_redo_pressed, name="history-redo"
        )
        self._lay_out()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.title, 1)
        head.addWidget(self.all_box)
        foot = QHBoxLayout()
        foot.addWidget(self.undo_button)
        foot.addWidget(self.redo_button)
        column = QVBoxLayout(self)
        column.addLayout(head)
        column.addWidget(self.list, 1)
        column.addWidget(self.next_undo)
        column.addLayout(foot)
        self.setMinimumWidth(grown(300))

    def show_piece(self, tag: str) -> None:
        """Show the journal of another piece."""
        self.tag = tag
        self.refresh()

    def refresh(self) -> None:
        """Read the journal as the book now has it."""
        whole = self.all_box.isChecked() or not self.tag
        piece = None if whole else self._shop.piece(self.tag)
        self.title.setText(f"History of {piece.codename} {piece.tag}" if piece else "History")
        self.model.read("" if whole else self.tag)
        back, forth = last_change(self._shop), next_redo(self._shop)
        self.undo_button.setEnabled(back is not None)
        self.redo_button.setEnabled(forth is not None)
        said = [f"Undo takes back: {brief(back.sentence)}." if back else "Nothing to undo."]
        if forth:
            said.append(f"Redo does again: {brief(forth.sentence)}.")
        self.next_undo.setText("\n".join(said))

    def on_all_toggled(self) -> None:
        self.refresh()

    def on_undo_pressed(self) -> None:
        self._turned(self._undo.undo())

    def on_redo_pressed(self) -> None:
        self._turned(redo(self._shop))

    def _turned(self, answer: Done | Refused) -> None:
        self.answered.emit(answer)
        if isinstance(answer, Done):
            self.changed.emit()
        self.refresh()
