"""Label sheets as PDF: the same contents give the same bytes, whenever they are printed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil, cos, pi, sin

from partsbench.core.outcomes import Refused
from partsbench.paper.drawing import Placed, draw_lines, draw_marks, placed
from partsbench.paper.labels import LabelContent
from partsbench.paper.layout import (
    DIGIT_HEIGHT,
    HOME_HEAD,
    Box,
    Layout,
    layout_for,
    small_layout_for,
)
from partsbench.paper.pen import (
    SMALLEST_SHARE,
    Pen,
    all_printable,
    fit,
    polygons,
    printable,
    text_width,
)
from partsbench.paper.sheets import LabelSpot, Stock, cells, cut_positions
from partsbench.paper.symbol import QUIET, outlines

FOOTER_ROOM = 7.0
_FOOTER_SIZE = 2.9
CODE_AIR = 1.2
"""mm that the characters of a code keep free at their sides, towards the words."""
_TEXT_SHARE = 0.8
"""Font size of a line of words as a share of the line."""


@dataclass(frozen=True, slots=True)
class Run:
    """Labels on one stock, from label `start` of its first sheet on."""

    contents: tuple[LabelContent, ...]
    stock: Stock
    start: int = 1


def label_sheets(
    runs: Sequence[Run], offset: tuple[float, float] = (0.0, 0.0), note: str = ""
) -> bytes | Refused:
    """Labels of several sizes one after the other, on pages of one size.

    `offset` moves everything right and down by mm. `note` ("teardown order") stands in the footer,
    which is left off where the stock has no margin for it.
    """
    everything = [content for run in runs for content in run.contents]
    if not everything:
        return Refused("There are no labels to print.")
    first = runs[0].stock
    pen = Pen(first.page_width, first.page_height, f"Labels of {_titles(everything)}")
    maps: dict[tuple[int, float, float], str] = {}
    for place, run in enumerate(runs):
        fault = _draw_run(pen, run, offset, note, maps, begun=place > 0)
        if fault:
            return fault
    return pen.finish()


def _draw_run(
    pen: Pen,
    run: Run,
    offset: tuple[float, float],
    note: str,
    maps: dict[tuple[int, float, float], str],
    *,
    begun: bool,
) -> Refused | None:
    contents, stock = run.contents, run.stock
    places = cells(stock, len(contents), run.start, offset)
    if isinstance(places, Refused):
        return places
    layouts = []
    for content in contents:
        layout = layout_of(content, stock)
        if isinstance(layout, Refused):
            return layout
        layouts.append(layout)
    numbered = zip(places, contents, layouts, range(1, len(contents) + 1), strict=True)
    for page, labels in groupby(numbered, key=_page_of):
        on_page = list(labels)
        if page > 1 or begun:
            pen.next_page()
        first, last = on_page[0][3], on_page[-1][3]
        _surround(pen, stock, offset, _footer(contents, first, last, note))
        for cell, content, layout, _ in on_page:
            if stock.hole:
                pen.fill(_HOLE, cell.x + stock.hole / 2 + 1, cell.y + stock.label_height / 2)
            pen.origin = (cell.x + stock.hole, cell.y)
            _label(pen, content, layout, maps)
            pen.origin = (0.0, 0.0)
    return None


def layout_of(content: LabelContent, stock: Stock) -> Layout | Refused:
    """Where this label's things stand on that stock; refused when they do not fit."""
    # Rounded up, so that labels share a few sizes of the drawing.
    wide = ceil(text_width(content.number, 1.0, bold=True) * 10) / 10
    rows = 4 if content.old_mark or content.note else 3
    head = HOME_HEAD if content.is_home else 0.0
    aspect = round(content.drawing.width / content.drawing.height, 3)
    size = (stock.label_width - stock.hole, stock.label_height)
    if stock.symbols == 1:
        return small_layout_for(*size, wide, rows - 1, head)
    return layout_for(*size, wide, rows, head, aspect)


def _page_of(label: tuple[LabelSpot, LabelContent, Layout, int]) -> int:
    return label[0].page


def _surround(pen: Pen, stock: Stock, offset: tuple[float, float], footer: str) -> None:
    """Cut lines and footer of one page."""
    pen.origin = offset
    if stock.cut_lines:
        across, down = cut_positions(stock)
        over = 3.0
        for x in across:
            pen.line((x, stock.top - over), (x, stock.bottom + over), 0.1, dash=1.5)
        for y in down:
            pen.line((stock.left - over, y), (stock.right + over, y), 0.1, dash=1.5)
    if stock.page_height - stock.bottom >= FOOTER_ROOM:
        room = stock.right - stock.left - 2
        pen.fitted(stock.left + 1, stock.bottom + 5.5, footer, _FOOTER_SIZE, room)
    pen.origin = (0.0, 0.0)


def _footer(contents: Sequence[LabelContent], first: int, last: int, note: str) -> str:
    told = [_names(contents), f"labels {first}–{last} of {len(contents)}"]
    if note:
        told.append(printable(note))
    return " · ".join([*told, "print at 100 %, not “fit to page”"])


def _titles(contents: Sequence[LabelContent]) -> str:
    """Whose labels, for the file's own title: any letters will do there."""
    return ", ".join(dict.fromkeys(f"{c.codename} {c.tag}" for c in contents))


def _names(contents: Sequence[LabelContent]) -> str:
    names = dict.fromkeys(f"{job_name(c)} {c.tag}" for c in contents)
    return ", ".join(names)


def job_name(content: LabelContent) -> str:
    """The codename, or the tag where the font lacks letters of it: no name is half printed."""
    return printable(content.codename) if all_printable(content.codename) else content.tag


