"""The geometry of a true-size drilling sheet: hole centres, the printer's error, and tiles.

All in mm from the left and from the top edge of the front, as seen from the front.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from partsbench.core.outcomes import Refused
from partsbench.core.sums import units
from partsbench.core.sums.fronts import Point
from partsbench.core.sums.places import LEAST_EDGE_MM
from partsbench.core.sums.refusal import amount, because, first, wrong
from partsbench.core.wording import and_list, plural

BAR_MM = 100.0
"""The printed bar that is measured."""
UNSEEN = 0.002
"""An error of scale that a ruler on the bar does not show: 0.2 mm on 100 mm."""
REFUSED = 0.05
"""A sheet this wrong was scaled by a setting, not by the printer: it is put right there."""
UNEVEN = 0.005
"""Width and height may differ in scale by so much before the sheet is refused."""


@dataclass(frozen=True, slots=True)
class Holes(units.Worded):
    """Where to drill one front."""

    width: float
    height: float
    centres: tuple[Point, ...]
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = ("the front's own measures",)

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`2 holes, 90 mm from the top: 102 and 198 mm from the left.`"""
        across = and_list(units.show_length(p.x, measures, 1) for p in self.centres)
        down = dict.fromkeys(units.show_length(p.y, measures, 1) for p in self.centres)
        count = len(self.centres)
        holes = plural(count, "1 hole", f"{count} holes")
        return f"{holes}, {and_list(down)} from the top: {across} from the left."


@dataclass(frozen=True, slots=True)
class Scale:
    """What to multiply a drawing by so that it comes out true, across and down."""

    across: float
    down: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("the printed bars as you measured them",)

    @property
    def sentence(self) -> str:
        """`Your printer is 1.2 % small; corrected.`"""
        worst = max((self.across, self.down), key=lambda factor: abs(factor - 1))
        if abs(worst - 1) <= UNSEEN:
            return "Your printer is true as far as a ruler can tell."
        off = f"{abs(1 / worst - 1) * 100:.1f} % {'small' if worst > 1 else 'large'}"
        return f"Your printer is {off}; corrected."


@dataclass(frozen=True, slots=True)
class SheetTile:
    """One sheet of a larger drawing: which column and row, and the part of the front it shows."""

    column: int
    row: int
    left: float
    top: float
    width: float
    height: float

    def shows(self, point: Point) -> bool:
        """Whether a hole's centre lies on this sheet."""
        inside_x = self.left <= point.x <= self.left + self.width
        return inside_x and self.top <= point.y <= self.top + self.height


@dataclass(frozen=True, slots=True)
class Tiling(units.Worded):
    """The sheets that a front takes, row by row."""

    tiles: tuple[SheetTile, ...]
    columns: int
    rows: int
    overlap_mm: float
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = ("the printable area of the paper",)

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`6 sheets, 3 across and 2 down; they overlap by 10 mm.`"""
        if len(self.tiles) == 1:
            return "One sheet."
        laid = f"{self.columns} across and {self.rows} down"
        overlap = units.show_length(self.overlap_mm, measures)
        return f"{len(self.tiles)} sheets, {laid}; they overlap by {overlap}."


def centres(
    width: float,
    height: float,
    spacing: float,
    count: int = 1,
    from_top: float | None = None,
    from_side: float | None = None,
) -> Holes | Refused:
    """Symmetric hole centres: one pull in the middle, two at `from_side` (a quarter of the width).

    `spacing` 0 is a knob. `from_top` is half the height when left out.
    """
    y = height / 2 if from_top is None and _is_number(height) else from_top
    x = width / 4 if from_side is None and _is_number(width) else from_side
    bad = first(
        amount("width of the front", width, above=0, most=5_000, unit="mm"),
        amount("height of the front", height, above=0, most=5_000, unit="mm"),
        amount("hole spacing", spacing, least=0, most=1_000, unit="mm"),
        amount("pulls on the front", count, least=1, most=2),
        amount("distance from the top", y, above=0, most=5_000, unit="mm"),
        amount("distance from the side", x, above=0, most=5_000, unit="mm"),
    )
    if bad or x is None or y is None:
        return bad or wrong("front", "is missing")
    middles = (width / 2,) if count == 1 else (x, width - x)
    sides = (-spacing / 2, spacing / 2) if spacing else (0.0,)
    found = Holes(width, height, tuple(Point(m + s, y) for m in middles for s in sides))
    return _bad_holes(found) or found


def scale(
    across_mm: float, down_mm: float | None = None, bar_mm: float = BAR_MM
) -> Scale | Refused:
    """The correction from the printed bars as measured; refuses what no correction should hide."""
    down = across_mm if down_mm is None else down_mm
    bad = first(
        amount("printed bar", bar_mm, above=0, most=1_000, unit="mm"),
        amount("bar across", across_mm, above=0, most=2_000, unit="mm"),
        amount("bar down", down, above=0, most=2_000, unit="mm"),
    )
    if bad:
        return bad
    for name, measured in (("bar across", across_mm), ("bar down", down)):
        if abs(measured / bar_mm - 1) > REFUSED:
            error = f"{measured / bar_mm - 1:+.1%}"
            return wrong(name, f"{error} is too far off: print at 100 %, not fitted to the page")
    if abs(across_mm - down) / bar_mm > UNEVEN:
        return wrong("bars", "the printer stretches one way more than the other")
    lacks = ("the bar that runs down the sheet",) if down_mm is None else ()
    return Scale(bar_mm / across_mm, bar_mm / down, lacks)


def tiling(
    width: float, height: float, page_width: float, page_height: float, overlap: float = 10
) -> Tiling | Refused:
    """The fewest sheets of a printable area that cover a front, overlapping by so much."""
    bad = first(
        amount("width of the front", width, above=0, most=5_000, unit="mm"),
        amount("height of the front", height, above=0, most=5_000, unit="mm"),
        amount("overlap", overlap, least=0, most=100, unit="mm"),
    )
    bad = bad or first(
        amount("width of the page", page_width, above=2 * overlap, most=2_000, unit="mm"),
        amount("height of the page", page_height, above=2 * overlap, most=2_000, unit="mm"),
    )
    if bad:
        return bad
    lefts = _strips(width, page_width, overlap)
    tops = _strips(height, page_height, overlap)
    tiles = tuple(
        SheetTile(
            column, row, left, top, min(page_width, width - left), min(page_height, height - top)
        )
        for row, top in enumerate(tops)
        for column, left in enumerate(lefts)
    )
    return Tiling(tiles, len(lefts), len(tops), overlap)


def _strips(size: float, page: float, overlap: float) -> list[float]:
    if size <= page:
        return [0.0]
    step = page - overlap
    return [i * step for i in range(ceil(round((size - overlap) / step, 9)))]


def _bad_holes(holes: Holes) -> Refused | None:
    ordered = sorted(holes.centres, key=lambda p: p.x)
    for point in ordered:
        margins = (point.x, holes.width - point.x, point.y, holes.height - point.y)
        if min(margins) < LEAST_EDGE_MM:
            return _too_near(max(min(margins), 0.0))
    if list(holes.centres) != ordered:
        return wrong("holes", "the two pulls would cross each other")
    return None


def _too_near(edge_mm: float) -> Refused:
    def why(measures: units.Measures) -> str:
        return f"one is {units.show_length(edge_mm, measures, 1)} from an edge"

    return because("holes", why)


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float))
