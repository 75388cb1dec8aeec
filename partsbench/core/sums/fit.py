"""Will it still fit: the play of a drawer after its film, in the dry and in the damp month.

Width: a case held by long grain does not move, nor does a drawer front along its grain, so only
film takes play, on each side from both facing faces. Height: the drawer stands on its runners,
so all play is at the top; every painted edge takes film from it, and the drawer swells in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from partsbench.core.sources import Status, cite
from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.film import FILM_SOURCE
from partsbench.core.sums.refusal import Refusal, amount, first
from partsbench.core.sums.wood import Cut, Movement, Wood, movement

CASE_SOURCE = cite(
    "a case's width is held by its long grain: rpwoodwork.com, article of Aug 2012, "
    "read before 2026-11",
    Status.TRADE_PRESS,
)


class Edge(StrEnum):
    """An edge of a drawer front and the edge of its opening that faces it."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"


ALL_EDGES = frozenset(Edge)
NEVER_WENT_MM = 1.0
"""More than a season and a slip of the rule explain (our own limit)."""
UNFELT_MM = 0.01
"""A tenth of what play can be measured to."""


@dataclass(frozen=True, slots=True)
class Ends:
    """One size measured at both ends, mm (width: top and bottom; height: left and right)."""

    one: float
    other: float


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured of a drawer and its opening; a pair left out is None."""

    opening_width: Ends | None = None
    drawer_width: Ends | None = None
    opening_height: Ends | None = None
    drawer_height: Ends | None = None


@dataclass(frozen=True, slots=True)
class Paint:
    """The dry film per face in mm, and which edges of drawer and opening get it."""

    film_mm: float
    drawer: frozenset[Edge] = ALL_EDGES
    opening: frozenset[Edge] = ALL_EDGES

    def faces(self, edge: Edge) -> int:
        """How many of the two faces that meet at this edge are painted."""
        return (edge in self.drawer) + (edge in self.opening)


@dataclass(frozen=True, slots=True)
class Season:
    """The drawer's wood and its moisture, %: when measured, in the dry and in the damp month."""

    wood: Wood
    cut: Cut
    measured: float
    dry: float
    damp: float


@dataclass(frozen=True, slots=True)
class Play:
    """The play a drawer wants, mm: each side, and over it at its largest."""

    side: Figure
    top: Figure


class Remedy(StrEnum):
    """What to do about too little play, before the paint goes on."""

    WAX = "wax"
    BARE = "leave bare"
    PLANE = "plane"


@dataclass(frozen=True, slots=True)
class Advice:
    """One remedy for one gap: `side` (each side) or `top`; `mm` is what to plane off."""

    remedy: Remedy
    where: str
    mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Gaps:
    """Play in mm: each side, and at the top; None where sizes are missing. Negative: it sticks."""

    side: float | None
    top: float | None


@dataclass(frozen=True, slots=True)
class Fit:
    """The play of one drawer now, and painted in the dry and in the damp month."""

    now: Gaps
    dry: Gaps
    damp: Gaps
    film_side_mm: float
    film_top_mm: float
    swell_mm: float | None
    advice: tuple[Advice, ...]
    lacks: tuple[str, ...]
    sources: tuple[str, ...]
    caution: str = ""

    @property
    def fits(self) -> bool:
        """Whether nothing needs doing before the paint goes on."""
        return not self.advice

    @property
    def least(self) -> Gaps:
        """The least play after painting: in the damp month, or now where it is damper now."""
        if self.now.top is None or self.damp.top is None:
            return self.damp
        return Gaps(self.damp.side, min(self.damp.top, self.now.top - self.film_top_mm))

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`The film takes 0.4 mm off each side; 0.6 mm is left. In a damp month ...`"""
        return " ".join(self._sentences(measures))

    @property
    def sentence(self) -> str:
        """The answer in metric units."""
        return self.say()

    def _sentences(self, measures: units.Measures) -> Iterator[str]:
        if self.damp.side is not None:
            taken = units.show_gap(self.film_side_mm, measures)
            yield f"The film takes {taken} off each side; {_left(self.damp.side, measures)}."
        if self.least.top is not None:
            swell = ""
            if self.swell_mm is not None and self.swell_mm < 0:
                swell = "It is damper now than in the damp month: "
            elif self.swell_mm is not None:
                grown = units.show_gap(self.swell_mm, measures)
                swell = f"In a damp month the drawer may be {grown} higher: "
            yield f"{swell}{_left(self.least.top, measures)} at the top.".capitalize()
        for advice in self.advice:
            yield _worded(advice, measures)


def fit(
    measured: Measured, paint: Paint, wanted: Play, season: Season | None = None
) -> Fit | Refusal:
    """The play left after film and season. Says what it lacks; refuses what cannot be."""
    bad = first(_bad_sizes(measured), amount("film", paint.film_mm, least=0, most=5, unit="mm"))
    moved = bad or _moved(measured, season)
    if isinstance(moved, Refusal):
        return moved
    side = _smallest(measured.opening_width, measured.drawer_width)
    now = Gaps(None if side is None else side / 2, _smallest(*_heights(measured)))
    if now.side is None and now.top is None:
        return Refusal("sizes", "neither width nor height of drawer and opening is known")
    film_side = paint.film_mm * (paint.faces(Edge.LEFT) + paint.faces(Edge.RIGHT)) / 2
    film_top = paint.film_mm * (paint.faces(Edge.TOP) + paint.faces(Edge.BOTTOM))
    change_dry, change_damp = (m.change_mm if m else 0.0 for m in moved)
    painted = Gaps(_less(now.side, film_side), _less(now.top, film_top))
    damp = Gaps(painted.side, _less(painted.top, change_damp))
    dry = Gaps(painted.side, _less(painted.top, change_dry))
    top = painted.top if painted.top is None or damp.top is None else min(painted.top, damp.top)
    advice = (
        *_advise("side", damp.side, wanted.side.value, film_side),
        *_advise("top", top, wanted.top.value, film_top),
    )
    grown = moved[1]
    return Fit(
        now, dry, damp, film_side, film_top,
        grown.change_mm if grown else None,
        advice, _lacks(measured, season, now),
        (FILM_SOURCE, CASE_SOURCE, wanted.side.cited, *(grown.sources if grown else ())),
        grown.caution if grown else "",
    )  # fmt: skip


def _moved(
    measured: Measured, season: Season | None
) -> tuple[Movement | None, Movement | None] | Refusal:
    """Change of the drawer's height to the dry and to the damp month."""
    if season is None or measured.drawer_height is None:
        return None, None
    height = max(measured.drawer_height.one, measured.drawer_height.other)
    dry = movement(height, season.wood, season.cut, season.measured, season.dry)
    damp = movement(height, season.wood, season.cut, season.measured, season.damp)
    if isinstance(dry, Refusal):
        return dry
    if isinstance(damp, Refusal):
        return damp
    if season.dry > season.damp:
        return Refusal("moisture", "the dry month is damper than the damp one")
    return dry, damp


