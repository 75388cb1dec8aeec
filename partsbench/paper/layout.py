"""Where on a label everything stands, in mm from its top left corner: pure geometry.

Both ends carry the symbol, with the arrow above it and the code in characters below it. Between
them stand the big number, the drawing of the piece, and lines of words.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from partsbench.core.outcomes import Refused
from partsbench.paper.symbol import SMALLEST_MODULE, WHOLE

PAD = 1.5
"""mm that cutting by hand may be off."""

GAP = 0.8
ARROW_BAND = 5.0
CODE_BAND = 3.4
LARGEST_SYMBOL = 27.0
SMALLEST_DIGITS = 9.0
"""mm; a number that is read at arm's length."""

LARGEST_DIGITS = 17.0
SMALL_SYMBOL = 17.0
SMALL_DIGITS = 6.0
"""mm; a small label is read in the hand."""

SMALLEST_MAP = 7.0
GOOD_MAP = 19.0
HOME_HEAD = 4.0
COLUMN_MAP = 15.0
LARGE_LINE = 1.2
"""The first and the last line, where it lives and whose it is, against the others."""

DIGIT_HEIGHT = 0.668
"""Height of digits and capitals as a share of the font size (from the font's own tables)."""


@dataclass(frozen=True, slots=True)
class Box:
    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height

    def inset(self, by: float) -> Box:
        return Box(self.x + by, self.y + by, self.width - 2 * by, self.height - 2 * by)

    def meets(self, other: Box) -> bool:
        slack = 1e-9
        return (
            self.x < other.right - slack
            and other.x < self.right - slack
            and self.y < other.bottom - slack
            and other.y < self.bottom - slack
        )


@dataclass(frozen=True, slots=True)
class Layout:
    """The places of one label; `symbols` with their quiet zones, `digits` the number's height."""

    module: float
    digits: float
    head: float
    symbols: tuple[Box, ...]
    arrows: tuple[Box, ...]
    codes: tuple[Box, ...]
    number: Box
    map: Box | None
    lines: tuple[Box, ...]

    @property
    def boxes(self) -> tuple[Box, ...]:
        map_box = () if self.map is None else (self.map,)
        return (*self.symbols, *self.arrows, *self.codes, self.number, *map_box, *self.lines)


@cache
def layout_for(
    width: float,
    height: float,
    wide: float = 1.4,
    rows: int = 3,
    head: float = 0.0,
    aspect: float = 1.0,
) -> Layout | Refused:
    """Places on a label of that size, in mm.

    `wide` is the width of its number at a font size of 1, `rows` how many lines of words it has,
    `head` the height of a line above the number, `aspect` the drawing's width over its height.
    Refused when two symbols at their smallest and a number 9 mm high leave no room for the drawing
    and the words: a label without them does not do its work.
    """
    inner = height - 2 * PAD
    least = WHOLE * SMALLEST_MODULE
    narrowest = wide * SMALLEST_DIGITS / DIGIT_HEIGHT
    side = min(
        inner - ARROW_BAND - CODE_BAND,
        (width - 2 * PAD - 3 * GAP - narrowest - SMALLEST_MAP) / 2,
        LARGEST_SYMBOL,
        max(least, width * 0.225),
    )
    middle = Box(PAD + side + GAP, PAD, width - 2 * (PAD + side + GAP), inner)
    line = min(max(inner * 0.115, 3.2), 4.6)
    upper = inner - GAP - line * (rows - 2 + 2 * LARGE_LINE)
    if side < least - 1e-9 or upper < head + SMALLEST_DIGITS + 1:
        return Refused(
            f"A label of {width:g} × {height:g} mm is too small for two symbols with modules of "
            f"{SMALLEST_MODULE:g} mm, a number {SMALLEST_DIGITS:g} mm high, the drawing and words."
        )
    column = _column(middle, upper, aspect, narrowest)
    words = middle if column is None else _narrowed(middle, column.width + GAP)
    free = words.width if column else middle.width - GOOD_MAP - GAP
    digits = max(min(LARGEST_DIGITS, upper - head - 2, free * DIGIT_HEIGHT / wide), SMALLEST_DIGITS)
    number = Box(middle.x, middle.y, digits / DIGIT_HEIGHT * wide, upper)
    beside = Box(number.right + GAP, middle.y, middle.right - number.right - GAP, upper)
    top = (height - ARROW_BAND - side - CODE_BAND) / 2
    ends = (PAD, width - PAD - side)
    return Layout(
        side / WHOLE,
        digits,
        head,
        _pair(ends, top + ARROW_BAND, side, side),
        _pair(ends, top, side, ARROW_BAND),
        _pair(ends, top + ARROW_BAND + side, side, CODE_BAND),
        number,
        column or beside,
        _lines(words, middle.y + upper + GAP, line, rows),
    )


@cache
def small_layout_for(
    width: float, height: float, wide: float, rows: int = 2, head: float = 0.0
) -> Layout | Refused:
    """Places on a small label: one symbol, beside it the number and `rows` lines of words.

    It goes with a part that lies in a bag or gets no finish, so there is no drawing and no arrow.
    """
    inner = height - 2 * PAD
    side = min(inner - CODE_BAND, SMALL_SYMBOL)
    words = Box(PAD + side + GAP, PAD, width - 2 * PAD - side - GAP, inner)
    line = min(max(inner * 0.115, 3.2), 4.6) * LARGE_LINE
    upper = inner - GAP - line * rows
    digits = min(LARGEST_DIGITS, upper - head - 1, words.width * DIGIT_HEIGHT / wide)
    if side < WHOLE * SMALLEST_MODULE - 1e-9 or digits < SMALL_DIGITS:
        return Refused(
            f"A label of {width:g} × {height:g} mm is too small for a symbol with modules of "
            f"{SMALLEST_MODULE:g} mm, a number {SMALL_DIGITS:g} mm high and words."
        )
    top = (height - side - CODE_BAND) / 2
    lines = [Box(words.x, PAD + upper + GAP + line * row, words.width, line) for row in range(rows)]
    return Layout(
        side / WHOLE,
        digits,
        head,
        (Box(PAD, top, side, side),),
        (),
        (Box(PAD, top + side, side, CODE_BAND),),
        Box(words.x, PAD, digits / DIGIT_HEIGHT * wide, upper),
        None,
        tuple(lines),
    )


def _column(middle: Box, upper: float, aspect: float, number: float) -> Box | None:
    """A place for the drawing over the whole height, where a tall piece gains much by it.

    None where it would leave less than the width of the number, or of half a line of words.
    """
    width = min(middle.height * aspect, COLUMN_MAP)
    gain = width / aspect / min(upper, GOOD_MAP / aspect)
    left = middle.width - width - GAP
    if gain < 1.4 or width < SMALLEST_MAP or left < max(number, middle.width / 2):
        return None
    return Box(middle.right - width, middle.y, width, middle.height)


def _narrowed(box: Box, by: float) -> Box:
    return Box(box.x, box.y, box.width - by, box.height)


def _pair(ends: tuple[float, float], y: float, width: float, height: float) -> tuple[Box, Box]:
    return Box(ends[0], y, width, height), Box(ends[1], y, width, height)


def _lines(words: Box, y: float, line: float, rows: int) -> tuple[Box, ...]:
    found: list[Box] = []
    for row in range(rows):
        height = line * (LARGE_LINE if row in (0, rows - 1) else 1.0)
        found.append(Box(words.x, y, words.width, height))
        y += height
    return tuple(found)
