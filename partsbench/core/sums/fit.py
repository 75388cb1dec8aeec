"""Will it still fit: the play of a drawer after its film, in the dry and in the damp month.

Width: a case held by long grain does not move, nor does a drawer front along its grain, so only
film takes play, on each side from both facing faces. Height: the drawer stands on its runners,
so all play is at the top; every painted edge takes film from it, and the drawer swells in it.
A drawer or a case of board (plywood, MDF, particleboard) moves in its width as in its height.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from math import fsum

from partsbench.core.outcomes import Refused
from partsbench.core.sources import Status, cite
from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.film import FILM_SOURCE
from partsbench.core.sums.fit_advice import ENDS, SIDES, Advice, Edge, Remedy, advise
from partsbench.core.sums.fit_measured import (
    Measured,
    bad_sizes,
    missing,
    smallest,
    wrong_measures,
)
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.sums.wood import Cut, Movement, Wood, movement
from partsbench.core.wording import capital, notes

CASE_SOURCE = cite(
    "a case's width is held by its long grain: rpwoodwork.com, article of Aug 2012, "
    "read before 2026-11",
    Status.TRADE_PRESS,
)
UNSAID = "the wood and the room's dry and damp months"


@dataclass(frozen=True, slots=True)
class Paint:
    """The dry film, mm, on the edges of the drawer and on those of its opening that get one."""

    drawer: Mapping[Edge, float]
    opening: Mapping[Edge, float]

    def taken(self, edges: Collection[Edge]) -> float:
        """What drawer and opening together have on these edges."""
        return fsum(own.get(edge, 0.0) for own in (self.drawer, self.opening) for edge in edges)

    def of_drawer(self, edges: Collection[Edge]) -> dict[Edge, float]:
        """What the drawer alone has on these: all that leaving them bare can gain."""
        return {edge: self.drawer.get(edge, 0.0) for edge in edges}


@dataclass(frozen=True, slots=True)
class Season:
    """The drawer's wood and its moisture, %: when measured, in the dry and in the damp month.

    `case` is what the case is made of; only a board makes an opening move.
    """

    wood: Wood
    cut: Cut
    measured: float
    dry: float
    damp: float
    case: Wood | None = None


@dataclass(frozen=True, slots=True)
class Play:
    """The play a drawer wants, mm: each side, and over it at its largest."""

    side: Figure
    top: Figure


@dataclass(frozen=True, slots=True)
class Gaps:
    """Play in mm: each side, and at the top; None where sizes are missing. Negative: it sticks."""

    side: float | None
    top: float | None

    def less(self, side: float, top: float) -> Gaps:
        return Gaps(
            None if self.side is None else self.side - side,
            None if self.top is None else self.top - top,
        )


@dataclass(frozen=True, slots=True)
class Fit(units.Worded):
    """The play of one drawer now, and painted in the dry and in the damp month.

    `swell_mm` is what it is higher in the damp month, `swell_side_mm` what it is wider to each
    side; both less what the opening grows.
    """

    now: Gaps
    dry: Gaps
    damp: Gaps
    film_side_mm: float
    film_top_mm: float
    swell_mm: float | None
    swell_side_mm: float
    advice: tuple[Advice, ...]
    lacks: tuple[str, ...]
    sources: tuple[str, ...]
    caution: str = ""

    @property
    def fits(self) -> bool:
        """Whether nothing needs doing before the paint goes on, as far as it was measured."""
        return not self.advice

    @property
    def painted(self) -> Gaps:
        """The play with the paint on, in the air of now."""
        return self.now.less(self.film_side_mm, self.film_top_mm)

    @property
    def least(self) -> Gaps:
        """The least play after painting: now, in the dry or in the damp month."""
        times = (self.painted, self.dry, self.damp)
        sides = [gaps.side for gaps in times if gaps.side is not None]
        tops = [gaps.top for gaps in times if gaps.top is not None]
        return Gaps(min(sides, default=None), min(tops, default=None))

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`The film takes 0.4 mm off each side; 0.6 mm is left. In a damp month ...`"""
        return " ".join(self._sentences(measures))

    def _sentences(self, measures: units.Measures) -> Iterator[str]:
        least = self.least
        if least.side is not None and self.painted.side is not None:
            film = units.show_film(self.film_side_mm, measures)
            said = f"The film takes {film} off each side"
            if units.is_gap(self.painted.side - least.side, measures):
                more = units.show_gap(self.painted.side - least.side, measures)
                dry, damp = f"the dry month {more} more", f"the damp month {more} more"
                said = notes(said, dry if least.side == self.dry.side else damp)
            yield f"{said}; {_left(least.side, measures)}."
        if least.top is not None:
            when, left = self._tightest(measures), _left(least.top, measures)
            yield f"{when}: {left} at the top." if when else f"{capital(left)} at the top."
        for advice in self.advice:
            said = advice.say(measures)
            tight = advice.remedy is Remedy.WAX
            yield f"Tight: {said}." if tight else f"{capital(said)}."

    def _tightest(self, measures: units.Measures) -> str:
        """When the play at the top is least, and why; empty where no season changes it."""
        least, now = self.least.top, self.painted.top
        if self.swell_mm is None or least is None or now is None:
            return ""
        if not units.is_gap(now - least, measures):
            drier = self.swell_mm < 0 and units.is_gap(self.swell_mm, measures)
            return "It is damper now than in the damp month" if drier else ""
        if least == self.damp.top:
            grown = units.show_gap(self.swell_mm, measures)
            return f"In a damp month the drawer may be {grown} higher"
        return "In a dry month the opening shrinks more than the drawer"