def _heights(measured: Measured) -> tuple[Ends | None, Ends | None]:
    return measured.opening_height, measured.drawer_height


def _smallest(opening: Ends | None, drawer: Ends | None) -> float | None:
    if opening is None or drawer is None:
        return None
    return min(opening.one - drawer.one, opening.other - drawer.other)


def _less(gap: float | None, taken: float) -> float | None:
    return None if gap is None else gap - taken


def _advise(where: str, gap: float | None, wanted: float, film: float) -> Iterator[Advice]:
    """Least work first: wax, leave the edges bare, plane what is still short."""
    if gap is None or gap >= wanted - UNFELT_MM:
        return
    if gap >= wanted / 2:
        yield Advice(Remedy.WAX, where)
        return
    if film > 0:
        yield Advice(Remedy.BARE, where)
    short = wanted - gap - film
    if short > UNFELT_MM:
        yield Advice(Remedy.PLANE, where, ceil(round(short * 10, 6)) / 10)


def _worded(advice: Advice, measures: units.Measures) -> str:
    place = "both sides" if advice.where == "side" else "the top and bottom edges"
    if advice.remedy is Remedy.WAX:
        return f"Tight: wax {place}."
    if advice.remedy is Remedy.BARE:
        return f"Leave {place} bare."
    where = "each side" if advice.where == "side" else "the top edge"
    return f"Plane {units.show_gap(advice.mm, measures)} off {where} before painting."


def _left(gap: float, measures: units.Measures) -> str:
    if gap <= 0:
        return f"{units.show_gap(-gap, measures)} too little is left"
    return f"{units.show_gap(gap, measures)} is left"


def _bad_sizes(measured: Measured) -> Refusal | None:
    pairs = (
        ("opening width", measured.opening_width),
        ("drawer width", measured.drawer_width),
        ("opening height", measured.opening_height),
        ("drawer height", measured.drawer_height),
    )
    checks = (
        amount(name, size, above=0, most=10_000, unit="mm")
        for name, ends in pairs
        if ends is not None
        for size in (ends.one, ends.other)
    )
    return first(*checks)


def _lacks(measured: Measured, season: Season | None, now: Gaps) -> tuple[str, ...]:
    wanted = (
        ("the opening's width at both ends", measured.opening_width),
        ("the drawer's width at both ends", measured.drawer_width),
        ("the opening's height at both ends", measured.opening_height),
        ("the drawer's height at both ends", measured.drawer_height),
        ("the wood and the room's dry and damp months", season),
    )
    again = ("all sizes once more: as noted it did not go in before",) if _too_large(now) else ()
    return (*again, *(name for name, value in wanted if value is None))


def _too_large(now: Gaps) -> bool:
    """Whether a drawer that ran in its opening cannot have these sizes."""
    return any(gap is not None and gap < -NEVER_WENT_MM for gap in (now.side, now.top))
