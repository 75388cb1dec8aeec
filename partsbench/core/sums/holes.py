"""Hole spacings told apart, and what a candidate pull does with the holes a front has.

Spacings are measured to some 0.4 mm at best, so near ones (96 mm and 3-3/4 in differ
by 0.75 mm) are named together and never rounded into each other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from math import hypot

from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import Refusal, amount, first

MEASURED_WITHIN_MM = 0.4
"""What a spacing can be measured to with a calliper between hole rims: common practice."""
REUSED_WITHIN_MM = 0.5
"""An old hole this near a new one takes the screw: common practice."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """A spacing that pulls are made for, by the name the trade gives it."""

    name: str
    mm: Figure


@dataclass(frozen=True, slots=True)
class Told:
    """Which standard spacing a measured one is: one, several that it may be, or none."""

    measured_mm: float
    names: tuple[str, ...]
    nearest: str
    off_mm: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """`95.9 mm is 96 mm.`, or which two it may be, or that it is none."""
        measured = f"{self.measured_mm:.1f} mm"
        if len(self.names) == 1:
            return f"{measured} is {self.names[0]}."
        if self.names:
            return f"{measured} may be {' or '.join(self.names)}: measure again."
        return f"{measured} is no standard spacing; {self.nearest} is {self.off_mm:.1f} mm off."


@dataclass(frozen=True, slots=True)
class Point:
    """A hole centre, mm from the left and from the top edge of the front."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class OldFront:
    """A drawer front with the holes it has; `shows_filler` where the finish is clear or stain."""

    name: str
    width: float
    height: float
    holes: tuple[Point, ...]
    shows_filler: bool


@dataclass(frozen=True, slots=True)
class Pull:
    """A pull to consider: spacing (0: a knob), its backplate, and the width of each foot, mm."""

    name: str
    spacing: float
    plate_width: float = 0.0
    plate_height: float = 0.0
    count: int = 1
    foot: float = 0.0


@dataclass(frozen=True, slots=True)
class FrontPlan:
    """What one pull does on one front: the holes it wants, and what becomes of the old ones."""

    front: str
    centres: tuple[Point, ...]
    reused: tuple[Point, ...]
    covered: tuple[Point, ...]
    to_fill: tuple[Point, ...]
    shows: bool

    @property
    def to_drill(self) -> int:
        """New holes that no old one serves."""
        return len(self.centres) - len(self.reused)

    @property
    def showing(self) -> int:
        """Filled holes that will be seen."""
        return len(self.to_fill) if self.shows else 0


@dataclass(frozen=True, slots=True)
class HolePlan:
    """One candidate pull on all fronts."""

    pull: str
    fronts: tuple[FrontPlan, ...]
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = ("the measured holes of each front",)

    @property
    def rank(self) -> tuple[int, int, int]:
        """Less is better: fillings that show, fillings, holes to drill."""
        return (
            sum(plan.showing for plan in self.fronts),
            sum(len(plan.to_fill) for plan in self.fronts),
            sum(plan.to_drill for plan in self.fronts),
        )

    @property
    def sentence(self) -> str:
        """`96 mm covers 10 of 14 old holes; 4 show on stained fronts D1, D2.`"""
        old = sum(len(p.reused) + len(p.covered) + len(p.to_fill) for p in self.fronts)
        gone = old - self.rank[1]
        said = f"{self.pull} uses or covers {gone} of {old} old holes"
        seen = [plan.front for plan in self.fronts if plan.showing]
        if not seen:
            return f"{said}; none shows."
        count = self.rank[0]
        return f"{said}; {count} filling{'' if count == 1 else 's'} show on {', '.join(seen)}."


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


def plan_holes(pull: Pull, fronts: Sequence[OldFront]) -> HolePlan | Refusal:
    """For each front the symmetric place of the pull that leaves the least to be seen."""
    bad = first(
        amount("spacing", pull.spacing, least=0, most=1000, unit="mm"),
        amount("plate width", pull.plate_width, least=0, most=1000, unit="mm"),
        amount("plate height", pull.plate_height, least=0, most=1000, unit="mm"),
        amount("foot", pull.foot, least=0, most=1000, unit="mm"),
        amount("pulls on a front", pull.count, least=1, most=2),
        *(_bad_front(front) for front in fronts),
        None if fronts else Refusal("fronts", "there are none"),
    )
    if bad:
        return bad
    plans = []
    for front in fronts:
        options = [_judge(pull, front, centres) for centres in _layouts(pull, front)]
        if not options:
            return Refusal(pull.name, f"does not fit on {front.name}")
        plans.append(min(options, key=_front_rank))
    return HolePlan(pull.name, tuple(plans))