def fit(
    measured: Measured, paint: Paint, wanted: Play, season: Season | None = None
) -> Fit | Refused:
    """The play left after film and season. Says what it lacks; refuses what cannot be."""
    films = [*paint.drawer.values(), *paint.opening.values()]
    bad = first(
        bad_sizes(measured),
        *(amount("film", mm, least=0, most=5, unit="mm") for mm in films),
    )
    bad = bad or wrong_measures(measured)
    if bad:
        return bad
    side = smallest(measured.opening_width, measured.drawer_width)
    top = smallest(measured.opening_height, measured.drawer_height)
    if side is None and top is None:
        return wrong("sizes", "neither width nor height of drawer and opening is known")
    if season and season.dry > season.damp:
        return wrong("moisture", "the dry month is damper than the damp one")
    dry = _grown(measured, season, season.dry if season else 0)
    damp = _grown(measured, season, season.damp if season else 0)
    if isinstance(dry, Refused):
        return dry
    if isinstance(damp, Refused):
        return damp
    now = Gaps(None if side is None else side / 2, top)
    film_side, film_top = paint.taken(SIDES) / 2, paint.taken(ENDS)
    coated = now.less(film_side, film_top)
    found = Fit(
        now, coated.less(dry.side, dry.top or 0), coated.less(damp.side, damp.top or 0),
        film_side, film_top, damp.top, damp.side, (),
        (*missing(measured), *(() if season else (UNSAID,)), *damp.lacks),
        (FILM_SOURCE, *_of_case(season), wanted.side.cited, *damp.sources), damp.caution,
    )  # fmt: skip
    least = found.least
    return replace(
        found,
        advice=(
            *advise("side", least.side, wanted.side.value, paint.of_drawer(SIDES)),
            *advise("top", least.top, wanted.top.value, paint.of_drawer(ENDS)),
        ),
    )


@dataclass(frozen=True, slots=True)
class _Growth:
    """What a season takes from each side and from the top, mm; top None while it is not known."""

    side: float = 0.0
    top: float | None = None
    moves: tuple[Movement, ...] = ()

    @property
    def lacks(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(lack for one in self.moves for lack in one.lacks))

    @property
    def sources(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(source for one in self.moves for source in one.sources))

    @property
    def caution(self) -> str:
        return self.moves[0].caution if self.moves else ""


def _grown(measured: Measured, season: Season | None, to: float) -> _Growth | Refused:
    """What drawer and opening change from when they were measured to a moisture, %."""
    if season is None:
        return _Growth()
    moves: list[Movement] = []
    change = {"height": 0.0, "width": 0.0}
    board = season.case if season.case and season.case.board else None
    for what, ends, wood, sign in (
        ("height", measured.drawer_height, season.wood, 1),
        ("width", measured.drawer_width, season.wood if season.wood.board else None, 1),
        ("height", measured.opening_height if measured.drawer_height else None, board, -1),
        ("width", measured.opening_width if measured.drawer_width else None, board, -1),
    ):
        if ends is None or wood is None:
            continue
        size = max(ends.known) if sign > 0 else min(ends.known)
        moved = movement(size, wood, season.cut, season.measured, to)
        if isinstance(moved, Refused):
            return moved
        moves.append(moved)
        change[what] += sign * moved.change_mm
    top = change["height"] if measured.drawer_height else None
    return _Growth(change["width"] / 2, top, tuple(moves))


def _of_case(season: Season | None) -> tuple[str, ...]:
    """Why the opening is taken to keep its width; a case of board does not."""
    return () if season and season.case and season.case.board else (CASE_SOURCE,)


def _left(gap: float, measures: units.Measures) -> str:
    if not units.is_gap(gap, measures):
        return "nothing is left"
    if gap < 0:
        return f"{units.show_gap(-gap, measures)} too little is left"
    return f"{units.show_gap(gap, measures)} is left"
