"""How damp wood gets, and how much it then moves across the grain.

Equilibrium moisture: Wood Handbook, USDA Forest Products Laboratory, FPL-GTR-282 (2021), eq. 4-5.
Movement: Wood Handbook, FPL-GTR-190 (2010), eq. 13-2 (6 to 14 %) and eq. 13-3 (outside). A board
(plywood, MDF, particleboard) moves alike both ways, by one figure at any moisture; veneer moves
with its core; a wood of one's own by the figure that was typed with it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from enum import StrEnum

from partsbench.core.outcomes import Refused
from partsbench.core.sources import Status, cite
from partsbench.core.sums import units
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.wording import clauses, or_list

_2021 = "Wood Handbook, USDA Forest Products Laboratory, FPL-GTR-282 (2021)"
_2010 = "Wood Handbook, USDA Forest Products Laboratory, FPL-GTR-190 (2010)"
EMC_SOURCE = cite(f"{_2021}, eq. 4-5", Status.READ_IN_A_COPY)
LINEAR_SOURCE = cite(f"{_2010}, eq. 13-2", Status.READ_IN_A_COPY)
SHRINKAGE_SOURCE = cite(f"{_2010}, eq. 13-3", Status.FROM_MEMORY)
EMC_CAUTION = "a trend for most woods, not a measurement: the handbook itself says so"
MOVEMENT_CAUTION = (
    "the handbook's method probably overestimates width and underestimates thickness, "
    "as boards are rarely sawn perfectly flat or quarter"
)
BOARD_CAUTION = (
    "boards differ by make, and in the same air most take up less moisture than wood, by which "
    "theirs is reckoned here"
)
OWN_CAUTION = "a figure of your own: the answer is as true as it is"
VENEER_SOURCE = "veneer moves with what it is glued to (common practice)"
LINEAR_FROM, LINEAR_TO = 6.0, 14.0
LINEAR_VALID = "linear form, valid from 6 to 14 %"
SHRINKAGE_VALID = "shrinkage form, outside 6 to 14 %"
ONE_FIGURE_VALID = "one figure, used at any moisture"
GREEN = 30.0
"""Moisture, %, over which no wood moves any more: that of most woods in eq. 13-3."""
MOST_OWN = 0.01
"""A larger coefficient than this is a slip: no wood of the table has half of it."""


class Cut(StrEnum):
    """How a board lies in the log: which way the measured size runs."""

    FLAT = "flat"
    QUARTER = "quarter"
    MIXED = "mixed"


@dataclass(frozen=True, slots=True)
class Wood:
    """One wood: change of size per 1 % moisture, radial and tangential, and shrinkage in %.

    `key` finds it again. Without `moves_below` its coefficient is used at any moisture. A `board`
    moves in its width as in its height. What is `veneered` moves as the core that it is.
    """

    key: str
    name: str
    radial: Figure
    tangential: Figure
    moves_below: Figure | None = None
    shrinkage_radial: Figure | None = None
    shrinkage_tangential: Figure | None = None
    board: bool = False
    veneered: bool = False

    @property
    def moves_alike(self) -> bool:
        """Whether one figure holds however it was sawn."""
        return self.radial == self.tangential

    @property
    def caution(self) -> str:
        """What to mind of a movement that is reckoned with its figures."""
        if self.board:
            return BOARD_CAUTION
        return MOVEMENT_CAUTION if self.moves_below else OWN_CAUTION

    def coefficient(self, cut: Cut) -> float:
        """Fraction of the size per 1 % of moisture; mixed grain is the mean of the two."""
        if cut is Cut.MIXED:
            return (self.radial.value + self.tangential.value) / 2
        return (self.tangential if cut is Cut.FLAT else self.radial).value

    def shrinkage(self, cut: Cut) -> Figure:
        """% from green to ovendry; worked back from the coefficient where the table has none."""
        if cut is Cut.MIXED:
            both = self.shrinkage(Cut.QUARTER), self.shrinkage(Cut.FLAT)
            return Figure(sum(f.value for f in both) / 2, both[1].source, both[1].status)
        known = self.shrinkage_tangential if cut is Cut.FLAT else self.shrinkage_radial
        if known is not None:
            return known
        begins = self.moves_below.value if self.moves_below else GREEN
        flat = self.tangential if cut is Cut.FLAT else self.radial
        back = 100 * begins / (1 / flat.value + begins - 10)
        return Figure(back, flat.source, Status.CALCULATED)


@dataclass(frozen=True, slots=True)
class Moisture(units.Worded):
    """The moisture that wood comes to in this air, % of its dry weight."""

    percent: float
    temperature_c: float
    humidity: float
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = (EMC_SOURCE,)
    caution: str = EMC_CAUTION

    @property
    def shown(self) -> str:
        """To the half percent: the source promises no more."""
        return f"{round(self.percent * 2) / 2:g} %"

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`Wood left in this air (20 °C, 50 %) comes to about 9.5 % moisture.`"""
        air = f"{units.show_temperature(self.temperature_c, measures)}, {self.humidity:.0f} %"
        return f"Wood left in this air ({air}) comes to about {self.shown} moisture."


