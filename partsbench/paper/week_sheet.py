"""The week on one sheet, across: days as columns, lanes as rows, a bar and its words for each."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.paper.column import LEADING, PAPERS
from partsbench.paper.pen import Pen, printable, wrapped

MARGIN = 11.0
NAME = 27.0
"""mm for the names of the rows."""
TITLE, SENTENCE, DAY, MARK = 3.4, 5.4, 4.2, 2.7
WORDS, SAID = 2.6, 3.0
BAR = 2.6
SAID_LEAST = 22.0
"""mm that what is said of each piece has at the foot at least."""


@dataclass(frozen=True, slots=True)
class WeekEntry:
    """A stretch within one day: from and to as shares of its column, and what it is."""

    start: float
    end: float
    words: str


@dataclass(frozen=True, slots=True)
class WeekRow:
    """A lane: for each day its stretches. waits: their bars are drawn open."""

    name: str
    cells: tuple[tuple[WeekEntry, ...], ...]
    waits: bool = False


@dataclass(frozen=True, slots=True)
class WeekSheet:
    """Everything on the sheet. days: name and, below it, what is done and promised."""

    title: str
    sentence: str
    days: tuple[tuple[str, tuple[str, ...]], ...]
    rows: tuple[WeekRow, ...]
    said: tuple[str, ...]


def week_sheet(sheet: WeekSheet, paper: str = "a4") -> bytes:
    """The PDF, always one page; what has no room is counted. KeyError for an unknown paper."""
    width, height = PAPERS[paper]
    pen = Pen(height, width, sheet.title)
    y = _head(pen, sheet)
    wide = (pen.width - 2 * MARGIN - NAME) / len(sheet.days)
    y = _days(pen, sheet, y, wide)
    room = pen.height - MARGIN - SAID_LEAST - y
    waits = sum(row.waits for row in sheet.rows)
    lines = int((room - len(sheet.rows) * (BAR + 2)) / (WORDS * LEADING)) - waits
    most = max(1, lines // max(1, len(sheet.rows) - waits))
    for row in sheet.rows:
        y = _row(pen, row, y, wide, most)
    _said(pen, sheet.said, y + 3)
    return pen.finish()


def _head(pen: Pen, sheet: WeekSheet) -> float:
    pen.text(MARGIN, MARGIN + TITLE, printable(sheet.title), TITLE)
    y = MARGIN + TITLE
    for line in wrapped(printable(sheet.sentence), SENTENCE, pen.width - 2 * MARGIN, bold=True):
        y += SENTENCE * LEADING
        pen.text(MARGIN, y, line, SENTENCE, bold=True)
    return y + 4


def _days(pen: Pen, sheet: WeekSheet, y: float, wide: float) -> float:
    lines = max((len(marks) for _, marks in sheet.days), default=0)
    for n, (name, marks) in enumerate(sheet.days):
        x = MARGIN + NAME + n * wide
        pen.fitted(x + 1, y + DAY, printable(name), DAY, wide - 2, bold=True)
        for m, words in enumerate(marks, 1):
            below = y + DAY + m * MARK * LEADING
            pen.fitted(x + 1, below, printable(words), MARK, wide - 2)
    return y + DAY + lines * MARK * LEADING + 2


def _row(pen: Pen, row: WeekRow, y: float, wide: float, most: int) -> float:
    """A bar for each stretch, and below the bars its words; returns where the next row begins."""
    pen.line((MARGIN, y), (pen.width - MARGIN, y), 0.15)
    pen.fitted(MARGIN, y + 4.4, printable(row.name), 3.2, NAME - 2, bold=not row.waits)
    lines = 1
    for n, entries in enumerate(row.cells):
        x = MARGIN + NAME + n * wide
        pen.line((x, y), (x, y + BAR + 1), 0.15)
        for entry in entries:
            a, b = x + entry.start * wide, x + max(entry.end, entry.start + 0.02) * wide
            if row.waits:
                pen.boxes([(a, y + 1, b - a, BAR - 0.6)], thick=0.15)
            else:
                pen.line((a, y + 1 + BAR / 2), (b, y + 1 + BAR / 2), BAR)
        said = _cell(row, entries, most, wide - 1.6)
        lines = max(lines, len(said))
        for m, words in enumerate(said, 1):
            below = y + BAR + 1 + m * WORDS * LEADING
            pen.fitted(x + 0.6, below, printable(words), WORDS, wide - 1.6)
    return y + BAR + 2 + lines * WORDS * LEADING


def _cell(row: WeekRow, entries: tuple[WeekEntry, ...], most: int, wide: float) -> list[str]:
    """The lines below the bars of a day: one for waits, else so many at most."""
    said = [entry.words for entry in entries if entry.words]
    if row.waits:
        return [", ".join(said)] if said else []
    found: list[str] = []
    for n, words in enumerate(said):
        lines = wrapped(printable(words), WORDS, wide)
        left = len(said) - n
        if len(found) + len(lines) + (left > 1) > most:
            return [*found[: most - 1], f"and {left} more"]
        found += lines
    return found


def _said(pen: Pen, said: tuple[str, ...], y: float) -> None:
    """As many sentences as the sheet has room for, the first ones first."""
    pen.line((MARGIN, y - 2), (pen.width - MARGIN, y - 2), 0.3)
    last = pen.height - MARGIN
    for n, sentence in enumerate(said):
        lines = wrapped(printable(sentence), SAID, pen.width - 2 * MARGIN)
        left = len(said) - n
        need = (len(lines) + (left > 1)) * SAID * LEADING
        if y + need > last:
            y += SAID * LEADING
            pen.text(MARGIN, y, f"{left} more sentences stand in the window.", SAID)
            return
        for line in lines:
            y += SAID * LEADING
            pen.text(MARGIN, y, line, SAID)
