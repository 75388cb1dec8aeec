"""How sure a day is: the plan gone through many times with hands that are now quicker, now slower.

Times of one kind of work are taken to spread like a logarithmic normal law: half of them above the
planned minutes, a slow one as many times longer as a quick one is shorter. Few own times know both
their middle and their spread badly; each run draws both anew (the middle with its standard error,
the spread by chi-square), so that a day said from five times is said with more caution than one
from fifty. Order and loads stay as planned, as somebody does who follows the plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, exp, log, pi, sqrt
from random import Random
from statistics import stdev

from partsbench.core.finish.effort import ENOUGH_OWN_TIMES
from partsbench.core.plan.bound import Stop, never
from partsbench.core.plan.walk import Walk
from partsbench.core.plan.workshop import ShopPlan, Stint, Workshop

USUAL_SPREAD = 0.25
"""Of the logarithm of the minutes, until there are enough own times: two of three times lie between
0.8 and 1.3 of the middle one. Trade experience, from memory."""

ENOUGH = ENOUGH_OWN_TIMES
"""Own times; fewer tell no spread."""

RUNS = 200


@dataclass(frozen=True, slots=True)
class PaceSpread:
    """How one kind of work spreads (standard deviation of the logarithm), from how many own times;
    0: ours."""

    sigma: float
    times: int = 0


@dataclass(frozen=True, slots=True)
class Chances:
    """The ends of each piece over all runs, the soonest first, in minutes."""

    ends: Mapping[str, tuple[int, ...]]

    def by(self, piece: str, share: float) -> int:
        """The minute by which the piece is done in so many of the runs: 0.8 is 8 of 10.

        Of n runs the i-th stands for i / (n + 1).
        """
        ends = self.ends[piece]
        return ends[min(len(ends), max(1, ceil(share * (len(ends) + 1)))) - 1]

    def kept(self, piece: str, by: int) -> float:
        """In what share of the runs the piece is done by then."""
        ends = self.ends[piece]
        return sum(end <= by for end in ends) / len(ends)


OURS = PaceSpread(USUAL_SPREAD)


def spread_of(times: Sequence[float]) -> PaceSpread:
    """The spread of own times; ours while there are too few."""
    if len(times) < ENOUGH or min(times) <= 0:
        return OURS
    return PaceSpread(stdev(map(log, times)), len(times))


def chances(
    shop: Workshop,
    plan: ShopPlan,
    spreads: Mapping[str, PaceSpread],
    seed: int = 0,
    runs: int = RUNS,
    stop: Stop = never,
) -> Chances:
    """The plan gone through so many times; spreads by the work of a stint, or by that and its kind
    of part (`sand D`), which wins."""
    random, keys = Random(seed), [_pace_of(s, spreads) for s in shop.stints]
    found: dict[str, list[int]] = {piece: [] for piece in shop.pieces}
    walk = Walk(shop, plan)
    for run in range(runs):
        if run and stop():
            break
        drawn = {key: _drawn(spreads.get(key, OURS), random) for key in dict.fromkeys(keys)}
        minutes = [_at_pace(s.minutes, *drawn[key], random)
                   for s, key in zip(shop.stints, keys, strict=True)]  # fmt: skip
        for piece, end in walk.ends(minutes).items():
            found[piece].append(end)
    return Chances({piece: tuple(sorted(ends)) for piece, ends in found.items()})


def _pace_of(stint: Stint, spreads: Mapping[str, PaceSpread]) -> str:
    own = f"{stint.work} {stint.kind}"
    return own if own in spreads else stint.work


def _drawn(spread: PaceSpread, random: Random) -> tuple[float, float]:
    """The middle (as a logarithm, 0: as planned) and the spread for one run."""
    if spread.times < ENOUGH:
        return random.gauss(0, spread.sigma / sqrt(ENOUGH)), spread.sigma
    free = spread.times - 1
    sigma = spread.sigma * sqrt(free / (2 * random.gammavariate(free / 2, 1)))
    # The standard error of the median of a few normal values (large n: 1.25 times the mean's).
    return random.gauss(0, sigma * sqrt(pi / (2 * free + pi))), sigma


def _at_pace(minutes: int, middle: float, sigma: float, random: Random) -> int:
    taken = minutes * exp(middle + random.gauss(0, sigma))
    return max(1, round(taken)) if minutes else 0
