"""Whether finish pattern and pulls of a front, or of a mirrored pair, answer each other."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import height_of, width_of
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.wording import plural, sentences

CLOSE_MM = 3.0
"""Two cells mirror each other when their edges agree within this."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One opening of a front as drawn, mm from the left and from the top."""

    name: str
    x: float
    y: float
    width: float
    height: float
    finish: str
    pull: str = ""


@dataclass(frozen=True, slots=True)
class Break:
    """Two cells that should answer each other and do not; `mirror` is None when there is none."""

    name: str
    mirror: str | None
    what: str
    here: str
    there: str

    @property
    def sentence(self) -> str:
        """`D4 is painted, its mirror D6 is stained.`"""
        if self.mirror is None:
            return f"{self.name} has no mirror."
        if self.what == "finish":
            return f"{self.name} is {self.here}, its mirror {self.mirror} is {self.there}."
        here, there = self.here or "no pull", self.there or "none"
        return f"{self.name} has {here}, its mirror {self.mirror} has {there}."


@dataclass(frozen=True, slots=True)
class Symmetry:
    """The breaks that are not wanted, and those marked as wanted."""

    breaks: tuple[Break, ...]
    wanted: tuple[Break, ...]
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = ("the drawing of the front",)

    @property
    def sentence(self) -> str:
        """The first break in one sentence, and how many more there are."""
        if not self.breaks:
            return "Left and right answer each other."
        more = len(self.breaks) - 1
        rest = plural(more, "1 more break.", f"{more} more breaks.") if more else ""
        return sentences(self.breaks[0].sentence, rest)


def front(cells: Sequence[Cell], wanted: Collection[str] = ()) -> Symmetry | Refused:
    """A front against its own mirror image; breaks that name a cell of `wanted` are kept apart."""
    bad = _checked(cells)
    if bad:
        return bad
    left = min(cell.x for cell in cells)
    right = max(cell.x + cell.width for cell in cells)
    pairs = _paired(cells, cells, left + right)
    once = [(a, b) for a, b in pairs if b is None or (a.x, a.name) < (b.x, b.name)]
    return _judged(once, wanted)


def pair(
    one: Sequence[Cell], other: Sequence[Cell], wanted: Collection[str] = ()
) -> Symmetry | Refused:
    """Two fronts that should mirror each other, each measured from its own left edge."""
    bad = _checked(one) or _checked(other)
    if bad:
        return bad
    axis = min(c.x for c in one) + max(c.x + c.width for c in other)
    pairs = list(_paired(one, other, axis))
    met = {b.name for _, b in pairs if b}
    alone: list[tuple[Cell, Cell | None]] = [(b, None) for b in other if b.name not in met]
    return _judged([*pairs, *alone], wanted)


def _paired(
    one: Sequence[Cell], other: Sequence[Cell], axis: float
) -> Iterator[tuple[Cell, Cell | None]]:
    for cell in one:
        at = axis - cell.x - cell.width
        yield cell, next((b for b in other if _close(b, cell, at)), None)


def _close(b: Cell, a: Cell, at: float) -> bool:
    gaps = (b.x - at, b.y - a.y, b.width - a.width, b.height - a.height)
    return all(abs(gap) <= CLOSE_MM for gap in gaps)


def _judged(pairs: Sequence[tuple[Cell, Cell | None]], wanted: Collection[str]) -> Symmetry:
    breaks: list[Break] = []
    for a, b in pairs:
        if b is None:
            breaks.append(Break(a.name, None, "place", "", ""))
            continue
        if a.finish != b.finish:
            breaks.append(Break(a.name, b.name, "finish", a.finish, b.finish))
        if a.pull != b.pull:
            breaks.append(Break(a.name, b.name, "pull", a.pull, b.pull))
    meant = tuple(b for b in breaks if b.name in wanted or b.mirror in wanted)
    return Symmetry(tuple(b for b in breaks if b not in meant), meant)


def _checked(cells: Sequence[Cell]) -> Refused | None:
    return first(
        None if cells else wrong("front", "has no openings"),
        *(amount(width_of(cell.name), cell.width, above=0) for cell in cells),
        *(amount(height_of(cell.name), cell.height, above=0) for cell in cells),
        *(amount(f"place of {cell.name}", at) for cell in cells for at in (cell.x, cell.y)),
    )
