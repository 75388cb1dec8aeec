"""The care sheet as PDF: one sentence, dates by face, what to mind, keys, and where it is from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import no_paper
from partsbench.paper.column import LEADING, PAPERS, SMALL, SheetColumn
from partsbench.paper.pen import Pen, all_printable, printable, wrapped

MARGIN = 18.0
BODY = 3.8
OF_THE_DATES = (
    "A finish is dry long before it is hard. Until a part's own day, treat it as if it were wet."
)
_COLUMNS = (0.0, 0.36, 0.52, 0.68, 0.84)
"""Where the columns of the dates begin, as shares of the width."""


@dataclass(frozen=True, slots=True)
class CareRow:
    """Faces with equal dates, in words."""

    faces: str
    last_coat: str
    coated: str
    handle: str
    touch: str
    service: str


@dataclass(frozen=True, slots=True)
class CareContent:
    """What the sheet says. No name, address or price of a client."""

    codename: str
    tag: str
    title: str
    sentence: str
    rows: tuple[CareRow, ...]
    advice: tuple[str, ...]
    keys: tuple[str, ...]
    sources: tuple[str, ...]
    made_on: str


def care_pdf(content: CareContent, paper: str = "a4") -> bytes | Refused:
    """The sheet on as many pages as it takes; the same content gives the same bytes."""
    page = PAPERS.get(paper)
    if page is None:
        return Refused(no_paper(paper, PAPERS))
    name = printable(content.codename) if all_printable(content.codename) else content.tag
    pen = Pen(*page, f"Care of {content.codename} {content.tag}")
    writer = _Sheet(pen, MARGIN, f"{name}, continued")
    writer.words("Caring for your piece", 7.0, bold=True)
    writer.words(" · ".join(filter(None, (name, printable(content.title)))), 4.6, above=0.5)
    writer.words(content.sentence, 5.2, bold=True, above=2)
    if content.rows:
        writer.words(OF_THE_DATES, BODY, above=1.2)
        writer.table(
            (
                "where, and its last coat",
                "put on",
                "handle it from",
                "let it touch from",
                "use it from",
            ),
            [
                (f"{r.faces}: {r.last_coat}", r.coated, r.handle, r.touch, r.service)
                for r in content.rows
            ],
        )
    writer.words("What to do, and what not", 4.6, bold=True, above=5)
    for line in content.advice:
        writer.words(line, BODY, above=1.2)
    if content.keys:
        writer.words("Your keys and locks", 4.6, bold=True, above=5)
        writer.words(", ".join(content.keys), BODY, above=1.2)
    writer.words("Where the dates come from", 3.6, bold=True, above=5)
    for line in content.sources:
        writer.words(line, SMALL, above=0.6)
    writer.words(
        "The days are counted from the day each last coat was put on. They are starting "
        "values: the tin goes first, and a film hardens later where it is cold or damp. "
        f"Made on {content.made_on}.",
        SMALL,
        above=2,
    )
    return writer.pen.finish()


class _Sheet(SheetColumn):
    """The care sheet: words, and the table of the dates."""

    def table(self, head: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
        self.y += 3
        self.row(head, bold=True)
        for row in rows:
            self.row(row)
        self.pen.line((self.margin, self.y + 2), (self.margin + self.width, self.y + 2), 0.2)
        self.y += 2

    def row(self, cells: Sequence[str], *, bold: bool = False) -> None:
        ends = (*_COLUMNS[1:], 1.0)
        size = SMALL + 0.3
        lines = [
            wrapped(printable(cell), size, (end - begin) * self.width - 2, bold)
            for cell, begin, end in zip(cells, _COLUMNS, ends, strict=True)
        ]
        height = max(len(cell) for cell in lines) * size * LEADING + 1.6
        self.room(height)
        self.pen.line((self.margin, self.y + 1.2), (self.margin + self.width, self.y + 1.2), 0.1)
        for cell, begin in zip(lines, _COLUMNS, strict=True):
            for place, line in enumerate(cell, 1):
                y = self.y + 1.2 + place * size * LEADING
                self.pen.text(self.margin + begin * self.width, y, line, size, bold=bold)
        self.y += height
