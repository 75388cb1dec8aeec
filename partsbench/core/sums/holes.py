"""What a candidate pull does with the holes that the fronts of a piece have.

Fronts that are seen together get their pulls alike: one distance from the top (or all in the
middle), one from the sides. What no common place meets is filled, however well it would suit one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.sums.fronts import FrontPlan, OldFront, Point, Pull, bad_front, judge
from partsbench.core.sums.places import MIDDLE, QUARTER, SIXTH, Along, PullLook, likely
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.sums.spacings import REUSED_WITHIN_MM
from partsbench.core.wording import clauses, listed, plural


@dataclass(frozen=True, slots=True)
class HolePlan:
    """One candidate pull on all fronts, alike on those of a group."""

    pull: str
    fronts: tuple[FrontPlan, ...]
    looks: tuple[PullLook, ...] = ()
    lacks: tuple[str, ...] = ()
    sources: tuple[str, ...] = ("the measured holes of each front",)

    @property
    def apart(self) -> tuple[float, ...]:
        """The different spacings of the old holes that pulls sit in, mm to 0.05."""
        return tuple(sorted({round(mm * 20) / 20 for plan in self.fronts for mm in plan.apart}))

    @property
    def rank(self) -> tuple[int, int, int]:
        """Less is better: fillings that show, fillings, holes to drill."""
        return _rank(self.fronts)

    @property
    def sentence(self) -> str:
        """`96 mm uses or covers 10 of 14 old holes; 4 fillings show on D1, D2.`"""
        old = sum(len(p.reused) + len(p.covered) + len(p.to_fill) for p in self.fronts)
        gone = old - self.rank[1]
        said = f"{self.pull} uses or covers {gone} of {old} old holes"
        seen = [plan.front for plan in self.fronts if plan.showing]
        if not seen:
            return f"{said}; none shows."
        count = self.rank[0]
        on = listed(seen)
        many = f"{count} fillings show on {on}"
        return f"{clauses([said, plural(count, f'1 filling shows on {on}', many)])}."


def plan_holes(pull: Pull, fronts: Sequence[OldFront]) -> HolePlan | Refused:
    """The common place of the pull that leaves the least to be seen on all fronts together.

    Tried are the usual places (the middle; two a quarter or a sixth in), the places of old holes,
    and the middles between two of them, at most `places.MOST_TRIED` each way.
    """
    bad = first(
        amount("spacing", pull.spacing, least=0, most=1000, unit="mm"),
        amount("plate width", pull.plate_width, least=0, most=1000, unit="mm"),
        amount("plate height", pull.plate_height, least=0, most=1000, unit="mm"),
        amount("foot", pull.foot, least=0, most=1000, unit="mm"),
        amount("pulls on a front", pull.count, least=1, most=2),
        *(bad_front(front) for front in fronts),
        None if fronts else wrong("fronts", "there are none"),
    )
    if bad:
        return bad
    plans: dict[str, FrontPlan] = {}
    looks = []
    for group in dict.fromkeys(front.group for front in fronts):
        found = _alike(pull, [front for front in fronts if front.group == group])
        if isinstance(found, Refused):
            return found
        looks.append(found[0])
        plans |= {plan.front: plan for plan in found[1]}
    return HolePlan(pull.name, tuple(plans[front.name] for front in fronts), tuple(looks))


def _alike(
    pull: Pull, fronts: Sequence[OldFront]
) -> tuple[PullLook, tuple[FrontPlan, ...]] | Refused:
    """One look for fronts that are seen together, and what it does on each."""
    small = next((front.name for front in fronts if not _fits(pull, front)), None)
    if small:
        return wrong(pull.name, f"does not fit on {small}")
    double = [front for front in fronts if _count(pull, front) == 2]
    lines = _lines(fronts)
    downs, asides = _downs(pull, fronts), _asides(pull, double) if double else [None]
    # Hundreds of looks are compared, so what a line and a side mean for a hole is reckoned once.
    below = {down: _below(pull, fronts, down, lines) for down in downs}
    beside = {aside: _beside(pull, fronts, aside) for aside in asides}
    shows = [front.shows_filler for front in fronts for _ in front.holes]
    ranked = [
        (_left(pull, shows, beside[aside], below[down]), PullLook(fronts[0].group, down, aside))
        for down in downs
        for aside in asides
    ]
    best = min(ranked, key=_first)[1]
    return best, tuple(judge(pull, front, _centres(pull, front, best, lines)) for front in fronts)


def _downs(pull: Pull, fronts: Sequence[OldFront]) -> list[Along]:
    """The middle, then distances from the top at which the pull lies on every front."""
    top, low = pull.half_height, min(front.height for front in fronts) - pull.half_height
    at = [hole.y for front in fronts for hole in front.holes]
    reach = max(REUSED_WITHIN_MM, pull.half_height)

    def met(y: float) -> int:
        return sum(abs(mm - y) <= reach for mm in at)

    return [MIDDLE, *(Along(mm) for mm in likely(at, top, low, reach, met))]


def _asides(pull: Pull, fronts: Sequence[OldFront]) -> list[Along | None]:
    """Two pulls: shares of the width, then distances from the sides, that suit every front.

    A quarter suits wherever two pulls fit side by side.
    """
    half, low = pull.spacing / 2, pull.half_width
    high = min(front.width for front in fronts) / 2 - low
    at = [min(hole.x, front.width - hole.x) for front in fronts for hole in front.holes]
    plate, foot = pull.plate_width / 2, max(REUSED_WITHIN_MM, pull.foot / 2)

    def met(x: float) -> int:
        return sum(abs(mm - x) < plate or abs(abs(mm - x) - half) <= foot for mm in at)

    wanted = dict.fromkeys((-half, half, 0.0) if plate else (-half, half))
    places = likely([mm + step for mm in at for step in wanted], low, high, max(plate, foot), met)
    sixth = [SIXTH] if all(SIXTH.of(front.width) >= low for front in fronts) else []
    return [QUARTER, *sixth, *(Along(mm) for mm in places)]


def _lines(fronts: Sequence[OldFront]) -> Mapping[str, float]:
    """The height that the fronts of each row have on average: their middles are one line."""
    rows: dict[str, list[float]] = {}
    for front in fronts:
        rows.setdefault(front.row or front.name, []).append(front.height)
    return {row: sum(heights) / len(heights) for row, heights in rows.items()}


def _count(pull: Pull, front: OldFront) -> int:
    return front.count or pull.count


def _fits(pull: Pull, front: OldFront) -> bool:
    room = front.width / _count(pull, front)
    return 2 * pull.half_width <= room and 2 * pull.half_height <= front.height


def _line(pull: Pull, front: OldFront, down: Along, lines: Mapping[str, float]) -> float:
    line = down.of(lines[front.row or front.name])
    return min(max(line, pull.half_height), front.height - pull.half_height)


def _middles(pull: Pull, front: OldFront, aside: Along | None) -> tuple[float, ...]:
    """How far from the left the middle of each pull of a front lies."""
    if aside is None or _count(pull, front) == 1:
        return (front.width / 2,)
    x = aside.of(front.width)
    return x, front.width - x


def _across(pull: Pull, middles: Sequence[float]) -> list[float]:
    """How far from the left each hole lies that the pulls want."""
    half = pull.spacing / 2
    return [middle + side for middle in middles for side in ((-half, half) if half else (0.0,))]


def _centres(
    pull: Pull, front: OldFront, look: PullLook, lines: Mapping[str, float]
) -> tuple[Point, ...]:
    y = _line(pull, front, look.down, lines)
    return tuple(Point(x, y) for x in _across(pull, _middles(pull, front, look.aside)))


def _below(
    pull: Pull, fronts: Sequence[OldFront], down: Along, lines: Mapping[str, float]
) -> list[float]:
    """How far above or below the line each old hole lies."""
    return [
        abs(hole.y - _line(pull, front, down, lines)) for front in fronts for hole in front.holes
    ]


def _beside(
    pull: Pull, fronts: Sequence[OldFront], aside: Along | None
) -> list[tuple[float, tuple[int, float], bool]]:
    """For each old hole: how far to the side of the next centre, which, and if under a plate."""
    found = []
    for place, front in enumerate(fronts):
        middles = _middles(pull, front, aside)
        centres = _across(pull, middles)
        for hole in front.holes:
            off, centre = min((abs(hole.x - x), x) for x in centres)
            under = any(abs(hole.x - x) < pull.plate_width / 2 for x in middles)
            found.append((off, (place, centre), under))
    return found


def _left(
    pull: Pull,
    shows: Sequence[bool],
    beside: Sequence[tuple[float, tuple[int, float], bool]],
    below: Sequence[float],
) -> tuple[int, int, int]:
    """The rank of a look: fillings that show, fillings, and less the more centres are served."""
    near, foot, high = REUSED_WITHIN_MM**2, (pull.foot / 2) ** 2, pull.plate_height / 2
    showing = fill = 0
    served = set()
    for seen, (off, centre, under), down in zip(shows, beside, below, strict=True):
        away = off * off + down * down
        if away <= near:
            served.add(centre)
        elif away > foot and not (under and down < high):
            fill += 1
            showing += seen
    return showing, fill, -len(served)


def _first(ranked: tuple[tuple[int, int, int], PullLook]) -> tuple[int, int, int]:
    return ranked[0]


def _rank(plans: Sequence[FrontPlan]) -> tuple[int, int, int]:
    return (
        sum(plan.showing for plan in plans),
        sum(len(plan.to_fill) for plan in plans),
        sum(plan.to_drill for plan in plans),
    )
