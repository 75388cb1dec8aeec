"""The front of a carcase: a grid of columns and rows, and openings that span whole cells.

Sizes are millimetres between the middles of neighbouring rails or stiles. Rows count from the
top, columns from the left, both from 0, as seen from the front. Layer 0 is what one sees; layer 1
holds what a door hides.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import accumulate, combinations, pairwise

from partsbench.core.outcomes import Refused

SMALLEST_CELL = 0.5
"""mm; lines nearer to one another are one line."""

SMALLEST_OPENING = 10.0
LARGEST_FRONT = 10_000.0
ROUNDING = 1e-6
"""mm; what sums of sizes may be off by."""

USUAL_WIDTH = 900.0
USUAL_ROW = 200.0
MOST_PER_ROW = 40
MOST_ROWS = 40


class OpeningKind(StrEnum):
    """What an opening is for; only drawers and doors are expected back."""

    DRAWER = "drawer"
    DOOR = "door"
    SHELF = "open shelf"
    FALSE_FRONT = "false front"
    EMPTY = "empty"

    @property
    def expects_return(self) -> bool:
        return self in (OpeningKind.DRAWER, OpeningKind.DOOR)


@dataclass(frozen=True, slots=True)
class Span:
    """Whole cells of the grid: the first column and row, and how many of each."""

    column: int
    row: int
    columns: int = 1
    rows: int = 1

    @property
    def right(self) -> int:
        return self.column + self.columns

    @property
    def bottom(self) -> int:
        return self.row + self.rows

    def meets(self, other: Span) -> bool:
        return (
            self.column < other.right
            and other.column < self.right
            and self.row < other.bottom
            and other.row < self.bottom
        )

    def holds(self, other: Span) -> bool:
        return (
            self.column <= other.column
            and other.right <= self.right
            and self.row <= other.row
            and other.bottom <= self.bottom
        )

    def joined(self, other: Span) -> Span:
        """The smallest span that holds both."""
        column, row = min(self.column, other.column), min(self.row, other.row)
        right, bottom = max(self.right, other.right), max(self.bottom, other.bottom)
        return Span(column, row, right - column, bottom - row)


@dataclass(frozen=True, slots=True)
class Opening:
    """A hole in the front. Its number is its own for good and is printed on its home label."""

    number: int
    span: Span
    kind: OpeningKind = OpeningKind.DRAWER
    behind: int | None = None
    """Number of the door that hides this opening; None in plain view."""

    @property
    def layer(self) -> int:
        return 0 if self.behind is None else 1


@dataclass(frozen=True, slots=True)
class Front:
    """Column widths and row heights in mm, and the openings in the grid."""

    columns: tuple[float, ...]
    rows: tuple[float, ...]
    openings: tuple[Opening, ...] = ()

    @property
    def width(self) -> float:
        return sum(self.columns)

    @property
    def height(self) -> float:
        return sum(self.rows)

    def opening(self, number: int) -> Opening | None:
        return next((o for o in self.openings if o.number == number), None)

    def behind(self, number: int) -> tuple[Opening, ...]:
        """The openings that the door in opening `number` hides."""
        return tuple(o for o in self.openings if o.behind == number)

    def box(self, span: Span) -> tuple[float, float, float, float]:
        """x, y, width, height of a span in mm from the top left corner of the front."""
        x, y = sum(self.columns[: span.column]), sum(self.rows[: span.row])
        return (
            x,
            y,
            sum(self.columns[span.column : span.right]),
            sum(self.rows[span.row : span.bottom]),
        )

    def with_opening(self, opening: Opening) -> Front:
        """The same front with `opening` in place of the one that has its number."""
        return replace(
            self,
            openings=tuple(opening if o.number == opening.number else o for o in self.openings),
        )

    def next_number(self) -> int:
        return max((o.number for o in self.openings), default=0) + 1


def check(front: Front) -> list[Refused]:
    """What is wrong with a front: sizes, openings that stick out or overlap; [] when nothing is."""
    return [
        *_size_faults(front),
        *_placing_faults(front),
        *(
            Refused(f"Openings {a.number} and {b.number} overlap: {_cells(a, b)}.")
            for a, b in combinations(front.openings, 2)
            if a.layer == b.layer and a.span.meets(b.span)
        ),
    ]


def _size_faults(front: Front) -> Iterator[Refused]:
    for one, what, sizes in (
        ("column", "Column", front.columns),
        ("row", "Row", front.rows),
    ):
        if not sizes:
            yield Refused(f"A front needs at least one {one}.")
        for place, size in enumerate(sizes, 1):
            if not SMALLEST_CELL <= size <= LARGEST_FRONT:
                yield Refused(
                    f"{what} {place} is {size:g} mm; "
                    f"{SMALLEST_CELL:g} to {LARGEST_FRONT:g} mm can be drawn."
                )


def _placing_faults(front: Front) -> Iterator[Refused]:
    whole = Span(0, 0, len(front.columns), len(front.rows))
    seen: set[int] = set()
    for opening in front.openings:
        if opening.number in seen:
            yield Refused(f"Two openings are numbered {opening.number}.")
        seen.add(opening.number)
        span = opening.span
        if span.columns < 1 or span.rows < 1 or not whole.holds(span):
            yield Refused(f"Opening {opening.number} sticks out of the front.")
        width, height = front.box(span)[2:]
        if min(width, height) < SMALLEST_OPENING - ROUNDING:
            yield Refused(
                f"Opening {opening.number} is {width:.1f} × {height:.1f} mm; "
                f"{SMALLEST_OPENING:g} mm or more each way can be drawn."
            )
        if opening.behind is None:
            continue
        host = front.opening(opening.behind)
        if host is None or host.kind is not OpeningKind.DOOR:
            yield Refused(f"Opening {opening.number} is behind no door.")
        elif not host.span.holds(span):
            yield Refused(f"Opening {opening.number} sticks out from behind door {host.number}.")


def _cells(a: Opening, b: Opening) -> str:
    column, row = max(a.span.column, b.span.column), max(a.span.row, b.span.row)
    return f"both hold the cell in row {row + 1}, column {column + 1}"


def front_from_rows(
    counts: Sequence[int], width: float = USUAL_WIDTH, heights: Sequence[float] | None = None
) -> Front | Refused:
    """A front of drawers from how many stand in each row, top to bottom.

    Rows of different counts share one grid that has a line wherever any row has one, so each
    drawer keeps its true share of the width. `width` and `heights` are mm.
    """
    if not counts:
        return Refused("Say how many drawers are in each row, top to bottom, as in 2 2 3.")
    for place, count in enumerate(counts, 1):
        if not 1 <= count <= MOST_PER_ROW:
            return Refused(f"Row {place} has {count} drawers; 1 to {MOST_PER_ROW} can be drawn.")
    if len(counts) > MOST_ROWS:
        return Refused(f"{len(counts)} rows are too many; {MOST_ROWS} can be drawn.")
    lines = sorted({place / count for count in counts for place in range(count + 1)})
    columns = tuple(round(round(width * b, 1) - round(width * a, 1), 1) for a, b in pairwise(lines))
    number = iter(range(1, sum(counts) + 1))
    openings = tuple(
        Opening(next(number), _cut(lines, row, place, count))
        for row, count in enumerate(counts)
        for place in range(count)
    )
    rows = tuple(heights) if heights else (USUAL_ROW,) * len(counts)
    if len(rows) != len(counts):
        return Refused(f"{len(counts)} rows of drawers but {len(rows)} row heights.")
    front = Front(columns, rows, openings)
    return next(iter(check(front)), front)


def _cut(lines: Sequence[float], row: int, place: int, count: int) -> Span:
    # Equal shares are equal floats, since division rounds rightly: 1/3 is 2/6 is 3/9.
    first, last = lines.index(place / count), lines.index((place + 1) / count)
    return Span(first, row, last - first)


def parse_rows(text: str) -> tuple[int, ...] | Refused:
    """Drawers per row from `2 2 3`, `2,2,3` or `2/2/3`."""
    words = text.replace(",", " ").replace("/", " ").replace(";", " ").split()
    counts = []
    for place, word in enumerate(words, 1):
        if not (word.isascii() and word.isdigit()) or len(word) > 3:
            return Refused(f"Row {place} says “{word}”; write a number of drawers, as in 2 2 3.")
        counts.append(int(word))
    if not counts:
        return Refused("Say how many drawers are in each row, top to bottom, as in 2 2 3.")
    return tuple(counts)


def lines_of(sizes: Sequence[float]) -> tuple[float, ...]:
    """Positions of the grid lines in mm, from 0 to the whole."""
    return tuple(accumulate(sizes, initial=0.0))
