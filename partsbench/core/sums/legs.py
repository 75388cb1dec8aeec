"""Which foot wants which shim, from four leg heights or from the rock at one foot."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from partsbench.core.outcomes import Refused
from partsbench.core.sums import units
from partsbench.core.sums.refusal import amount, first

PLANE_SOURCE = "geometry: four feet stand when the sums of both diagonals are equal"
STEADY_MM = 0.3
"""Less rock than this is not felt: common practice."""
MOST_SHIM_MM = 100.0
"""More under one foot is no rock but a wrong measure, or a leg that is broken (our own limit)."""


class LegCorner(StrEnum):
    """A corner of the carcase, as seen from the front."""

    FRONT_LEFT = "front left"
    FRONT_RIGHT = "front right"
    REAR_LEFT = "rear left"
    REAR_RIGHT = "rear right"


_DIAGONALS = (
    (LegCorner.FRONT_LEFT, LegCorner.REAR_RIGHT),
    (LegCorner.FRONT_RIGHT, LegCorner.REAR_LEFT),
)


@dataclass(frozen=True, slots=True)
class Shim:
    """What to put under one foot, mm."""

    corner: LegCorner
    mm: float


@dataclass(frozen=True, slots=True)
class Shimming(units.Worded):
    """The shim that stops the rock, and those that also bring all four to one height."""

    steady: Shim | None
    level: tuple[Shim, ...]
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = (PLANE_SOURCE,)

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`Shim rear left 1.5 mm.`"""
        if self.steady is None:
            return "All four feet stand."
        return f"Shim {self.steady.corner} {units.show_gap(self.steady.mm, measures)}."


def from_heights(heights: Mapping[LegCorner, float]) -> Shimming | Refused:
    """From the four leg heights in mm: the shorter leg of the shorter diagonal is shimmed."""
    bad = first(
        *(amount(f"height {c}", heights.get(c), above=0, most=3_000, unit="mm") for c in LegCorner)
    )
    if bad:
        return bad
    tallest, shortest = (f(heights[corner] for corner in LegCorner) for f in (max, min))
    bad = amount("difference of the legs", tallest - shortest, most=MOST_SHIM_MM, unit="mm")
    if bad:
        return bad
    sums = [sum(heights[corner] for corner in diagonal) for diagonal in _DIAGONALS]
    rock = abs(sums[0] - sums[1])
    low = _DIAGONALS[0] if sums[0] < sums[1] else _DIAGONALS[1]
    steady = Shim(min(low, key=heights.__getitem__), rock) if rock >= STEADY_MM else None
    level = tuple(
        Shim(corner, tallest - heights[corner])
        for corner in LegCorner
        if tallest - heights[corner] >= STEADY_MM
    )
    return Shimming(steady, level, ("whether the floor is flat where it will stand",))


def from_rock(corner: LegCorner, gap_mm: float) -> Shimming | Refused:
    """From the gap under one foot while the other three stand: the gap is the shim."""
    bad = amount("gap under the foot", gap_mm, least=0, most=MOST_SHIM_MM, unit="mm")
    if bad:
        return bad
    steady = Shim(corner, gap_mm) if gap_mm >= STEADY_MM else None
    lacks = ("whether the floor is flat where it will stand", "the four leg heights, to level it")
    return Shimming(steady, (), lacks)
