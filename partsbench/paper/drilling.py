"""True-size drilling sheets: the front's outline, top edge and hole centres, on as many pages as
it takes, with printed bars to measure and a code of its own, that is scanned against the label of
the front before the drill is set.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, pi, sin

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import no_paper
from partsbench.core.sums.drilling import BAR_MM, Holes, Scale, SheetTile, Tiling, tiling
from partsbench.core.sums.fronts import Point
from partsbench.core.sums.shown import Measures, show_length
from partsbench.core.wording import sentences
from partsbench.paper.layout import Box
from partsbench.paper.pen import Pen, all_printable, polygons, printable, text_width
from partsbench.paper.symbol import QUIET, SIDE, outlines

PAGES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
MARGIN = 12.0
"""mm that office printers leave white, and a little more."""
HEAD = 44.0
SIDE_BAR = 12.0
MODULE = 0.85
THIN = 0.15
CROSS = 8.0
RING = 2.5
OVERLAP = 10.0
MEASURE = 3.0
MOST_PAGES = 60
NOT_MEASURED = "NOT MEASURED: this size is the drawing's. Measure the front before you drill."


@dataclass(frozen=True, slots=True)
class DrillingContent:
    """What one front's sheet says. `words` are the measures to hold against the drawing.

    `measured` is false while the size is only that of the drawing.
    """

    code: str
    tag: str
    codename: str
    number: str
    home: str
    holes: Holes
    words: str
    pull: str = ""
    measures: Measures = Measures.METRIC
    measured: bool = True


@dataclass(frozen=True, slots=True)
class DrillingPages:
    """How a front comes to lie on pages: page size, the window it is seen through, the tiles."""

    width: float
    height: float
    window: Box
    tiling: Tiling


def pages_for(holes: Holes, scale: Scale, paper: str) -> DrillingPages | Refused:
    """The pages, upright or lying, whichever takes fewer."""
    size = PAGES.get(paper)
    if size is None:
        return Refused(no_paper(paper, PAGES))
    found: list[DrillingPages] = []
    for width, height in (size, size[::-1]):
        window = Box(MARGIN, HEAD, width - 2 * MARGIN - SIDE_BAR, height - HEAD - MARGIN)
        tiles = tiling(
            holes.width,
            holes.height,
            window.width / scale.across,
            window.height / scale.down,
            OVERLAP,
        )
        if isinstance(tiles, Refused):
            return tiles
        found.append(DrillingPages(width, height, window, _with_work(tiles, holes)))
    best = min(found, key=_page_count)
    if _page_count(best) > MOST_PAGES:
        return Refused(f"That front would take {_page_count(best)} pages.")
    return best


def _with_work(tiles: Tiling, holes: Holes) -> Tiling:
    """From the upper left corner to the last hole: what lies beyond has nothing to drill."""
    shown = [t for t in tiles.tiles if any(t.shows(point) for point in holes.centres)]
    if not shown:
        return tiles
    columns = max(t.column for t in shown) + 1
    rows = max(t.row for t in shown) + 1
    kept = tuple(t for t in tiles.tiles if t.column < columns and t.row < rows)
    return replace(tiles, tiles=kept, columns=columns, rows=rows)


def drilling_sheet(content: DrillingContent, scale: Scale, paper: str = "a4") -> bytes | Refused:
    """The PDF. `scale` is what this printer needs to come out true (`core.sums.drilling.scale`)."""
    pages = pages_for(content.holes, scale, paper)
    if isinstance(pages, Refused):
        return pages
    title = f"Drilling sheet {content.codename} {content.number}"
    pen = Pen(pages.width, pages.height, title)
    for place, tile in enumerate(pages.tiling.tiles):
        if place:
            pen.next_page()
        _head(pen, content, pages, tile, scale)
        _bars(pen, pages, scale, _bar_words(content))
        with pen.clipped(_inside(pages.window)):
            _front(pen, content, _Place(pages.window, tile, scale))
        _joins(pen, pages, tile, scale)
    return pen.finish()


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a point of the front comes to lie on the page of one tile."""

    window: Box
    tile: SheetTile
    scale: Scale

    def at(self, x: float, y: float) -> tuple[float, float]:
        return (
            self.window.x + (x - self.tile.left) * self.scale.across,
            self.window.y + (y - self.tile.top) * self.scale.down,
        )


def _page_count(pages: DrillingPages) -> int:
    return len(pages.tiling.tiles)


def _inside(box: Box) -> tuple[float, float, float, float]:
    """The window and the thickness of a line more, so that a line on its edge is seen whole."""
    return box.x - 1, box.y - 1, box.width + 2, box.height + 2


def _head(
    pen: Pen, content: DrillingContent, pages: DrillingPages, tile: SheetTile, scale: Scale
) -> None:
    pen.fill(polygons(outlines(content.code)), MARGIN, MARGIN, MODULE)
    x = MARGIN + SIDE * MODULE + 6
    wide = pages.width - MARGIN - x
    job = printable(content.codename) if all_printable(content.codename) else content.tag
    pen.fitted(x, MARGIN + 5.5, f"{content.number} · {job} · {content.home}", 7, wide, bold=True)
    pen.fitted(x, MARGIN + 10.5, _second_line(content, pages.tiling, tile), 3.6, wide)
    pen.fitted(x, MARGIN + 15, printable(content.words), 3.6, wide)
    pen.fitted(x, MARGIN + 19.5, _caution(scale, _bar_words(content)), 3.2, wide)
    if not content.measured:
        pen.fitted(x, MARGIN + 23.4, NOT_MEASURED, 3.4, wide, bold=True)
    below = MARGIN + (SIDE + QUIET) * MODULE + 3
    pen.text(MARGIN, below, content.code, 3.4, bold=True)