@dataclass(frozen=True, slots=True)
class Movement(units.Worded):
    """How much a size across the grain changes; positive when it grows."""

    size_mm: float
    change_mm: float
    wood: str
    cut: Cut
    start: float
    end: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...]
    caution: str = MOVEMENT_CAUTION
    valid: str = LINEAR_VALID

    @property
    def change_in(self) -> float:
        """The change in inches."""
        return self.change_mm / units.MM_PER_INCH

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`180 mm of walnut, black may grow about 2.0 mm from 8 to 12 % moisture.`"""
        size = units.show_length(self.size_mm, measures)
        span = f"from {self.start:g} to {self.end:g} % moisture"
        change = units.show_gap(abs(self.change_mm), measures)
        if not float(change.split()[0]):
            return f"{size} of {self.wood} hardly moves {span}."
        if self.change_mm > 0:
            return f"{size} of {self.wood} may grow about {change} {span}."
        return f"{size} of {self.wood} may shrink about {change} {span}."


def emc_celsius(t: float, h: float) -> float:
    """Eq. 4-5, °C form: equilibrium moisture in % at `t` °C and humidity `h` from 0 to 1."""
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    return _sorbed(w, k * h, k1, k2)


def moisture(temperature_c: float, humidity: float) -> Moisture | Refused:
    """The moisture wood comes to at °C and % relative humidity; the table ends at 5 and 95 %."""
    bad = first(
        amount("temperature", temperature_c, least=-40, most=132.2, unit="°C"),
        amount("humidity", humidity, least=0, most=100, unit="%"),
    )
    if bad:
        return bad
    outside = not (5 <= humidity <= 95) or temperature_c < -1.2
    lacks = (
        ("the handbook's table ends at 5 and 95 % humidity and at 30 °F (-1 °C)",)
        if outside
        else ()
    )
    return Moisture(emc_celsius(temperature_c, humidity / 100), temperature_c, humidity, lacks)


def movement(size_mm: float, wood: Wood, cut: Cut, start: float, end: float) -> Movement | Refused:
    """Change of a size across the grain between two moistures in %, as measured at `start`.

    Eq. 13-2 while both lie within 6 to 14 %, else eq. 13-3, which ends where shrinkage begins.
    """
    begins = wood.moves_below.value if wood.moves_below else GREEN
    bad = first(
        amount("size", size_mm, above=0, most=100_000, unit="mm"),
        amount("moisture at the start", start, least=0, most=begins, unit="%"),
        amount("moisture at the end", end, least=0, most=begins, unit="%"),
    )
    if bad:
        return bad
    figure = wood.radial if cut is Cut.QUARTER else wood.tangential
    inside = min(start, end) >= LINEAR_FROM and max(start, end) <= LINEAR_TO
    if inside or wood.moves_below is None:
        change = size_mm * wood.coefficient(cut) * (end - start)
        sources = (LINEAR_SOURCE, figure.cited) if wood.moves_below else (figure.cited,)
        valid = LINEAR_VALID if wood.moves_below else ONE_FIGURE_VALID
    else:
        shrinkage = wood.shrinkage(cut)
        change = size_mm * (end - start) / (begins * 100 / shrinkage.value - begins + start)
        sources = SHRINKAGE_SOURCE, shrinkage.cited
        valid = SHRINKAGE_VALID
    unsaid = cut is Cut.MIXED and not wood.moves_alike
    return Movement(
        size_mm, change, wood.name, cut, start, end,
        ("whether the board is flat or quarter sawn",) if unsaid else (),
        (*sources, VENEER_SOURCE) if wood.veneered else sources,
        wood.caution,
        valid,
    )  # fmt: skip


def find_wood(woods: Mapping[str, Wood], asked: str) -> Wood | Refused:
    """The wood of that name or key; word order and commas do not matter (`black walnut`).

    `veneer on MDF` is its core; `pear 0.0025` is a wood of one's own, with its coefficient.
    """
    face, on, core = asked.lower().partition(" on ")
    if on:
        return _veneer(face.strip(), find_wood(woods, core))
    own = _own(asked)
    if own is not None:
        return own
    wanted = _words(asked) - {"veneered"}
    if "veneer" in wanted:
        return wrong("wood", "veneer moves with its core: write it as in “veneer on plywood”")
    if not wanted:
        return wrong("wood", "is missing")
    return _named(woods, asked, wanted)


def _named(woods: Mapping[str, Wood], asked: str, wanted: frozenset[str]) -> Wood | Refused:
    by_words = {_words(wood.name): wood for wood in woods.values()}
    by_words |= {_words(wood.key): wood for wood in woods.values()}
    # `birch plywood` is a plywood: a board is known by its own word, whatever stands with it.
    boards = [wood for wood in woods.values() if wood.board and wood.key in wanted]
    exact = by_words.get(wanted) or (boards[0] if len(boards) == 1 else None)
    if exact:
        return exact
    holding = {wood.key: wood for words, wood in by_words.items() if wanted <= words}
    if len(holding) == 1:
        return next(iter(holding.values()))
    names = [wood.name for wood in holding.values()] or get_close_matches(
        asked.lower(), [wood.name for wood in woods.values()], 3, 0.4
    )
    hint = f"did you mean {or_list(names)}" if names else ""
    if holding:
        return wrong("wood", clauses([f"{asked!r} is several in the table", hint]))
    own = "or write it with a coefficient of your own, as in “pear 0.0025”"
    return wrong("wood", clauses([f"{asked!r} is not in the table", hint, own]))


def _veneer(face: str, core: Wood | Refused) -> Wood | Refused:
    if isinstance(core, Refused) or core.veneered:
        return core
    said = face if face.endswith("veneer") else f"{face} veneer"
    name, key = f"{said} on {core.name}", f"{face} on {core.key}"
    return replace(core, key=key, name=name, veneered=True)


def _own(asked: str) -> Wood | Refused | None:
    """A wood with a coefficient of its own behind its name; None where no number was typed."""
    found = _COEFFICIENT.fullmatch(" ".join(asked.split()))
    if found is None:
        return None
    value = float(found["number"].replace(",", ".")) / (100 if found["percent"] else 1)
    if not 0 < value <= MOST_OWN:
        return wrong(
            "coefficient",
            f"“{asked.strip()}” is not over 0 and up to {MOST_OWN:g} of the size for each 1 % of "
            "moisture: write 0.0025, or 0.25 %",
        )
    name = (found["name"] or "").strip() or "your wood"
    said = f"{name}, {value:g} for each 1 % of moisture (your own figure)"
    figure = Figure(value, said, Status.OWN)
    return Wood(" ".join(asked.split()), name, figure, figure)


def find_cut(asked: str) -> Cut | Refused:
    """`flat`, `flatsawn`, `quarter-sawn`, `mixed`."""
    wanted = asked.strip().lower().removesuffix("sawn").removesuffix("cut").strip(" -")
    if wanted in set(Cut):
        return Cut(wanted)
    return wrong("cut", f"{asked!r} is none of flat, quarter, mixed")


_COEFFICIENT = re.compile(r"(?P<name>.*?\s)??(?P<number>\d*[.,]?\d+)\s?(?P<percent>%)?")


def _sorbed(w: float, kh: float, k1: float, k2: float) -> float:
    upper = k1 * kh + 2 * k1 * k2 * kh * kh
    return 1800 / w * (kh / (1 - kh) + upper / (1 + k1 * kh + k1 * k2 * kh * kh))


def _words(name: str) -> frozenset[str]:
    for mark in ",()-":
        name = name.replace(mark, " ")
    return frozenset(name.lower().split()) - {"or", "the"}
