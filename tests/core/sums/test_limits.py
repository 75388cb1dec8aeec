"""What a sum can be asked: each figure at its very limits, and a hair beyond them.

A refusal is about the figure that is beyond; at its limit the same figure is taken, whatever else
may come of it. The limits keep slips of the keys out, and are our own but for those of the
formulas: the Magnus formula from -45 to 60 °C, the Wood Handbook's equation to 270 °F (132.2 °C).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from math import inf

import pytest

from partsbench import trade
from partsbench.core.outcomes import Refused
from partsbench.core.piece.spot import Spot
from partsbench.core.sums import tables
from partsbench.core.sums.census import Condition, Hardware, census
from partsbench.core.sums.climate import dew_point, stretch, surface
from partsbench.core.sums.drilling import centres, scale, tiling
from partsbench.core.sums.figure import Figure, Status
from partsbench.core.sums.film import coverage
from partsbench.core.sums.fit import Paint, Play, fit
from partsbench.core.sums.fit_advice import Edge
from partsbench.core.sums.fit_measured import Ends, Measured
from partsbench.core.sums.fronts import OldFront, Point, Pull, bad_front
from partsbench.core.sums.holes import plan_holes
from partsbench.core.sums.legs import LegCorner, from_heights, from_rock
from partsbench.core.sums.masking import Cover, Hole, masking
from partsbench.core.sums.mix import Rate, Surface, film_rate, how_much, recipe, wiped_rate
from partsbench.core.sums.money import BadCase, Costs, ceiling, floor_price, offer, sale
from partsbench.core.sums.paths import stated_film
from partsbench.core.sums.pulls import PullPlace, allot, order_by, order_list
from partsbench.core.sums.quotes import Finished, quote
from partsbench.core.sums.screws import screw
from partsbench.core.sums.spacings import OldHoles, over, told_apart
from partsbench.core.sums.symmetry import Cell, front
from partsbench.core.sums.tins import Tin, materials
from partsbench.core.sums.tipover import Space, enclosed_dm3, tipover
from partsbench.core.sums.wood import Cut, moisture, movement
from tests.core.sums.answers import answered

LIMITS = tables.climate_limits(trade.load("climate"))
SCOPE = tables.tipover_scope(trade.load("tipover"))
WALNUT = answered(dict, tables.woods(trade.load("woods")))["walnut-black"]
M4 = answered(dict, tables.threads(trade.load("pulls")))["M4"]
SPACINGS = answered(tuple, tables.spacings(trade.load("pulls")))
LAPS = tables.laps(trade.load("masking"))
HOLD = Figure(1.0, "our rule", Status.COMMON_PRACTICE)
WANTED = Play(HOLD, HOLD)
OLD = OldHoles(HOLD, HOLD, HOLD)
CENSUS = census([Hardware("a", "D1", "pull", Condition.GOOD)], {"D1": {"pull": 1}})
PLACES = [PullPlace("D1", "row 1", 0.5)]
FRONT = OldFront("D1", 5000, 5000, (), False)
KNOB = Pull("knob", 0)
JOB = Finished("Heron", 10, 100)
TIN = Tin("blue", 30, 1000, 800, 500)
FEET = dict.fromkeys(LegCorner, 700.0)
TODAY, NEEDED = date(2026, 11, 25), date(2029, 11, 23)


@dataclass(frozen=True)
class Limited:
    """A figure of a sum by what a refusal is about, and between which limits it is taken."""

    about: str
    ask: Callable[[float], object]
    least: float = -inf
    most: float = inf
    above: float = -inf

    @property
    def taken(self) -> list[float]:
        low = self.above + 0.05 if self.above > -inf else self.least
        return [value for value in (low, self.most) if abs(value) < inf]

    @property
    def refused(self) -> list[float]:
        hair = (self.above, _hair(self.least, -1), _hair(self.most, 1))
        return [value for value in hair if abs(value) < inf]


def _hair(limit: float, way: int) -> float:
    return limit + way * min(max(1e-6, abs(limit) * 1e-6), 0.5)


def costs_of(name: str) -> Callable[[float], object]:
    return lambda v: offer(100, Costs(**{name: v}), 1)


MOST_MONEY = 10_000_000
AIR = {"least": -45, "most": 60}
MM = {"above": 0, "most": 5_000}
SHARE = {"least": 0.1, "most": 100}
FILM = {"least": 0.1, "most": 10_000}
HOURS = {"least": 0, "most": 10_000}
MONEY = {"least": 0, "most": MOST_MONEY}
FIGURES = [
    Limited("temperature", lambda v: dew_point(v, 50), **AIR),
    Limited("temperature", lambda v: stretch(LIMITS, v, 50), **AIR),
    Limited("surface temperature", lambda v: surface(LIMITS, 20, 50, v), **AIR),
    Limited("humidity", lambda v: dew_point(20, v), 1, 100),
    Limited("temperature", lambda v: moisture(v, 50), -40, 132.2),
    Limited("humidity", lambda v: moisture(20, v), 0, 100),
    Limited("size", lambda v: movement(v, WALNUT, Cut.FLAT, 6, 12), above=0, most=100_000),
    Limited("moisture at the start", lambda v: movement(180, WALNUT, Cut.FLAT, v, 12), least=0),
    Limited("moisture at the end", lambda v: movement(180, WALNUT, Cut.FLAT, 12, v), least=0),
    Limited("solids", lambda v: coverage(v, 38, 30), **SHARE),
    Limited("film", lambda v: coverage(52, v, 30), **FILM),
    Limited("transfer", lambda v: coverage(52, 38, v), **SHARE),
    Limited("wet film", lambda v: film_rate(v, 65), **FILM),
    Limited("transfer", lambda v: film_rate(100, v), **SHARE),
    Limited("spreading rate", lambda v: wiped_rate(v, 1000), 0.1, 1000),
    Limited("spreading rate", lambda v: wiped_rate(10, v), 10, 1000),
    Limited("area of D1 front", lambda v: how_much([Surface(Spot("D1", "front"), v)],
                                                   Rate(1, 1), 100), above=0, most=100),
    Limited("cup", lambda v: how_much([Surface(Spot("D1", "front"), 1)], Rate(1, 1), v),
            1, 20_000),
    Limited("coats", lambda v: how_much([Surface(Spot("D1", "front"), 1)], Rate(1, 1), 9, v),  # type: ignore[arg-type]
            1, 20),
    Limited("part of blue", lambda v: recipe({"blue": v}, 100, 10), above=0, most=1e9),
    Limited("volume", lambda v: recipe({"blue": 1}, v, 100), above=0, most=100_000),
    Limited("cup's step", lambda v: recipe({"blue": 1}, 100, v), 0.1, 1000),
    Limited("coats", lambda v: stated_film(v, 100, 40), 0, 50),  # type: ignore[arg-type]
    Limited("wet film", lambda v: stated_film(3, v, 40), 0, 2_000),
    Limited("solids", lambda v: stated_film(3, 100, v), above=0, most=100),
    Limited("opening width", lambda v: fit(Measured(Ends(v, v), Ends(0.01, 0.01)),
                                           Paint({}, {}), WANTED), above=0, most=10_000),
    Limited("drawer height", lambda v: fit(Measured(None, None, Ends(1e4, 1e4), Ends(v, v)),
                                           Paint({}, {}), WANTED), above=0, most=10_000),
    Limited("film", lambda v: fit(Measured(Ends(602, 602), Ends(600, 600)),
                                  Paint({Edge.LEFT: v}, {}), WANTED), 0, 5),
    Limited("film", lambda v: fit(Measured(Ends(602, 602), Ends(600, 600)),
                                  Paint({}, {Edge.LEFT: v}), WANTED), 0, 5),
    Limited("spares", lambda v: order_list(CENSUS, v), 0, 100),  # type: ignore[arg-type]
    Limited("lead time", lambda v: order_by(TODAY, NEEDED, v), 0, 730),  # type: ignore[arg-type]
    Limited("margin", lambda v: order_by(TODAY, NEEDED, 7, v), 0, 365),  # type: ignore[arg-type]
    Limited("price", lambda v: allot(CENSUS.counts[0], [], PLACES, v), 0, 100_000),
    Limited("spares", lambda v: allot(CENSUS.counts[0], [], PLACES, 1, v), 0, 100),  # type: ignore[arg-type]
    Limited("visibility of D1", lambda v: allot(CENSUS.counts[0], [],
                                                [PullPlace("D1", "row 1", v)], 1), 0, 1),
    Limited("pull of D1", lambda v: census([], {"D1": {"pull": v}}), 0, 100),  # type: ignore[dict-item]
    Limited("spacing of a", lambda v: census([Hardware("a", "D1", "pull", Condition.GOOD, v)],
                                             {}), 0, 1000),
    Limited("hole spacing", lambda v: told_apart(SPACINGS, v), above=0, most=1000),
    Limited("hole spacing of the pull", lambda v: over(v, 96, [("M4", HOLD)], OLD),
            above=0, most=1000),
    Limited("spacing of the holes", lambda v: over(96, v, [("M4", HOLD)], OLD),
            above=0, most=1000),
    Limited("front thickness", lambda v: screw(M4, HOLD, v), above=0, most=200),
    Limited("plate thickness", lambda v: screw(M4, HOLD, 20, v), 0, 50),
    Limited("depth of the thread", lambda v: screw(M4, HOLD, 20, 0, v), most=100),
    Limited("width of D1", lambda v: bad_front(replace(FRONT, width=v)), **MM),
    Limited("height of D1", lambda v: bad_front(replace(FRONT, height=v)), **MM),
    Limited("pulls on D1", lambda v: bad_front(replace(FRONT, count=v)), 0, 2),  # type: ignore[arg-type]
    Limited("spacing", lambda v: plan_holes(replace(KNOB, spacing=v), [FRONT]), 0, 1000),
    Limited("plate width", lambda v: plan_holes(replace(KNOB, plate_width=v), [FRONT]), 0, 1000),
    Limited("plate height", lambda v: plan_holes(replace(KNOB, plate_height=v), [FRONT]), 0, 1000),
    Limited("foot", lambda v: plan_holes(replace(KNOB, foot=v), [FRONT]), 0, 1000),
    Limited("pulls on a front", lambda v: plan_holes(replace(KNOB, count=v if v % 1 else int(v)),  # type: ignore[arg-type]
                                                     [FRONT]), 1, 2),
    Limited("width of the front", lambda v: centres(v, 180, 0), **MM),
    Limited("height of the front", lambda v: centres(600, v, 0), **MM),
    Limited("hole spacing", lambda v: centres(5_000, 180, v), 0, 1_000),
    Limited("pulls on the front", lambda v: centres(600, 180, 0, v), 1, 2),  # type: ignore[arg-type]
    Limited("distance from the top", lambda v: centres(600, 180, 0, from_top=v), **MM),
    Limited("distance from the side", lambda v: centres(600, 180, 0, from_side=v), **MM),
    Limited("printed bar", lambda v: scale(v, v, v), above=0, most=1_000),
    Limited("bars", lambda v: scale(100, 100 + v), -0.5, 0.5),
    Limited("width of the front", lambda v: tiling(v, 180, 190, 277), **MM),
    Limited("height of the front", lambda v: tiling(600, v, 190, 277), **MM),
    Limited("overlap", lambda v: tiling(600, 180, 300, 300, v), 0, 100),
    Limited("width of the page", lambda v: tiling(600, 180, v, 277, 10), above=20, most=2_000),
    Limited("height of the page", lambda v: tiling(600, 180, 190, v, 10), above=20, most=2_000),
    Limited("width of D1", lambda v: front([Cell("D1", 0, 0, v, 9, "")]), above=0),
    Limited("height of D1", lambda v: front([Cell("D1", 0, 0, 9, v, "")]), above=0),
    Limited("price", lambda v: offer(v, Costs(), 1), **MONEY),
    Limited("hours", lambda v: offer(100, Costs(), v), 0.1, 10_000),
    Limited("fee", lambda v: offer(100, Costs(), 1, v), 0, 95),
    Limited("price", lambda v: sale(v, Costs(), 1), **MONEY),
    Limited("hours", lambda v: sale(100, Costs(), v), **HOURS),
    Limited("fee", lambda v: sale(100, Costs(), 1, v), 0, 95),
    Limited("hours", lambda v: floor_price(Costs(), v, 25), **HOURS),
    Limited("rate", lambda v: floor_price(Costs(), 10, v), **HOURS),
    Limited("likely price", lambda v: ceiling(v, Costs(), 1, 25), above=0, most=MOST_MONEY),
    Limited("hours", lambda v: ceiling(100, Costs(), v, 25), **HOURS),
    Limited("rate", lambda v: ceiling(100, Costs(), 1, v), **HOURS),
    Limited("more hours", lambda v: ceiling(100, Costs(), 1, 25, 0, BadCase("it lifts", v)),
            **HOURS),
    Limited("more costs", lambda v: ceiling(100, Costs(), 1, 25, 0, BadCase("it lifts", 1, v)),
            0, 1_000_000),
    *(Limited(about, costs_of(name), **MONEY) for name, about in (
        ("bought", "price paid"), ("hardware", "hardware"), ("materials", "materials"),
        ("delivery", "delivery"), ("storage", "storage"), ("other", "other costs"))),
    Limited("rate", lambda v: quote([JOB], v), 0, 10_000),
    Limited("fee", lambda v: quote([JOB], 25, v), 0, 95),
    Limited("hours of Heron", lambda v: quote([replace(JOB, hours=v)], 25), above=0, most=10_000),
    Limited("costs of Heron", lambda v: quote([replace(JOB, costs=v)], 25), 0, 1e6),
    Limited("price of blue", lambda v: materials([replace(TIN, price=v)]), above=0),
    Limited("empty blue", lambda v: materials([replace(TIN, empty=v)]), least=0),
    Limited("blue before", lambda v: materials([replace(TIN, before=v, after=0)]), 0, 1000),
    Limited("blue after", lambda v: materials([replace(TIN, after=v)]), 0, 800),
    Limited("full blue", lambda v: materials([replace(TIN, full=v, before=0, after=0)]), above=0),
    Limited("width", lambda v: enclosed_dm3(SCOPE, [Space(v, 100, 100)]), **MM),
    Limited("height", lambda v: enclosed_dm3(SCOPE, [Space(100, v, 100)]), **MM),
    Limited("depth", lambda v: enclosed_dm3(SCOPE, [Space(100, 100, v)]), **MM),
    Limited("overall height", lambda v: tipover(SCOPE, v, 1, 1), above=0, most=100_000),
    Limited("mass", lambda v: tipover(SCOPE, 1, v, 1), above=0, most=100_000),
    Limited("enclosed volume", lambda v: tipover(SCOPE, 1, 1, v), above=0, most=100_000),
    Limited("height front left", lambda v: from_heights(dict.fromkeys(LegCorner, v)),
            above=0, most=3_000),
    Limited("difference of the legs",
            lambda v: from_heights({**FEET, LegCorner.FRONT_LEFT: 700 + v}), most=100),
    Limited("gap under the foot", lambda v: from_rock(LegCorner.FRONT_LEFT, v), 0, 100),
    Limited("length of a seam of C1 top",
            lambda v: masking([Cover(Spot("C1", "top"), (v,))], [], LAPS), above=0, most=20_000),
    Limited("area of C1 top", lambda v: masking([Cover(Spot("C1", "top"), (9,), v)], [], LAPS),
            0, 25_000_000),
    Limited("width of H1", lambda v: masking([], [Hole(Spot("H1"), v, 9)], LAPS), **MM),
    Limited("height of H1", lambda v: masking([], [Hole(Spot("H1"), 9, v)], LAPS), **MM),
]  # fmt: skip


def about(found: object) -> str:
    """What a refusal is about; "" where there is none."""
    return found.about if isinstance(found, Refused) else ""


@pytest.mark.parametrize("figure", FIGURES, ids=lambda f: f.about)
def test_a_figure_is_taken_at_its_limits_and_refused_beyond_them(figure: Limited) -> None:
    assert figure.taken or figure.refused
    for value in figure.taken:
        assert about(figure.ask(value)) != figure.about, value
    for value in figure.refused:
        assert about(figure.ask(value)) == figure.about, value


@pytest.mark.parametrize(("x", "y", "lies"), [
    (0, 0, True), (600, 180, True), (-0.5, 90, False), (600.5, 90, False), (300, -0.5, False),
    (300, 180.5, False),
])  # fmt: skip
def test_a_hole_on_the_very_edge_lies_in_the_front(x: float, y: float, lies: bool) -> None:
    assert (bad_front(OldFront("D1", 600, 180, (Point(x, y),), False)) is None) is lies


@pytest.mark.parametrize(("measured", "taken"), [
    (94.96, False), (95.04, True), (104.96, True), (105.04, False),
])  # fmt: skip
def test_a_sheet_more_than_five_percent_off_was_scaled_by_a_setting(
    measured: float, taken: bool
) -> None:
    assert isinstance(scale(measured, measured), Refused) is not taken
    near = 95.04 if measured < 100 else 104.96
    assert about(scale(near, measured)) == ("" if taken else "bar down")