def _second_line(content: DrillingContent, tiles: Tiling, tile: SheetTile) -> str:
    page = tile.row * tiles.columns + tile.column + 1
    count = len(tiles.tiles)
    size = " × ".join(
        show_length(mm, content.measures, 1) for mm in (content.holes.width, content.holes.height)
    )
    told = (
        printable(content.pull),
        f"front {size}",
        f"page {page} of {count}" if count > 1 else "",
        "seen from the front, thick line is the top edge",
    )
    return " · ".join(filter(None, told))


def _bar_words(content: DrillingContent) -> str:
    """How long a bar is: 100 mm, which no ruler tells from 3-15/16 in (100.01 mm)."""
    return show_length(BAR_MM, content.measures)


def _caution(scale: Scale, bar: str) -> str:
    true = scale.across == 1 and scale.down == 1
    return sentences(
        "" if true else "Corrected for your printer.",
        f"Print at 100 %. Both bars must measure {bar}. Scan this code, then the front's label. "
        "Eye protection; clamp on a backing block.",
    )


def _bars(pen: Pen, pages: DrillingPages, scale: Scale, words: str) -> None:
    """One bar across and one down, each 100 mm when the sheet comes out true."""
    y = HEAD - 5.0
    left = MARGIN + 42
    right = left + BAR_MM * scale.across
    pen.line((left, y), (right, y), THIN)
    for x in (left, right):
        pen.line((x, y - 2.5), (x, y + 2.5), THIN)
    pen.text(right + 2, y + 1.2, words, 3.2)
    x = pages.width - MARGIN - 3
    top, low = HEAD, HEAD + BAR_MM * scale.down
    pen.line((x, top), (x, low), THIN)
    for end in (top, low):
        pen.line((x - 2.5, end), (x + 2.5, end), THIN)
    pen.text(x - 7, low + 5, words, 3.2)


def _front(pen: Pen, content: DrillingContent, place: _Place) -> None:
    holes = content.holes
    width, height = holes.width, holes.height
    corners = [place.at(x, y) for x, y in ((0, 0), (width, 0), (width, height), (0, height))]
    for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
        pen.line(start, end, THIN)
    # The thick top edge lies inside the outline, so that the outline stays what is measured.
    (left, top), (right, _) = corners[0], corners[1]
    pen.boxes([(left, top, right - left, 1.0)], thick=0, fill=0.0)
    pen.line(place.at(width / 2, 0), place.at(width / 2, height), THIN, dash=3)
    for point in holes.centres:
        _hole(pen, place.at(point.x, point.y))
        _measures(pen, place, point, content.measures)


def _measures(pen: Pen, place: _Place, hole: Point, measures: Measures) -> None:
    """Beside a hole, where it is: on the side that has room, and on the page that it belongs to."""
    x, y = place.at(hole.x, hole.y)
    window = place.window
    if not (window.x <= x <= window.right and window.y <= y <= window.bottom):
        return
    words = " | ".join(show_length(mm, measures, 1) for mm in (hole.x, hole.y))
    words = words.replace(" mm", "")
    wide = text_width(words, MEASURE)
    right = x + 3 + wide + OVERLAP <= window.right
    pen.text(x + 3 if right else x - 3 - wide, y - 3, words, MEASURE)


def _hole(pen: Pen, at: tuple[float, float]) -> None:
    x, y = at
    pen.line((x - CROSS, y), (x + CROSS, y), THIN)
    pen.line((x, y - CROSS), (x, y + CROSS), THIN)
    rings = [_circle(RING + THIN / 2), _circle(RING - THIN / 2)]
    pen.fill(polygons(rings), x, y)


def _circle(radius: float, sides: int = 48) -> list[tuple[float, float]]:
    steps = (2 * pi * i / sides for i in range(sides))
    return [(round(radius * cos(a), 4), round(radius * sin(a), 4)) for a in steps]


def _joins(pen: Pen, pages: DrillingPages, tile: SheetTile, scale: Scale) -> None:
    """A line in the middle of each overlap, the same on both pages, and which page lies there."""
    place = _Place(pages.window, tile, scale)
    tiles = {(t.column, t.row): t for t in pages.tiling.tiles}
    columns = pages.tiling.columns
    for step in (-1, 1):
        beside = tiles.get((tile.column + step, tile.row))
        if beside:
            x = max(tile.left, beside.left) + OVERLAP / 2
            start, end = place.at(x, tile.top), place.at(x, tile.top + tile.height)
            pen.line(start, end, THIN, dash=1)
            page = beside.row * columns + beside.column + 1
            _diamonds(pen, [start, end])
            pen.text(end[0] - 8, end[1] + 5, f"to page {page}", 3)
        above = tiles.get((tile.column, tile.row + step))
        if above:
            y = max(tile.top, above.top) + OVERLAP / 2
            start, end = place.at(tile.left, y), place.at(tile.left + tile.width, y)
            pen.line(start, end, THIN, dash=1)
            page = above.row * columns + above.column + 1
            _diamonds(pen, [start, end])
            pen.text(end[0] + 1, end[1] + 1, f"p. {page}", 3)


def _diamonds(pen: Pen, ends: list[tuple[float, float]]) -> None:
    shape = polygons([((0, -1.5), (1.5, 0), (0, 1.5), (-1.5, 0))])
    for x, y in ends:
        pen.fill(shape, x, y)
