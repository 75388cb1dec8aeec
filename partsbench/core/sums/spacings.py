"""Hole spacings told apart.

They are measured to some 0.4 mm at best, so near ones (96 mm and 3-3/4 in differ by 0.75 mm) are
named together and never rounded into each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import Refusal, amount
from partsbench.core.sums.shown import Measures, Worded, show_gap, show_length

MEASURED_WITHIN_MM = 0.4
"""What a spacing can be measured to with a calliper between hole rims: common practice."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """A spacing that pulls are made for, by the name the trade gives it."""

    name: str
    mm: Figure


@dataclass(frozen=True, slots=True)
class Told(Worded):
    """Which standard spacing a measured one is: one, several that it may be, or none."""

    measured_mm: float
    names: tuple[str, ...]
    nearest: str
    off_mm: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    def say(self, measures: Measures = Measures.METRIC) -> str:
        """`95.9 mm is 96 mm.`, or which two it may be, or that it is none."""
        measured = show_length(self.measured_mm, measures, 1)
        if len(self.names) == 1:
            return f"{measured} is {self.names[0]}."
        if self.names:
            return f"{measured} may be {' or '.join(self.names)}: measure again."
        off = show_gap(self.off_mm, measures)
        return f"{measured} is no standard spacing; {self.nearest} is {off} off."


def told_apart(spacings: Sequence[Spacing], measured_mm: float) -> Told | Refusal:
    """The standard spacing that was measured, and what else it may be within the measuring."""
    bad = amount("hole spacing", measured_mm, above=0, most=1000, unit="mm")
    if bad:
        return bad
    if not spacings:
        return Refusal("spacings", "there is no table of them")
    near = min(spacings, key=lambda s: abs(s.mm.value - measured_mm))
    off = abs(near.mm.value - measured_mm)
    reach = MEASURED_WITHIN_MM + 1e-6
    may_be = [s for s in spacings if abs(s.mm.value - measured_mm) <= reach]
    lacks = (
        ("the spacing measured between hole rims on both sides, halved",) if len(may_be) > 1 else ()
    )
    names = tuple(s.name for s in may_be)
    sources = tuple(dict.fromkeys(s.mm.cited for s in may_be or [near]))
    return Told(measured_mm, names, near.name, off, lacks, sources)
