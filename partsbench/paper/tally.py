"""The tally strip: a load on paper, in spray order, for places without a screen."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.core.piece.drawing import Drawing
from partsbench.paper.column import PAPERS
from partsbench.paper.drawing import DrawnMark, draw_lines, draw_marks, placed
from partsbench.paper.layout import Box
from partsbench.paper.pen import Pen, polygons, printable, wrapped
from partsbench.paper.symbol import QUIET, SIDE, outlines

MARGIN = 10.0
WIDTH = 92.0
MODULE = 0.7
SYMBOL = (SIDE + 2 * QUIET) * MODULE
HEAD = SYMBOL + 16.0
LINE = 13.0
BOX = 8.0
FOOT = 22.0
FACES = 3.2


@dataclass(frozen=True, slots=True)
class StripLine:
    """One part of the load: its number, its faces, and its place in the piece filled in."""

    number: str
    faces: str
    marks: tuple[DrawnMark, ...] = ()


@dataclass(frozen=True, slots=True)
class Strip:
    """A load: its code and number, the job, the coat, the cup's code and what is in it."""

    code: str
    number: int
    job: str
    coat: str
    lines: tuple[StripLine, ...]
    drawing: Drawing | None = None
    cup: str = ""
    mix: str = ""


def tally_strip(strip: Strip, paper: str = "a4") -> bytes:
    """The strip as PDF, cut along its dashed side; long loads go on on the next page."""
    width, height = PAPERS[paper]
    pen = Pen(width, height, f"Load {strip.number}")
    per_page = int((height - 2 * MARGIN - HEAD - FOOT) // LINE)
    pages = [strip.lines[i : i + per_page] for i in range(0, len(strip.lines), per_page)] or [()]
    for page, lines in enumerate(pages):
        if page:
            pen.next_page()
        pen.line((MARGIN + WIDTH, 0), (MARGIN + WIDTH, height), 0.2, dash=2.0)
        _head(pen, strip, f"{page + 1} of {len(pages)}" if len(pages) > 1 else "")
        y = MARGIN + HEAD
        for line in lines:
            _line(pen, strip, line, y)
            y += LINE
        _foot(pen, y)
    return pen.finish()


def _head(pen: Pen, strip: Strip, page: str) -> None:
    """The load's code on the left, the cup's on the right, what it is between them."""
    _symbol(pen, strip.code, MARGIN, MARGIN)
    if strip.cup:
        _symbol(pen, strip.cup, MARGIN + WIDTH - SYMBOL - 2, MARGIN)
    left, room = MARGIN + SYMBOL + 1, WIDTH - (2 * SYMBOL if strip.cup else SYMBOL) - 5
    pen.fitted(left, MARGIN + 8, f"Load {strip.number}", 6.5, room, bold=True)
    pen.fitted(left, MARGIN + 14, printable(strip.job), 4.0, room)
    if page:
        pen.fitted(left, MARGIN + 19, page, 3.0, room)
    below = MARGIN + SYMBOL
    pen.fitted(MARGIN + 2, below + 6, printable(strip.coat), 4.6, WIDTH - 4, bold=True)
    mix = printable(strip.mix) if strip.mix else "cup ________________________"
    pen.fitted(MARGIN + 2, below + 12, mix, 3.4, WIDTH - 4)


def _symbol(pen: Pen, code: str, x: float, y: float) -> None:
    quiet = QUIET * MODULE
    pen.fill(polygons(outlines(code)), x + quiet, y + quiet, MODULE)
    pen.text(x + quiet, y + SYMBOL - 0.2, code, 2.4)


def _line(pen: Pen, strip: Strip, line: StripLine, y: float) -> None:
    """A box to tick, the number in large letters, the piece with its place filled, the faces."""
    pen.line((MARGIN, y), (MARGIN + WIDTH - 2, y), 0.15)
    pen.boxes([(MARGIN + 2, y + (LINE - BOX) / 2, BOX, BOX)], thick=0.4)
    pen.text(MARGIN + BOX + 5, y + LINE * 0.72, printable(line.number), 8.5, bold=True)
    if strip.drawing:
        at = placed(strip.drawing, Box(MARGIN + 36, y + 1, 18, LINE - 2))
        draw_lines(pen, strip.drawing, at, 0.1)
        draw_marks(pen, line.marks, at, 0.1)
    words = wrapped(printable(line.faces), FACES, WIDTH - 60)[:3]
    first = y + LINE / 2 + FACES * (0.35 - 0.6 * (len(words) - 1))
    for place, each in enumerate(words):
        pen.fitted(MARGIN + 57, first + place * FACES * 1.2, each, FACES, WIDTH - 60)


def _foot(pen: Pen, y: float) -> None:
    """What is written by pencil and entered later."""
    pen.line((MARGIN, y), (MARGIN + WIDTH - 2, y), 0.15)
    pen.text(MARGIN + 2, y + 7, "begun ______  ended ______  °C ____  % ____", 3.6)
    pen.text(MARGIN + 2, y + 14, "Tick what is coated. Then scan the strip, and END;", 3.0)
    pen.text(MARGIN + 2, y + 18.5, "or ALL EXCEPT and what has no tick.", 3.0)