def _label(
    pen: Pen, content: LabelContent, layout: Layout, maps: dict[tuple[int, float, float], str]
) -> None:
    symbol = polygons(outlines(content.code))
    for whole, code in zip(layout.symbols, layout.codes, strict=True):
        quiet = QUIET * layout.module
        pen.fill(symbol, whole.x + quiet, whole.y + quiet, layout.module)
        _centred(pen, code, content.code)
    for arrow in layout.arrows:
        _arrow(pen, arrow, content.arrow)
    _number(pen, content, layout)
    if layout.map is not None:
        at = _map(pen, content, layout.map, maps)
        draw_marks(pen, content.marks, at)
    _lines(pen, content, layout)


_HOLE = polygons(
    [[(r * cos(i * pi / 18), r * sin(i * pi / 18)) for i in range(36)] for r in (2.5, 2.3)]
)
"""Where a tag is punched: a ring of 5 mm."""

_TRIANGLE = polygons([((0.5, 0), (1, 1), (0, 1))])


def _arrow(pen: Pen, box: Box, word: str) -> None:
    """A triangle that points to the upper edge of the label, and where that edge goes.

    The word ends above the box's lower edge with all its letters: below it is the quiet zone.
    """
    size = box.height * 0.72
    x = box.x + (box.width - size * 1.2 - text_width(word, size * 0.85, bold=True)) / 2
    bottom = box.y + box.height * 0.8
    pen.fill(_TRIANGLE, x, bottom - size, size)
    pen.text(x + size * 1.2, bottom, word, size * 0.85, bold=True)


def _centred(pen: Pen, box: Box, words: str) -> None:
    size, words = fit(words, box.height * 0.92, box.width - CODE_AIR, bold=True)
    x = box.x + (box.width - text_width(words, size, bold=True)) / 2
    pen.text(x, box.y + box.height * 0.72, words, size, bold=True)


def _number(pen: Pen, content: LabelContent, layout: Layout) -> None:
    """The biggest thing: black for a part, white in a black field for a home."""
    box, size = layout.number, layout.digits / DIGIT_HEIGHT
    baseline = box.bottom - (box.height - layout.head - layout.digits) / 2
    if content.is_home:
        pen.boxes([(box.x, box.y, box.width, box.height)], thick=0, fill=0.0)
        head = fit("HOME OF", HOME_HEAD * 0.9, box.width - 2, bold=True)
        x = box.x + (box.width - text_width(head[1], head[0], bold=True)) / 2
        pen.text(x, box.y + HOME_HEAD, head[1], head[0], bold=True, white=True)
    x = box.x + (box.width - text_width(content.number, size, bold=True)) / 2
    pen.text(x, baseline, content.number, size, bold=True, white=content.is_home)


def _map(
    pen: Pen, content: LabelContent, box: Box, maps: dict[tuple[int, float, float], str]
) -> Placed:
    """The piece in outline: drawn once for all labels of its size, then stamped."""
    key = (id(content.drawing), box.width, box.height)
    if key not in maps:
        maps[key] = f"map{len(maps) + 1}"
        with pen.form(maps[key]):
            at_corner = placed(content.drawing, Box(0, 0, box.width, box.height))
            draw_lines(pen, content.drawing, at_corner)
    pen.stamp(maps[key], box.x, box.y)
    return placed(content.drawing, box)


def _lines(pen: Pen, content: LabelContent, layout: Layout) -> None:
    """Where it lives, where to stick the label, what was written on it before, whose it is."""
    home, *middle, last = layout.lines
    words = f"home: {content.home}"
    room = home.width / (home.height * _TEXT_SHARE)
    if content.is_home or text_width(printable(words), 1.0, bold=True) > room:
        words = content.home
    _run(pen, home, [(words, True)])
    if len(layout.symbols) > 1:  # a small label goes into the bag with its part
        stick, *middle = middle
        _run(pen, stick, [(content.stick, False)])
    if middle:
        _old_mark(pen, content, middle[0])
    about = " · ".join(["", *filter(None, (content.title, content.kind))])
    _run(pen, last, [(job_name(content), True), (about, False)])


STRUCK = "#"
OLD_NOW = "old #, now {number}"
"""The old mark goes where the # is, and is struck out."""


def _old_mark(pen: Pen, content: LabelContent, box: Box) -> None:
    """`old 3, now D5` with the 3 struck out, then the note."""
    if not content.old_mark:
        _run(pen, box, [(content.note, False)])
        return
    before, after = OLD_NOW.format(number=content.number).split(STRUCK)
    x = _run(pen, box, [(before, False)])
    rest = Box(x, box.y, min(box.width * 0.55, box.right - x), box.height)
    end = _run(pen, rest, [(content.old_mark, True)])
    struck = _base(box) - box.height * 0.2
    pen.line((x - 0.6, struck), (end + 0.6, struck), 0.25)
    rest = Box(end + 0.6, box.y, box.right - end - 0.6, box.height)
    note = f"  {content.note}" if content.note else ""
    _run(pen, rest, [(after, True), (note, False)])


def _run(pen: Pen, box: Box, told: Sequence[tuple[str, bool]]) -> float:
    """Pieces of text, regular or bold, one after another in a box; returns where they end."""
    size, x = box.height * _TEXT_SHARE, box.x
    pieces = [(printable(words), bold) for words, bold in told if words]
    whole = sum(text_width(words, size, bold) for words, bold in pieces)
    if whole > box.width:
        size *= max(box.width / whole * 0.999, SMALLEST_SHARE)
    for words, bold in pieces:
        room = box.right - x
        if room > 2 * size:
            x += pen.fitted(x, _base(box), words, size, room, bold=bold, least=1.0)
    return x


def _base(box: Box) -> float:
    return box.y + box.height * 0.74
