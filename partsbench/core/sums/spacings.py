"""Hole spacings told apart, and what becomes of a pull over holes of another spacing.

They are measured to some 0.4 mm at best, so near ones (96 mm and 3-3/4 in differ by 0.75 mm) are
named together and never rounded into each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.sums.shown import Measures, Worded, show_fine, show_gap, show_length
from partsbench.core.wording import or_list

MEASURED_WITHIN_MM = 0.4
"""What a spacing can be measured to with a calliper between hole rims: common practice."""
REUSED_WITHIN_MM = 0.5
"""An old hole this near a new one takes the screw, opened a little if need be: common practice."""

NAMED_WITHIN_MM = 0.1
"""So near a standard one it is called by its name: what was typed in inches is not exact in mm."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """A spacing that pulls are made for, by the name the trade gives it."""

    name: str
    mm: Figure


@dataclass(frozen=True, slots=True)
class SpacingTold(Worded):
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
            return f"{measured} may be {or_list(self.names)}: measure again."
        off = show_gap(self.off_mm, measures)
        return f"{measured} is no standard spacing; {self.nearest} is {off} off."


def told_apart(spacings: Sequence[Spacing], measured_mm: float) -> SpacingTold | Refused:
    """The standard spacing that was measured, and what else it may be within the measuring."""
    bad = amount("hole spacing", measured_mm, above=0, most=1000, unit="mm")
    if bad:
        return bad
    if not spacings:
        return wrong("spacings", "there is no table of them")
    near = min(spacings, key=lambda s: abs(s.mm.value - measured_mm))
    off = abs(near.mm.value - measured_mm)
    reach = MEASURED_WITHIN_MM + 1e-6
    may_be = [s for s in spacings if abs(s.mm.value - measured_mm) <= reach]
    lacks = (
        ("the spacing measured between hole rims on both sides, halved",) if len(may_be) > 1 else ()
    )
    names = tuple(s.name for s in may_be)
    sources = tuple(dict.fromkeys(s.mm.cited for s in may_be or [near]))
    return SpacingTold(measured_mm, names, near.name, off, lacks, sources)


def say_spacing(
    spacings: Sequence[Spacing], mm: float | None, measures: Measures = Measures.METRIC
) -> str:
    """What the trade calls a spacing; else its size, with what it may be: `95.80 mm (96 mm)`."""
    told = told_apart(spacings, mm) if mm else None
    if mm is None or told is None or isinstance(told, Refused):
        return ""
    if told.off_mm < NAMED_WITHIN_MM:
        return told.nearest
    named = or_list(told.names)
    return f"{show_fine(mm, measures)} ({named})" if named else show_fine(mm, measures)


@dataclass(frozen=True, slots=True)
class OldHoles:
    """How wide holes for a pull's screws are drilled, and how far old drawers drift apart, mm."""

    drilled: Figure
    drift_usual: Figure
    drift_most: Figure


@dataclass(frozen=True, slots=True)
class Over(Worded):
    """A pull over holes of another spacing. `wants` is, by thread, how wide the holes must be."""

    pull_mm: float
    holes_mm: float
    wants: tuple[tuple[str, float], ...]
    drilled_mm: float
    drift_mm: float
    most_mm: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def off_mm(self) -> float:
        return abs(self.pull_mm - self.holes_mm)

    @property
    def reused(self) -> bool:
        """Whether the old holes take its screws, opened a little if need be."""
        return takes_screw(self.off_mm / 2)

    @property
    def goes_on(self) -> bool:
        """Whether it goes on with every thread asked about, in holes drilled as usual."""
        return self.reused and all(mm <= self.drilled_mm for _, mm in self.wants)

    def say(self, measures: Measures = Measures.METRIC) -> str:
        """`It is 0.75 mm narrower than the holes, 0.38 mm at each: …`"""
        off, each = show_fine(self.off_mm, measures), show_fine(self.off_mm / 2, measures)
        means = self._means(measures)
        if self.pull_mm < self.holes_mm:
            return f"It is {off} narrower than the holes, {each} at each: {means}"
        return f"It is {off} wider than the holes, {each} at each: {means}"

    def _means(self, measures: Measures) -> str:
        drilled = show_fine(self.drilled_mm, measures)
        if self.off_mm > self.most_mm + 1e-6:
            return f"over {show_fine(self.most_mm, measures)} it wants new holes."
        if not self.reused:
            drift = show_fine(self.drift_mm, measures)
            return (
                f"more than a screw's play. Up to {drift} is usual between drawers of one chest "
                "and wants slotted holes, where its feet cover them; else new ones."
            )
        if self.goes_on:
            return f"it goes on in holes drilled {drilled}, as is usual. Try one first."
        wide = ", ".join(f"{show_fine(mm, measures)} wide for {name}" for name, mm in self.wants)
        return (
            f"it goes on in holes at least {wide}; those drilled {drilled}, as is usual, may "
            "want opening. Try one first."
        )


def takes_screw(away_mm: float) -> bool:
    """Whether an old hole whose centre is so far from the wanted one takes the screw."""
    return away_mm <= REUSED_WITHIN_MM


def over(
    pull_mm: float, holes_mm: float, screws: Sequence[tuple[str, Figure]], old: OldHoles
) -> Over | Refused:
    """What a pull of one spacing does over holes of another; `screws` are threads by name.

    Each hole has to be as much wider than its screw as the spacings differ: the screw then lies
    against its rim. All in mm.
    """
    bad = first(
        amount("hole spacing of the pull", pull_mm, above=0, most=1000, unit="mm"),
        amount("spacing of the holes", holes_mm, above=0, most=1000, unit="mm"),
        None if screws else wrong("screws", "there are none"),
    )
    if bad:
        return bad
    off = abs(pull_mm - holes_mm)
    return Over(
        pull_mm,
        holes_mm,
        tuple((name, diameter.value + off) for name, diameter in screws),
        old.drilled.value,
        old.drift_usual.value,
        old.drift_most.value,
        ("how wide the old holes are",),
        (old.drilled.cited, old.drift_most.cited, *(diameter.cited for _, diameter in screws)),
    )
