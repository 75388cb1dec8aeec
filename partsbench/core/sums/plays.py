"""How much play the drawers of a piece have, learnt from those whose home is known.

Play is the opening's size less the drawer's. Each direction (width, height, depth) has its own: a
mean over both ends, and how much more one end has than the other. A mean and a spread learnt from
few drawers are themselves uncertain, so a misfit is weighed by Student's distribution: the fewer
the drawers, the wider it is and the heavier its tails. Before any drawer is known there is only
what old furniture has (our own assumption), enough to say what is likeliest and no more.

Other pieces of the shop are not asked: play goes by maker, age and wear. In the simulation of
`tests.bench.orphans` the play of three other pieces made every tenth clear home a wrong one where
openings are alike; one known drawer of the piece itself makes it one in forty.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import log1p, sqrt
from statistics import fmean

from partsbench.core.said_often import span
from partsbench.core.sums.units import Measures, show_gap
from partsbench.core.wording import clauses, notes, plural

SPREAD_MM = 1.0
"""What play varies by from drawer to drawer, and measuring with it: common practice."""
UNEVEN_MM = 1.5
"""How far play at one end is from that at the other, and measuring with it: our own assumption."""
SURE = 4.0
"""So many drawers of the piece's own count as much as those two figures."""
BEFORE_MM = {"width": (3.0, 2.0), "height": (3.0, 2.0), "depth": (10.0, 10.0)}
"""Play before any drawer is known, and what it varies by from piece to piece (assumed)."""
DIRECTIONS = tuple(BEFORE_MM)
TOO_BIG_MM = 1.5
"""A drawer larger than its opening by more than this does not go in, season or not."""


@dataclass(frozen=True, slots=True)
class KnownSizes:
    """What is known of a drawer or of an opening: sizes in mm, old marks, wear in short words.

    For an opening, marks are what its own drawer is recorded to bear. A size ends in its direction:
    `left height`, `depth`.
    """

    name: str
    sizes: Mapping[str, float] = field(default_factory=dict)
    marks: frozenset[str] = frozenset()
    wear: frozenset[str] = frozenset()


KnownPair = tuple[KnownSizes, KnownSizes]
"""An opening and the drawer that is known to live in it."""


@dataclass(frozen=True, slots=True)
class Gap:
    """Play of one drawer in one opening in one direction, mm.

    `uneven`: how much more it is at one end than at the other; None where only one was taken.
    """

    mean: float
    least: float
    uneven: float | None = None


@dataclass(frozen=True, slots=True)
class LearntPlay:
    """Play in one direction: `seen` of known drawers (none: not learnt), and what to expect, mm.

    The next drawer has `usual_mm`, give or take `spread_mm` (as a standard deviation) at
    `sure` degrees of freedom; its two ends differ by `uneven_mm` at `sure_of_ends`.
    """

    direction: str
    seen: tuple[Gap, ...]
    usual_mm: float
    spread_mm: float
    sure: float
    uneven_mm: float
    sure_of_ends: float

    @property
    def seen_mm(self) -> tuple[float, ...]:
        """The play of each known drawer."""
        return tuple(gap.mean for gap in self.seen)

    def misfit(self, gap: Gap) -> float:
        """How much less likely than the usual this play is: 0 for the usual, some 0.6 on average.

        The natural logarithm of how many times; about half the square of the spreads it is off by.
        """
        off, square = gap.mean - self.usual_mm, self.spread_mm**2
        if gap.uneven is None:
            return _weighed(off, square + self.uneven_mm**2 / 4, self.sure)
        uneven = _weighed(gap.uneven, self.uneven_mm**2, self.sure_of_ends)
        return _weighed(off, square, self.sure) + uneven


def learn(pairs: Sequence[KnownPair]) -> dict[str, LearntPlay]:
    """The play in each direction from known drawers; pairs that cannot be true teach nothing."""
    gaps = {d: [g for pair in pairs if (g := sound(pair, d))] for d in DIRECTIONS}
    return {direction: expected(direction, seen) for direction, seen in gaps.items()}


def expected(direction: str, seen: Sequence[Gap]) -> LearntPlay:
    """The play to expect of the next drawer, from what was seen and what old furniture has."""
    plays = [gap.mean for gap in seen]
    uneven = [gap.uneven for gap in seen if gap.uneven is not None]
    middle = fmean(plays) if plays else 0.0
    sure, sure_of_ends = SURE + max(len(plays) - 1, 0), SURE + len(uneven)
    varies = (SURE * SPREAD_MM**2 + sum((mm - middle) ** 2 for mm in plays)) / sure
    differ = (SURE * UNEVEN_MM**2 + sum(mm * mm for mm in uneven)) / sure_of_ends
    before, unsure = BEFORE_MM[direction]
    weight, weight_before = len(plays) / varies, 1 / unsure**2
    usual = (weight * middle + weight_before * before) / (weight + weight_before)
    spread = sqrt(varies + 1 / (weight + weight_before))
    return LearntPlay(direction, tuple(seen), usual, spread, sure, sqrt(differ), sure_of_ends)


def sound(pair: KnownPair, direction: str) -> Gap | None:
    """The play of a known drawer; None while it is not measured, or as measured cannot go in."""
    found = gap(*pair, direction)
    return found if found and found.least >= -TOO_BIG_MM else None


def spoilt(pairs: Sequence[KnownPair]) -> tuple[str, ...]:
    """Known drawers that as measured cannot go into their openings: what to measure again."""
    return tuple(
        f"{direction} of {drawer.name} or {home.name} once more: as noted it does not go in"
        for home, drawer in pairs
        for direction in DIRECTIONS
        if gap(home, drawer, direction) and sound((home, drawer), direction) is None
    )


def learnt_from(plays: Sequence[LearntPlay], measures: Measures = Measures.METRIC) -> str:
    """`Play learnt from 3 drawers whose home is known: height 2.6 mm, 2.1 mm to 3.4 mm.`"""
    if not plays:
        return ""
    counts = sorted({len(play.seen) for play in plays})
    said = []
    for play in plays:
        least, middle, most = (show_gap(f(play.seen_mm), measures) for f in (min, fmean, max))
        spread = "" if least == most else span(least, most)
        said.append(notes(f"{play.direction} {middle}", spread))
    fewest, many = counts[0], counts[-1]
    from_these = f"{fewest} to {many} drawers"
    if fewest == many:
        from_these = plural(many, "1 drawer", f"{many} drawers")
    return f"Play learnt from {from_these} whose home is known: {clauses(said)}."


def gap(home: KnownSizes, drawer: KnownSizes, direction: str) -> Gap | None:
    """The play at the ends that both are measured at; None where there is none."""
    there, here = home.sizes, drawer.sizes
    both = [(mm, here[s]) for s, mm in there.items() if s in here and s.endswith(direction)]
    if not both:
        return None
    plays = [opening - own for opening, own in both]
    # Both ends alike of both is one size that was typed for both ends.
    uneven = plays[0] - plays[-1] if len(set(both)) > 1 else None
    return Gap(sum(plays) / len(plays), min(plays), uneven)


def ends(known: KnownSizes, direction: str) -> list[str]:
    """The sizes it has in that direction."""
    return [size for size in known.sizes if size.endswith(direction)]


def _weighed(off: float, square: float, sure: float) -> float:
    """Minus the logarithm of Student's density, less its least; `sure` are degrees of freedom."""
    return (sure + 1) / 2 * log1p(off * off / square / sure)
