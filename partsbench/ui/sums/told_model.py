"""The figures of an answer as a table, and the decisions as a list."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QAbstractListModel,
    QAbstractTableModel,
    QModelIndex,
    Qt,
)
from PySide6.QtGui import QFont, QGuiApplication, QPalette
from PySide6.QtWidgets import QWidget

from partsbench.services.sums.asked.description import SumQuestion
from partsbench.services.sums.told import Told
from partsbench.ui.model_index import Index
from partsbench.ui.theme import sized


class ToldModel(QAbstractTableModel):
    """Rows and headings of an answer; an equal answer leaves the view as it is."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._head: tuple[str, ...] = ()
        self._rows: tuple[tuple[str, ...], ...] = ()

    def show_told(self, told: Told | None) -> None:
        head, rows = (told.head, told.rows) if told else ((), ())
        if (head, rows) == (self._head, self._rows):
            return
        self.beginResetModel()
        self._head, self._rows = head, rows
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._head)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        text = row[index.column()] if index.column() < len(row) else ""
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return text
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{self._head[index.column()]}: {text}"
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        across = orientation == Qt.Orientation.Horizontal
        if across and role == Qt.ItemDataRole.DisplayRole and section < len(self._head):
            return self._head[section]
        return None


class DecisionModel(QAbstractListModel):
    """The decisions under their headings; a heading cannot be chosen."""

    def __init__(
        self, groups: Sequence[tuple[str, Sequence[SumQuestion]]], parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.lines: list[str | SumQuestion] = []
        for heading, decisions in groups:
            self.lines += [heading, *decisions]

    def decision(self, row: int) -> SumQuestion | None:
        """What stands in a row; None for a heading."""
        line = self.lines[row] if 0 <= row < len(self.lines) else ""
        return line if isinstance(line, SumQuestion) else None

    def row_of(self, key: str) -> int:
        """The row of a decision, else of the first one."""
        rows = [i for i, line in enumerate(self.lines) if isinstance(line, SumQuestion)]
        return next((i for i in rows if self.decision(i).key == key), rows[0])  # type: ignore[union-attr]

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        line = self.lines[index.row()]
        chosen = isinstance(line, SumQuestion)
        if role == Qt.ItemDataRole.DisplayRole:
            return line.title if isinstance(line, SumQuestion) else line
        if role == Qt.ItemDataRole.ToolTipRole and isinstance(line, SumQuestion):
            return line.question
        if role == Qt.ItemDataRole.FontRole:
            return sized(0.3) if chosen else _heading()
        if role == Qt.ItemDataRole.ForegroundRole and not chosen:
            # A heading cannot be chosen, but it is read: not in the ink of what is off.
            palette = QGuiApplication.palette()
            return palette.brush(QPalette.ColorGroup.Active, QPalette.ColorRole.Text)
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        if self.decision(index.row()) is None:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable


def _heading() -> QFont:
    return sized(-0.4, bold=True)