def best_pulls(pulls: Sequence[Pull], fronts: Sequence[OldFront]) -> tuple[HolePlan, ...]:
    """All candidates that fit every front, the one that shows least first."""
    plans = (plan_holes(pull, fronts) for pull in pulls)
    return tuple(sorted((p for p in plans if isinstance(p, HolePlan)), key=lambda p: p.rank))


def _layouts(pull: Pull, front: OldFront) -> Iterator[tuple[Point, ...]]:
    """Symmetric places inside the front: the plain ones first, then those that meet old holes."""
    middle = front.width / 2
    usual = (middle,) if pull.count == 1 else (front.width / 4, front.width / 6)
    heights = dict.fromkeys((front.height / 2, *(hole.y for hole in front.holes)))
    half = pull.spacing / 2
    from_old = (hole.x + step for hole in front.holes for step in (half, -half))
    columns = (
        usual
        if pull.count == 1
        else dict.fromkeys(chain(usual, (min(x, front.width - x) for x in from_old)))
    )
    for x in columns:
        for y in heights:
            at = (x,) if pull.count == 1 else (x, front.width - x)
            centres = tuple(
                Point(c + side, y) for c in at for side in ((-half, half) if half else (0.0,))
            )
            if _inside(pull, front, x, y):
                yield centres


def _inside(pull: Pull, front: OldFront, x: float, y: float) -> bool:
    wide = max(pull.plate_width, pull.spacing + pull.foot) / 2
    high = max(pull.plate_height, pull.foot) / 2
    crossing = pull.count == 2 and x + wide > front.width / 2
    return x - wide >= 0 and y - high >= 0 and y + high <= front.height and not crossing


def _judge(pull: Pull, front: OldFront, centres: tuple[Point, ...]) -> FrontPlan:
    reused: list[Point] = []
    covered: list[Point] = []
    to_fill: list[Point] = []
    for hole in front.holes:
        away = min(hypot(hole.x - c.x, hole.y - c.y) for c in centres)
        if away <= REUSED_WITHIN_MM:
            reused.append(hole)
        elif away <= pull.foot / 2 or _under_plate(pull, centres, hole):
            covered.append(hole)
        else:
            to_fill.append(hole)
    return FrontPlan(
        front.name, centres, tuple(reused), tuple(covered), tuple(to_fill), front.shows_filler
    )


def _under_plate(pull: Pull, centres: tuple[Point, ...], hole: Point) -> bool:
    step = 2 if pull.spacing else 1
    middles = (sum(c.x for c in centres[i : i + step]) / step for i in range(0, len(centres), step))
    down = abs(hole.y - centres[0].y)
    return any(
        abs(hole.x - x) < pull.plate_width / 2 and down < pull.plate_height / 2 for x in middles
    )


def _front_rank(plan: FrontPlan) -> tuple[int, int, int]:
    return plan.showing, len(plan.to_fill), plan.to_drill


def _bad_front(front: OldFront) -> Refusal | None:
    bad = first(
        amount(f"width of {front.name}", front.width, above=0, most=5_000, unit="mm"),
        amount(f"height of {front.name}", front.height, above=0, most=5_000, unit="mm"),
    )
    return bad or first(*(_bad_hole(front, hole) for hole in front.holes))


def _bad_hole(front: OldFront, hole: Point) -> Refusal | None:
    bad = first(amount(f"hole of {front.name}", hole.x), amount(f"hole of {front.name}", hole.y))
    if bad or (0 <= hole.x <= front.width and 0 <= hole.y <= front.height):
        return bad
    where = f"at {hole.x:g}, {hole.y:g} mm"
    return Refusal(f"hole of {front.name}", f"{where} lies outside the front")
