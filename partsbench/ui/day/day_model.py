"""The day as a table: what may be done, what waits and until when; read out cell by cell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from math import ceil

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, Qt

from partsbench.core.key_words import large_word, word_of
from partsbench.core.outcomes import Answer
from partsbench.core.shown_times import weekday
from partsbench.core.wording import notes
from partsbench.services.rules.clocks import FaceClock, Group, ready_words
from partsbench.services.rules.ready import short_time
from partsbench.ui.model_index import Index, Role

HEADS = ("Now", "Until or from", "What", "Where", "Why, and whose figure")
ORDER = (Answer.LATE, Answer.GO, Answer.WAIT, Answer.STOP)


@dataclass(frozen=True, slots=True)
class Line:
    """One row: the word, the time, the step, the faces, why; `tag` and `short` lead to the part."""

    cells: tuple[str, str, str, str, str]
    tag: str = ""
    short: str = ""


def lines_of(groups: Sequence[Group], now: datetime) -> list[Line]:
    """A row for each group, today first: what will be too late today, what is, what may be done,
    what opens today; then what is held, and what waits for another day."""
    ordered = sorted(groups, key=lambda group: _rank(group, now))
    return [_line(group) for group in ordered]


def lines_of_part(tag: str, short: str, clocks: Sequence[FaceClock], now: datetime) -> list[Line]:
    """The clocks of one part: a row for each face, and one for each of its six answers."""
    found: list[Line] = []
    for clock in clocks:
        if clock.face.part != short:
            continue
        found.append(_face_line(tag, short, clock))
        for answer in clock.ready:
            time = short_time(answer, now)
            cells = ("", time, f"ready to {word_of(answer.ready)}", "", ready_words(answer, now))
            found.append(Line(cells, tag, short))
    return found


def _face_line(tag: str, short: str, clock: FaceClock) -> Line:
    word = word_of(clock.said.answer) if clock.said else large_word("DONE")
    until = weekday(clock.said.until, clock.now) if clock.said and clock.said.until else ""
    why = clock.said.because if clock.said else "every step is done"
    why = _cited(why, clock.said.source if clock.said else "")
    return Line((word, until, clock.step_name or "finished", str(clock.face), why), tag, short)


def _cited(why: str, source: str) -> str:
    """A reason with its source behind it in brackets, where it has one."""
    return f"{why} ({source})" if source else why


def _line(group: Group) -> Line:
    said = group.said
    when = (
        f"by {weekday(group.closes, group.now)}"
        if group.closes and said.answer is Answer.GO
        else ""
    )
    if said.answer is Answer.WAIT and said.until:
        when = f"from {weekday(said.until, group.now)}"
    minutes = f"{ceil(group.minutes)} min" if group.minutes else ""
    short = group.faces[0][0].part.short
    return Line(
        (
            word_of(said.answer),
            when,
            notes(group.step.name, minutes),
            group.where,
            _cited(said.because, said.source),
        ),
        group.tag,
        short,
    )


def _rank(group: Group, now: datetime) -> tuple[int, bool, float]:
    at = group.closes or group.said.until
    answer = group.said.answer
    place = ORDER.index(answer) + 1
    if answer is Answer.GO and _is_today(group.closes, now):
        place = 0
    elif answer is Answer.WAIT and not _is_today(group.said.until, now):
        place = len(ORDER) + 1
    return place, group.closes is None, at.timestamp() if at else 0.0


def _is_today(at: datetime | None, now: datetime) -> bool:
    return at is not None and at.astimezone().date() == now.astimezone().date()


class DayModel(QAbstractTableModel):
    """Shows lines; nothing is kept besides."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.lines: list[Line] = []

    def show_lines(self, lines: Sequence[Line]) -> None:
        if list(lines) != self.lines:
            self.beginResetModel()
            self.lines = list(lines)
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
        if not index.isValid():
            return None
        text = self.lines[index.row()].cells[index.column()]
        if role == Role.AccessibleTextRole:
            return f"{HEADS[index.column()]}: {text or 'nothing'}"
        return text if role in (Role.DisplayRole, Role.ToolTipRole) else None
