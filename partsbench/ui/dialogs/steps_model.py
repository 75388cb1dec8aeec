"""The steps of a path as a table, with what the rules find beside the step they mean.

The model holds no text: it asks for each edit, and is shown the path anew when one was made.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import IntEnum

from PySide6.QtCore import (
    QAbstractTableModel,
    QMimeData,
    QModelIndex,
    QObject,
    Qt,
    Signal,
)

from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.findings import Finding, Level
from partsbench.core.finish.path_text import MoveStep, SayOfStep, listed, quoted, written
from partsbench.core.finish.steps import After, Step
from partsbench.core.wording import notes
from partsbench.services.known import cautions
from partsbench.services.known.review import Reviewed
from partsbench.ui.model_index import Index, Role

Flag = Qt.ItemFlag
KIND = "application/x-partsbench-step"
LEVELS = {Level.HOLD: "HOLD", Level.WARN: "WARNING", Level.ADVISE: "ADVICE"}


class Col(IntEnum):
    """The columns, in their order."""

    NAME = 0
    FOUND = 1
    WAIT = 2
    LATEST = 3
    MISSED = 4
    OPTIONAL = 5
    CAUTIONS = 6
    SOURCE = 7


HEADS: Mapping[Col, tuple[str, str]] = {
    Col.NAME: ("Step", "What is done; drag it, or Alt+Up and Alt+Down"),
    Col.FOUND: ("What the rules find", "Of this step, with rule and source"),
    Col.WAIT: ("Wait", "The least time from here to the next step: 2 h, 1 d 12 h"),
    Col.LATEST: ("Latest", "The most time from here to the next step: 10 min, 3 d"),
    Col.MISSED: ("If missed", "What to do when the latest time has passed"),
    Col.OPTIONAL: ("Optional", "May be left out; a case of the face makes it due"),
    Col.CAUTIONS: ("Cautions", "The cautions told at the step, with commas between"),
    Col.SOURCE: ("Source", "Where its times come from; a time typed here is your own figure"),
}
_FIGURES = {Col.WAIT: "earliest", Col.LATEST: "latest"}
_FIXED = (Col.FOUND, Col.SOURCE)


class PathStepsModel(QAbstractTableModel):
    """Emits `asked` with the edit that a cell, or a step dropped elsewhere, asks for."""

    asked = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.steps: tuple[Step, ...] = ()
        self._found: dict[str, list[Finding]] = {}

    def show_path(self, found: Reviewed) -> None:
        """Show what was read; nothing while the text has faults."""
        self.beginResetModel()
        self.steps = found.path.steps if found.path else ()
        self._found = {}
        for finding in found.findings:
            self._found.setdefault(finding.where, []).append(finding)
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.steps)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(HEADS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole
    ) -> str | None:
        if orientation is Qt.Orientation.Vertical:
            return str(section + 1) if role == Role.DisplayRole else None
        title, told = HEADS[Col(section)]
        return {Role.DisplayRole: title, Role.ToolTipRole: told}.get(Role(role))

    def data(self, index: Index, role: int = Role.DisplayRole) -> object:
        if not index.isValid():
            return None
        step, col = self.steps[index.row()], Col(index.column())
        if role == Role.DisplayRole:
            return self.words(step, col)
        if role == Role.EditRole:
            return _as_typed(step, col)
        if role == Role.ToolTipRole:
            return self._told(step, col) or None
        if role == Role.AccessibleTextRole:
            said = self.words(step, col) or ("yes" if col is Col.OPTIONAL and step.optional else "")
            return f"{HEADS[col][0]}: {said or 'nothing'}"
        if role == Role.CheckStateRole and col is Col.OPTIONAL:
            return Qt.CheckState.Checked if step.optional else Qt.CheckState.Unchecked
        return None

    def words(self, step: Step, col: Col) -> str:
        """What a cell shows."""
        if col is Col.FOUND:
            return "\n".join(f"{LEVELS[f.level]}, {f.rule}" for f in self._found.get(step.key, ()))
        if col is Col.SOURCE:
            return "; ".join(dict.fromkeys(s.cited for s in step.sources if _is_time(s.figure)))
        if col is Col.OPTIONAL:
            case = step.only_when.replace("_", " ")
            return f"due when: {case}" if case else ""
        if col in _FIGURES:
            length = step.earliest if col is Col.WAIT else step.latest
            on_tin = "see the tin" if _FIGURES[col] in step.on_tin else ""
            return say_duration(length) if length is not None else on_tin
        return _as_typed(step, col)

    def _told(self, step: Step, col: Col) -> str:
        """All that a cell means and has no room for."""
        if col is Col.FOUND:
            return "\n".join(
                f"{f.reason} ({f.source.cited})" for f in self._found.get(step.key, ())
            )
        if col is Col.CAUTIONS:
            return "\n".join(cautions.words(step.cautions))
        if col in _FIGURES:
            figure = step.source_of(_FIGURES[col])
            said = [figure.said] if figure and figure.said else []
            return "\n".join([*said, *(_after_words(a) for a in step.after)])
        return self.words(step, col)

    # Changing

    def flags(self, index: Index) -> Flag:
        if not index.isValid():
            return Flag.ItemIsDropEnabled
        flags = Flag.ItemIsSelectable | Flag.ItemIsEnabled | Flag.ItemIsDragEnabled
        col = Col(index.column())
        if col is Col.OPTIONAL:
            locked = bool(self.steps[index.row()].only_when)
            return flags if locked else flags | Flag.ItemIsUserCheckable
        return flags if col in _FIXED else flags | Flag.ItemIsEditable

    def setData(self, index: Index, value: object, role: int = Role.EditRole) -> bool:
        """Ask for what was typed; what stands there stays, with its source, when it is the same."""
        step, col = self.steps[index.row()], Col(index.column())
        if col is Col.OPTIONAL and role == Role.CheckStateRole:
            on = Qt.CheckState(value) == Qt.CheckState.Checked
            self.asked.emit(SayOfStep(index.row(), "optional", "true" if on else ""))
            return True
        typed = " ".join(str(value).split())
        if role != Role.EditRole or typed == _as_typed(step, col):
            return False
        self.asked.emit(SayOfStep(index.row(), *_said(step, col, typed)))
        return True

    # Dragging

    def supportedDropActions(self) -> Qt.DropAction:
        return Qt.DropAction.MoveAction

    def mimeTypes(self) -> list[str]:
        return [KIND]

    def mimeData(self, indexes: Sequence[QModelIndex]) -> QMimeData:
        data = QMimeData()
        data.setData(KIND, str(min(i.row() for i in indexes)).encode())
        return data

    def dropMimeData(
        self, data: QMimeData, action: Qt.DropAction, row: int, column: int, parent: Index
    ) -> bool:
        """False always: the view takes no row out; the path is shown anew as it then is."""
        if data.hasFormat(KIND) and action == Qt.DropAction.MoveAction:
            came = int(bytes(data.data(KIND).data()))
            gap = row if row >= 0 else parent.row() if parent.isValid() else len(self.steps)
            to = gap - 1 if gap > came else gap
            if to != came:
                self.asked.emit(MoveStep(came, to))
        return False


_TYPED = str.maketrans("_", " ")
"""Keys of cautions are typed with a space."""


def _as_typed(step: Step, col: Col) -> str:
    """The text that a cell is edited as."""
    if col is Col.NAME:
        return step.name
    if col is Col.MISSED:
        return step.missed.say if step.missed else ""
    if col is Col.CAUTIONS:
        return ", ".join(caution.translate(_TYPED) for caution in step.cautions)
    return written(step.earliest if col is Col.WAIT else step.latest) if col in _FIGURES else ""


def _said(step: Step, col: Col, typed: str) -> tuple[str, str]:
    """The word of the step's table that a cell stands for, and its value as TOML."""
    if col is Col.CAUTIONS:
        return "cautions", listed(["_".join(w.split()) for w in typed.split(",") if w.strip()])
    if col is Col.MISSED:
        aim = step.missed.step if step.missed else step.key
        say = f"{{ step = {quoted(aim)}, say = {quoted(typed)} }}" if typed else ""
        return "missed", say
    return _FIGURES.get(col, "name"), quoted(typed) if typed else ""


def _is_time(figure: str) -> bool:
    return figure in _FIGURES.values()


def _after_words(after: After) -> str:
    """`from rinse: 2 h, latest 1 d, when bleeds`."""
    parts = [
        say_duration(after.earliest) if after.earliest is not None else "",
        f"latest {say_duration(after.latest)}" if after.latest is not None else "",
        f"when {after.only_when}" if after.only_when else "",
    ]
    return f"this step from {after.step}: {notes(*parts)}"
