"""Places that fronts can have in common for their pulls, and which of them are worth a try."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from partsbench.core.sums import units

LEAST_EDGE_MM = 10.0
"""Wood left between a hole's centre and an edge: common practice."""
MOST_TRIED = 24
"""Places tried beside the usual ones, those that meet most old holes: what keeps it quick."""


@dataclass(frozen=True, slots=True)
class Along:
    """A distance that fronts have in common: so many mm, or a share of each front's own size."""

    mm: float = 0.0
    share: float = 0.0

    def of(self, size: float) -> float:
        return self.mm + self.share * size


MIDDLE = Along(share=1 / 2)
QUARTER = Along(share=1 / 4)
SIXTH = Along(share=1 / 6)
SHARES = {MIDDLE: "in the middle", QUARTER: "a quarter", SIXTH: "a sixth"}


@dataclass(frozen=True, slots=True)
class PullLook:
    """Where pulls sit on every front of a group; `aside` is for fronts that take two."""

    group: str
    down: Along
    aside: Along | None

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`in the middle of the height`, `62 mm from the top; two a quarter in from the sides`."""
        if self.down == MIDDLE:
            said = "in the middle of the height"
        else:
            said = f"{units.show_length(self.down.mm, measures, 1)} from the top"
        if self.aside is None:
            return said
        far = SHARES.get(self.aside) or units.show_length(self.aside.mm, measures, 1)
        return f"{said}; two {far} in from the sides"


def likely(
    wanted: Sequence[float], least: float, most: float, reach: float, met: Callable[[float], int]
) -> list[float]:
    """Places from `least` to `most` near what is wanted, those that meet most old holes first."""
    if least > most:
        return []

    def best(places: Iterable[float]) -> list[float]:
        inside = {min(max(mm, least), most) for mm in places}
        return sorted(inside, key=lambda mm: (-met(mm), mm))[:MOST_TRIED]

    own = best(round(mm, 2) for mm in wanted)
    between = [(a + b) / 2 for a, b in combinations(own, 2) if abs(a - b) <= 2 * reach]
    return best([*own, *between])
