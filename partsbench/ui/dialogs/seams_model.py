"""Seams as a table: the two faces, the length, and the tape."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, Qt

from partsbench.core.finish.masks import Mask, MaskState
from partsbench.core.piece.spot import Spot
from partsbench.core.shown_times import weekday
from partsbench.services.acts.masks import SeamLine
from partsbench.ui.model_index import Index, Role

HEADS = ("Face", "Meets", "Metres", "Tape")
WORDS = {MaskState.NOT_NEEDED: "no tape needed", MaskState.UNKNOWN: "not said yet"}


class SeamsModel(QAbstractTableModel):
    """Read anew from the book each time."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.lines: list[SeamLine] = []
        self._on: Mapping[Spot, Mask] = {}
        self._now = datetime.min.replace(tzinfo=UTC)

    def show_seams(self, lines: Sequence[SeamLine], on: Mapping[Spot, Mask], now: datetime) -> None:
        """`on`: the masks that are on, by the face they cover."""
        self.beginResetModel()
        self.lines, self._on, self._now = list(lines), on, now
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.lines)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(HEADS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole
    ) -> str | None:
        across = orientation is Qt.Orientation.Horizontal
        return HEADS[section] if across and role == Role.DisplayRole else None

    def data(self, index: Index, role: int = Role.DisplayRole) -> str | None:
        if not index.isValid() or role not in (Role.DisplayRole, Role.AccessibleTextRole):
            return None
        line = self.lines[index.row()]
        cells = (str(line.a), str(line.b), f"{line.length_mm / 1000:.2f}", self.tape_words(line))
        text = cells[index.column()]
        return text if role == Role.DisplayRole else f"{HEADS[index.column()]}: {text}"

    def tape_words(self, line: SeamLine) -> str:
        """`C1 top is covered since Tue 14:20, off by Fri 14:20`."""
        mask = self._on.get(line.a) or self._on.get(line.b)
        if line.state is not MaskState.MASKED or mask is None:
            return WORDS.get(line.state, "masked")
        told = f"{mask.covers} is covered since {weekday(mask.on, self._now)}"
        return f"{told}, off by {weekday(mask.off_by, self._now)}" if mask.off_by else told
