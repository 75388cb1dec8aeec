"""The day on paper: what can be done, by when, what is open; boxes for the pencil."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from partsbench.paper.column import PAPERS, SheetColumn
from partsbench.paper.pen import Pen, printable, wrapped

MARGIN = 14.0
BODY = 3.7
LINE = 7.4
BOX = 4.2
HEAD = 9.0
UNDER = 5.2
INDENT = 33.0
NOTES = 6
"""Empty lines for what is done besides."""


@dataclass(frozen=True, slots=True)
class DayLine:
    """A line to tick: when, what, and by when; `cliff` lines are marked as such."""

    when: str
    what: str
    by: str = ""
    cliff: bool = False


@dataclass(frozen=True, slots=True)
class DaySheet:
    """Everything on the sheet. Times are printed as they are: give them in the shop's own."""

    title: str
    sentence: str
    because: str
    tonight: str = ""
    loops: tuple[str, ...] = ()
    tasks: tuple[DayLine, ...] = ()
    clocks: tuple[DayLine, ...] = ()
    stragglers: tuple[str, ...] = ()
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Row:
    """A row of the sheet: a heading, words, or a line to tick."""

    head: str = ""
    words: str = ""
    line: DayLine | None = None
    large: bool = False
    under: str = ""
    """What of a line to tick had no room beside its box."""


def day_sheet(sheet: DaySheet, paper: str = "a4") -> bytes:
    """The sheet as PDF, on as many pages as it takes. KeyError for a paper that is not known."""
    pen = Pen(*PAPERS[paper], sheet.title)
    column = SheetColumn(pen, MARGIN)
    for row in _rows(sheet, column.width):
        tall = HEAD if row.head or row.large else UNDER if row.under else LINE
        # A heading takes its first line along to the next page.
        column.room(tall + (LINE if row.head else 0))
        _draw(pen, row, column.y, pen.width)
        column.y += tall
    return pen.finish()


def _rows(sheet: DaySheet, room: float) -> Iterator[_Row]:
    yield _Row(head=sheet.title)
    for words in wrapped(printable(sheet.sentence), 5.4, room, bold=True):
        yield _Row(words=words, large=True)
    for words in (sheet.because, sheet.tonight, *sheet.said):
        yield from _words(words, room)
    yield from _ticked("Open until closed", [DayLine("", w) for w in sheet.loops], room)
    yield from _ticked("Can be done now", sheet.tasks, room)
    yield from _ticked("Waits and their ends", sheet.clocks, room)
    if sheet.stragglers:
        yield _Row(head="Behind their siblings")
        for words in sheet.stragglers:
            yield from _words(words, room)
    yield from _ticked("Done besides", [DayLine("", "")] * NOTES, room)


def _ticked(head: str, lines: Sequence[DayLine], room: float) -> Iterator[_Row]:
    """Nothing of a line is cut: what has no room stands under it."""
    if lines:
        yield _Row(head=head)
        for line in lines:
            first, *rest = wrapped(printable(line.what), BODY, _beside(line, room)) or [""]
            yield _Row(line=replace(line, what=first))
            for under in rest:
                yield _Row(under=under)


def _beside(line: DayLine, room: float) -> float:
    """mm for the words of a line, between its time and what stands at the right."""
    return room - INDENT - (64 if line.by else 24)


def _words(words: str, room: float) -> Iterator[_Row]:
    for line in wrapped(printable(words), BODY, room) if words else ():
        yield _Row(words=line)


def _draw(pen: Pen, row: _Row, y: float, width: float) -> None:
    if row.head:
        pen.text(MARGIN, y + HEAD * 0.62, printable(row.head), 4.4, bold=True)
        pen.line((MARGIN, y + HEAD * 0.78), (width - MARGIN, y + HEAD * 0.78), 0.25)
    elif row.line is not None:
        _tick_line(pen, row.line, y, width)
    elif row.under:
        pen.text(MARGIN + INDENT, y + BODY, row.under, BODY)
    else:
        size = 5.4 if row.large else BODY
        pen.fitted(MARGIN, y + size, row.words, size, width - 2 * MARGIN, bold=row.large)


def _tick_line(pen: Pen, line: DayLine, y: float, width: float) -> None:
    """A box, the time, the words, and at the right the time written when it was done."""
    base = y + LINE * 0.66
    pen.boxes([(MARGIN, y + (LINE - BOX) / 2, BOX, BOX)], thick=0.35)
    pen.fitted(MARGIN + 7, base, printable(line.when), BODY, 25)
    right = width - MARGIN
    pen.text(right - 22, base, "at _______", BODY)
    by = printable(line.by)
    pen.fitted(right - 62, base, by, BODY, 38, bold=line.cliff)
    if line.what:
        pen.fitted(MARGIN + INDENT, base, line.what, BODY, _beside(line, right - MARGIN))
    else:
        pen.line((MARGIN + INDENT, base + 0.6), (right - 24, base + 0.6), 0.15)
