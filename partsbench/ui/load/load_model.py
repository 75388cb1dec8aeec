"""The parts of a load in spray order, each with a tick for "coated"."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    Qt,
    Signal,
)

from partsbench.core.key_words import face_words
from partsbench.core.piece.spot import Spot
from partsbench.ui.model_index import Index, Role

NAMED = 2


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One part of a load: its place in spray order, its faces in words, and what to mind."""

    place: int
    short: str
    faces: str
    mind: str = ""

    @property
    def words(self) -> str:
        mind = f"   ({self.mind})" if self.mind else ""
        return f"{self.place}   {self.short}   {self.faces}{mind}"


def load_lines(faces: Sequence[Spot], behind: Collection[Spot] = ()) -> list[LoadLine]:
    """Lines for faces, parts in the order of their first face."""
    parts: dict[str, list[str]] = {}
    for spot in faces:
        parts.setdefault(spot.part, []).append(spot.face)
    late = {spot.part for spot in behind}
    return [
        LoadLine(place, short, _faces(mine), "a coat behind" if short in late else "")
        for place, (short, mine) in enumerate(parts.items(), 1)
    ]


def _faces(names: Sequence[str]) -> str:
    return face_words(names) if len(names) <= NAMED else f"{len(names)} faces"


class LoadModel(QAbstractListModel):
    """Ticked is coated. Ticks are shown only while the load is taken."""

    ticked = Signal(str, bool)
    """A part's short number, and whether it is coated."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.lines: list[LoadLine] = []
        self._left_out: frozenset[str] = frozenset()
        self._taken = False

    def show_load(
        self, lines: Sequence[LoadLine], left_out: Collection[str], *, taken: bool
    ) -> None:
        shown = (list(lines), frozenset(left_out), taken)
        if shown == (self.lines, self._left_out, self._taken):
            return
        same_rows = shown[0] == self.lines and taken == self._taken
        if not same_rows:
            self.beginResetModel()
        self.lines, self._left_out, self._taken = shown
        if not same_rows:
            self.endResetModel()
        elif self.lines:
            self.dataChanged.emit(self.index(0), self.index(len(self.lines) - 1))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.lines)

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        return flags | Qt.ItemFlag.ItemIsUserCheckable if self._taken else flags

    def data(self, index: Index, role: int = Role.DisplayRole) -> object:
        if not index.isValid():
            return None
        line = self.lines[index.row()]
        if role == Role.DisplayRole:
            return line.words
        if role == Role.CheckStateRole and self._taken:
            coated = line.short not in self._left_out
            return Qt.CheckState.Checked if coated else Qt.CheckState.Unchecked
        if role == Role.AccessibleTextRole:
            state = "not coated" if line.short in self._left_out else "coated"
            return f"{line.words}, {state}" if self._taken else line.words
        return None

    def setData(self, index: Index, value: object, role: int = Role.EditRole) -> bool:
        if role != Role.CheckStateRole or not self._taken or not index.isValid():
            return False
        coated = Qt.CheckState(value) is Qt.CheckState.Checked
        self.ticked.emit(self.lines[index.row()].short, coated)
        return True
