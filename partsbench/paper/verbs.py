"""The verb sheet for the wall: codes for verbs, reasons, faces, people, cups and places."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from partsbench.paper.column import PAPERS
from partsbench.paper.pen import Pen, polygons, printable, wrapped
from partsbench.paper.symbol import QUIET, SIDE, outlines

MARGIN = 12.0
MODULE = 0.8
"""mm; read at arm's length, as the wall is further off than a label in the hand."""

SYMBOL = (SIDE + 2 * QUIET) * MODULE
CELL = SYMBOL + 8.0
COLUMNS = 3
HEAD = 9.0
NAME, SAYS, CODE = 4.6, 2.9, 2.6


@dataclass(frozen=True, slots=True)
class WallCell:
    """One code: its ten characters, its name in large letters, and what it does."""

    code: str
    name: str
    says: str = ""


@dataclass(frozen=True, slots=True)
class WallPart:
    """Codes that belong together, under a heading."""

    title: str
    cells: tuple[WallCell, ...]


@dataclass(frozen=True, slots=True)
class _Placed:
    page: int
    y: float
    cells: tuple[WallCell, ...] = ()
    title: str = ""


def verb_sheet(parts: Sequence[WallPart], paper: str = "a4") -> bytes:
    """The sheet as PDF, on as many pages as it takes. KeyError for a paper that is not known."""
    width, height = PAPERS[paper]
    pen = Pen(width, height, "Verbs for the wall")
    page = 1
    column = (width - 2 * MARGIN) / COLUMNS
    for row in _placed(parts, height):
        if row.page > page:
            pen.next_page()
            page = row.page
        if row.title:
            pen.text(MARGIN, row.y + HEAD * 0.7, printable(row.title), 5.0, bold=True)
            pen.line((MARGIN, row.y + HEAD * 0.85), (width - MARGIN, row.y + HEAD * 0.85), 0.3)
        for place, cell in enumerate(row.cells):
            _cell(pen, cell, MARGIN + place * column, row.y, column)
    return pen.finish()


def _placed(parts: Sequence[WallPart], height: float) -> Iterator[_Placed]:
    """Rows of cells down the pages; a heading never stands alone at the foot, and stands again on
    the next page."""
    page, y = 1, MARGIN
    for part in parts:
        if not part.cells:
            continue
        if y + HEAD + CELL > height - MARGIN:
            page, y = page + 1, MARGIN
        yield _Placed(page, y, title=part.title)
        y += HEAD
        for first in range(0, len(part.cells), COLUMNS):
            if y + CELL > height - MARGIN:
                page, y = page + 1, MARGIN
                yield _Placed(page, y, title=f"{part.title}, continued")
                y += HEAD
            yield _Placed(page, y, part.cells[first : first + COLUMNS])
            y += CELL
        y += 2.0


def _cell(pen: Pen, cell: WallCell, x: float, y: float, width: float) -> None:
    """The symbol, beside it the name and what it does, and below it the code in characters."""
    quiet = QUIET * MODULE
    pen.fill(polygons(outlines(cell.code)), x + quiet, y + quiet, MODULE)
    pen.text(x + quiet, y + SYMBOL + CODE * 0.6, cell.code, CODE)
    left, room = x + SYMBOL + 1.0, width - SYMBOL - 3.0
    names = wrapped(printable(cell.name), NAME, room, bold=True)[:2]
    line = y + quiet + NAME
    for words in names:
        pen.fitted(left, line, words, NAME, room, bold=True)
        line += NAME * 1.15
    for words in wrapped(printable(cell.says), SAYS, room)[:4]:
        pen.fitted(left, line, words, SAYS, room)
        line += SAYS * 1.3
