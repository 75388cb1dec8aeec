"""A front with the holes it has, a pull, and what the one does on the other at one place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot

from partsbench.core.outcomes import Refused
from partsbench.core.said_often import height_of, width_of
from partsbench.core.sums.places import LEAST_EDGE_MM
from partsbench.core.sums.refusal import amount, because, first
from partsbench.core.sums.shown import Measures, show_limit
from partsbench.core.sums.spacings import takes_screw


@dataclass(frozen=True, slots=True)
class Point:
    """A hole centre, mm from the left and from the top edge of the front."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class OldFront:
    """A drawer front with the holes it has; `shows_filler` where the finish is clear or stain.

    Fronts of one `group` are seen together; those of one `row` share a line. `count` is how many
    pulls it takes; 0: as many as the pull says.
    """

    name: str
    width: float
    height: float
    holes: tuple[Point, ...]
    shows_filler: bool
    group: str = ""
    row: str = ""
    count: int = 0


@dataclass(frozen=True, slots=True)
class Pull:
    """A pull to consider: spacing (0: a knob), its backplate, and the width of each foot, mm."""

    name: str
    spacing: float
    plate_width: float = 0.0
    plate_height: float = 0.0
    count: int = 1
    foot: float = 0.0

    @property
    def half_width(self) -> float:
        """Room to each side of its middle: for itself, and for wood beside its holes."""
        return max(self.plate_width / 2, self.spacing / 2 + max(self.foot / 2, LEAST_EDGE_MM))

    @property
    def half_height(self) -> float:
        return max(self.plate_height / 2, self.foot / 2, LEAST_EDGE_MM)


@dataclass(frozen=True, slots=True)
class FrontPlan:
    """What one pull does on one front: the holes it wants, and what becomes of the old ones."""

    front: str
    centres: tuple[Point, ...]
    reused: tuple[Point, ...]
    covered: tuple[Point, ...]
    to_fill: tuple[Point, ...]
    shows: bool
    apart: tuple[float, ...] = ()
    """For each pull that sits in two old holes: how far these are apart, mm."""

    @property
    def to_drill(self) -> int:
        """New holes that no old one serves."""
        return sum(not any(_serves(c, hole) for hole in self.reused) for c in self.centres)

    @property
    def showing(self) -> int:
        """Filled holes that will be seen."""
        return len(self.to_fill) if self.shows else 0


def judge(pull: Pull, front: OldFront, centres: tuple[Point, ...]) -> FrontPlan:
    """What becomes of each old hole when the pulls of a front sit at these centres."""
    reused: list[Point] = []
    covered: list[Point] = []
    to_fill: list[Point] = []
    for hole in front.holes:
        away = min(_apart(hole, c) for c in centres)
        if takes_screw(away):
            reused.append(hole)
        elif away <= pull.foot / 2 or _under_plate(pull, centres, hole):
            covered.append(hole)
        else:
            to_fill.append(hole)
    return FrontPlan(
        front.name,
        centres,
        tuple(reused),
        tuple(covered),
        tuple(to_fill),
        front.shows_filler,
        tuple(_old_spacings(pull, centres, reused)),
    )


def _old_spacings(
    pull: Pull, centres: tuple[Point, ...], reused: Sequence[Point]
) -> Iterator[float]:
    """How far apart the old holes are that a pull sits in with both its screws."""
    if not pull.spacing / 2:
        return
    for left, right in zip(centres[::2], centres[1::2], strict=True):
        ends = [[h for h in reused if _serves(c, h)] for c in (left, right)]
        if all(ends):
            a, b = (
                min(near, key=lambda hole: _apart(hole, centre))
                for near, centre in zip(ends, (left, right), strict=True)
            )
            yield _apart(a, b)


def _serves(centre: Point, hole: Point) -> bool:
    return takes_screw(_apart(hole, centre))


def _apart(a: Point, b: Point) -> float:
    return hypot(a.x - b.x, a.y - b.y)


def _under_plate(pull: Pull, centres: tuple[Point, ...], hole: Point) -> bool:
    step = 2 if pull.spacing else 1
    middles = (sum(c.x for c in centres[i : i + step]) / step for i in range(0, len(centres), step))
    down = abs(hole.y - centres[0].y)
    return any(
        abs(hole.x - x) < pull.plate_width / 2 and down < pull.plate_height / 2 for x in middles
    )


def bad_front(front: OldFront) -> Refused | None:
    """Sizes and holes that cannot be."""
    bad = first(
        amount(width_of(front.name), front.width, above=0, most=5_000, unit="mm"),
        amount(height_of(front.name), front.height, above=0, most=5_000, unit="mm"),
        amount(f"pulls on {front.name}", front.count, least=0, most=2),
    )
    return bad or first(*(_bad_hole(front, hole) for hole in front.holes))


def _bad_hole(front: OldFront, hole: Point) -> Refused | None:
    bad = first(amount(f"hole of {front.name}", hole.x), amount(f"hole of {front.name}", hole.y))
    if bad or (0 <= hole.x <= front.width and 0 <= hole.y <= front.height):
        return bad

    def why(measures: Measures) -> str:
        across, down = (show_limit(mm, "mm", measures) for mm in (hole.x, hole.y))
        return f"at {across} from the left, {down} from the top lies outside the front"

    return because(f"hole of {front.name}", why)
