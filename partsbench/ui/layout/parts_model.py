"""The parts of a piece as a table: what each is, where it lives, what is written about it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QSortFilterProxyModel,
    Qt,
    Signal,
)

from partsbench.core.key_words import counted_faces, path_word, word_of
from partsbench.core.piece.furnish import walk
from partsbench.core.piece.parts import SHOWN, Part, where_to_stick
from partsbench.core.piece.piece import Piece, home_words
from partsbench.services.known.state import PartState
from partsbench.ui.model_index import Index

NOWHERE = QModelIndex()


@dataclass(frozen=True, slots=True)
class PartRow:
    """One part as the table shows it."""

    part: Part
    home: str
    stick: str
    faces: str
    state: str


@dataclass(frozen=True, slots=True)
class PartColumn:
    """A column: its heading, its text, and the word of the part that an edit changes."""

    title: str
    text: Callable[[PartRow], str]
    edits: str = ""


def _number(row: PartRow) -> str:
    return row.part.short


def _name(row: PartRow) -> str:
    return row.part.called


def _home(row: PartRow) -> str:
    return row.home


def _old_mark(row: PartRow) -> str:
    return row.part.old_mark


def _note(row: PartRow) -> str:
    return row.part.note


def _stick(row: PartRow) -> str:
    return row.stick


def _faces(row: PartRow) -> str:
    return row.faces


def _state(row: PartRow) -> str:
    return row.state


COLUMNS = (
    PartColumn("Number", _number),
    PartColumn("Name", _name, "name"),
    PartColumn("Home", _home),
    PartColumn("Old mark", _old_mark, "old_mark"),
    PartColumn("Note", _note, "note"),
    PartColumn("Faces", _faces),
    PartColumn("State", _state),
    PartColumn("Label goes", _stick),
)


class PartsModel(QAbstractTableModel):
    """Rows from a piece and its state. An edit is asked for by `edited`; the book decides."""

    edited = Signal(str, str, str)
    """Short number, the word to change (`old_mark`), and the new text."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: list[PartRow] = []

    def show_rows(self, rows: Sequence[PartRow]) -> None:
        """Show other rows; when they are of the same parts, only what changed is told."""
        same = [r.part.short for r in rows] == [r.part.short for r in self._rows]
        if not same:
            self.beginResetModel()
            self._rows = list(rows)
            self.endResetModel()
            return
        before, self._rows = self._rows, list(rows)
        for place, (old, new) in enumerate(zip(before, rows, strict=True)):
            if old != new:
                self.dataChanged.emit(self.index(place, 0), self.index(place, len(COLUMNS) - 1))

    def row_of(self, short: str) -> int:
        """The row of a part; -1 when it has none."""
        return next((i for i, r in enumerate(self._rows) if r.part.short == short), -1)

    def short_at(self, row: int) -> str:
        return self._rows[row].part.short if 0 <= row < len(self._rows) else ""

    # Qt

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(COLUMNS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid():
            return None
        row, column = self._rows[index.row()], COLUMNS[index.column()]
        text = column.text(row)
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return text
        if role == Qt.ItemDataRole.ToolTipRole:
            return text or None
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{row.part.short}, {column.title}: {text or 'nothing'}"
        if role == Qt.ItemDataRole.AccessibleDescriptionRole:
            return "can be edited" if column.edits else ""
        return None

    def headerData(
        self,
        section: int,
        orientation: Qt.Orientation,
        role: int = Qt.ItemDataRole.DisplayRole,
    ) -> object:
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        if orientation is Qt.Orientation.Horizontal:
            return COLUMNS[section].title if section < len(COLUMNS) else None
        return self.short_at(section)

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        if index.isValid() and COLUMNS[index.column()].edits:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        if not index.isValid() or role != Qt.ItemDataRole.EditRole:
            return False
        column = COLUMNS[index.column()]
        text = str(value).strip()
        if not column.edits or text == column.text(self._rows[index.row()]):
            return False
        self.edited.emit(self._rows[index.row()].part.short, column.edits, text)
        return column.text(self._rows[index.row()]) == text


class PartsFilter(QSortFilterProxyModel):
    """Rows that hold every word searched for, anywhere; sorted as a person counts."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._words: tuple[str, ...] = ()

    def search(self, text: str) -> None:
        self.beginFilterChange()
        self._words = tuple(text.casefold().split())
        self.endFilterChange()

    def filterAcceptsRow(self, row: int, parent: Index) -> bool:
        model = self.sourceModel()
        texts = [str(model.index(row, c, parent).data()) for c in range(model.columnCount())]
        whole = " ".join(texts).casefold()
        return all(word in whole for word in self._words)

    def lessThan(self, left: Index, right: Index) -> bool:
        if left.column() == 0:
            return left.row() < right.row()
        return str(left.data()).casefold() < str(right.data()).casefold()


def rows_of(piece: Piece, states: Mapping[str, PartState]) -> list[PartRow]:
    """A row for each present part, what travels with a part after it."""
    rows = []
    for part in walk(piece):
        state = states.get(part.short)
        told = f"{word_of(state.where)}; {state.status}" if state else ""
        rows.append(
            PartRow(part, home_words(piece, part), where_to_stick(part), faces_words(part), told)
        )
    return rows


def faces_words(part: Part) -> str:
    """The faces by path, those that show first: `paint: front, 4 edges; raw: sides, inside`."""
    groups: dict[str, list[str]] = {}
    shown = [f for f in part.faces if f.name in SHOWN[part.family]]
    for face in [*shown, *(f for f in part.faces if f not in shown)]:
        groups.setdefault(face.path, []).append(face.name)
    return "; ".join(f"{path_word(path)}: {counted_faces(names)}" for path, names in groups.items())
