"""Whose drawer is this: orphans matched to open homes by size, old marks and wear.

The cost of a match is half the sum of squared misfits (misfit of a size: how far its play is from
the usual play, in spreads), plus a fee for a mark that contradicts. So a margin of 2 means that
the second best is about seven times less likely, if spreads are right: a rule of thumb, not a
probability. A size that a home lacks costs what a right match costs on average (0.5).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from math import inf
from statistics import median, pvariance

from partsbench.core.sums import units
from partsbench.core.sums.assignment import Assignment, assign
from partsbench.core.sums.refusal import Refusal, amount, first

METHOD_SOURCE = "least-cost assignment (Hungarian method); spreads are common practice"
TELL = 2.0
"""A smaller margin does not tell two answers apart."""
SPREAD_MM = 1.0
"""What play varies by from drawer to drawer, and measuring with it: common practice."""
USUAL_PLAY_MM = 2.0
"""Play of an old drawer in its opening, until known pairs of the piece tell better."""
TOO_BIG_MM = 1.5
"""A drawer larger than its opening by more than this does not go in, season or not."""
MARK_FEE = 4.0
WEAR_FEE = 1.0
SAID = 3
"""More pairs than this are counted, not read out."""
SHUT_OUT = 10_000.0
"""Cost of a match that cannot be."""


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of an orphan or of an open home: sizes in mm, old marks, wear in short words.

    For a home, sizes are those of the opening, marks what its own drawer is recorded to bear.
    """

    name: str
    sizes: Mapping[str, float] = field(default_factory=dict)
    marks: frozenset[str] = frozenset()
    wear: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Measurement:
    """The next size to take, on what, and the margin it is expected to bring."""

    size: str
    of: tuple[str, ...]
    expected_margin: float

    @property
    def sentence(self) -> str:
        """`Measure the left height of opening 4.`"""
        return f"Measure the {self.size} of {' and '.join(self.of)}."


@dataclass(frozen=True, slots=True)
class Match:
    """Where one orphan most likely belongs; `home` is None when it fits nowhere."""

    orphan: str
    home: str | None
    runner_up: str | None
    margin: float
    play_mm: float | None
    next_measurement: Measurement | None = None

    @property
    def told_apart(self) -> bool:
        """Whether the runner-up is clearly worse."""
        return self.margin >= TELL

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`Most likely opening 6 (1.9 mm play). Opening 4 is almost as good: measure ...`"""
        if self.home is None:
            return f"{self.orphan} fits no open home: it may belong to another piece."
        play = "" if self.play_mm is None else f" ({units.show_gap(self.play_mm, measures)} play)"
        said = f"Most likely {self.home}{play}."
        if self.runner_up is None or self.told_apart:
            return said
        said += f" {self.runner_up[:1].upper()}{self.runner_up[1:]} is almost as good"
        if self.next_measurement is None:
            return f"{said}: look for an old mark, or try both."
        taken = self.next_measurement
        return f"{said}: measure the {taken.size} of {' and '.join(taken.of)}."

    @property
    def sentence(self) -> str:
        """The answer in metric units."""
        return self.say()


@dataclass(frozen=True, slots=True)
class Matches:
    """All orphans matched together."""

    matches: tuple[Match, ...]
    ambiguous: tuple[tuple[str, str], ...]
    next_measurement: Measurement | None
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = (METHOD_SOURCE,)

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """One sentence for one orphan; for several a count, and what to measure next."""
        if len(self.matches) == 1:
            return self.matches[0].say(measures)
        clear = sum(m.home is not None and m.told_apart for m in self.matches)
        said = f"{clear} of {len(self.matches)} orphans have one clear home."
        for one, other in self.ambiguous[:SAID]:
            said += f" {one} and {other} cannot be told apart."
        if len(self.ambiguous) > SAID:
            said += f" Nor can {len(self.ambiguous) - SAID} more pairs."
        return f"{said} {self.next_measurement.sentence}" if self.next_measurement else said

    @property
    def sentence(self) -> str:
        """The answer in metric units."""
        return self.say()


def usual_play(pairs: Sequence[tuple[Known, Known]]) -> dict[str, float]:
    """The median play of drawers known to be at home (home, drawer), for each size in mm."""
    plays: dict[str, list[float]] = {}
    for home, drawer in pairs:
        for size in home.sizes.keys() & drawer.sizes.keys():
            plays.setdefault(size, []).append(home.sizes[size] - drawer.sizes[size])
    return {size: median(seen) for size, seen in plays.items()}


def match(
    orphans: Sequence[Known], homes: Sequence[Known], play: Mapping[str, float] | None = None
) -> Matches | Refusal:
    """The likeliest home of each orphan, all taken together, each with its runner-up and margin.

    `play` is the usual play in mm per size (`usual_play`), 2 mm where it says nothing.
    """
    bad = first(*(_checked(known) for known in (*orphans, *homes)))
    if bad:
        return bad
    if not orphans or not homes:
        return Refusal("orphans" if not orphans else "open homes", "there are none")
    expected = play or {}
    costs = [[_cost(orphan, home, expected) for home in homes] for orphan in orphans]
    nowhere = max(0, len(orphans) - len(homes))
    found = assign([[*row, *[SHUT_OUT] * nowhere] for row in costs])
    matches = tuple(_match(row, orphans, homes, found, costs) for row in range(len(orphans)))
    doubtful = [m for m in matches if m.next_measurement is not None]
    best = max(
        (m.next_measurement for m in doubtful if m.next_measurement),
        key=lambda m: (m.expected_margin, -len(m.of)),
        default=None,
    )
    return Matches(matches, tuple(_ambiguous(orphans, found, costs)), best, _lacks(orphans, homes))


def _match(
    row: int,
    orphans: Sequence[Known],
    homes: Sequence[Known],
    found: Assignment,
    costs: Sequence[Sequence[float]],
) -> Match:
    orphan, column, rival = orphans[row], found.columns[row], found.rival(row)
    if column >= len(homes) or costs[row][column] >= SHUT_OUT:
        return Match(orphan.name, None, None, inf, None)
    home = homes[column]
    shared = home.sizes.keys() & orphan.sizes.keys()
    play = min((home.sizes[s] - orphan.sizes[s] for s in shared), default=None)
    if rival.column is None or rival.column >= len(homes) or rival.margin >= SHUT_OUT / 2:
        return Match(orphan.name, home.name, None, inf, play)
    other = homes[rival.column]
    measurement = None if rival.margin >= TELL else _next(orphan, home, other, homes)
    return Match(orphan.name, home.name, other.name, max(rival.margin, 0.0), play, measurement)


def _cost(orphan: Known, home: Known, expected: Mapping[str, float]) -> float:
    total = 0.0
    for size, mm in orphan.sizes.items():
        if size not in home.sizes:
            total += 0.5
            continue
        play = home.sizes[size] - mm
        if play < -TOO_BIG_MM:
            total += SHUT_OUT
        misfit = (play - expected.get(size, USUAL_PLAY_MM)) / SPREAD_MM
        total += misfit * misfit / 2
    if orphan.marks and home.marks and not orphan.marks & home.marks:
        total += MARK_FEE
    return total + WEAR_FEE * len(orphan.wear ^ home.wear) * bool(orphan.wear and home.wear)


def _next(orphan: Known, home: Known, other: Known, homes: Sequence[Known]) -> Measurement | None:
    """The missing size that should part these two homes best.

    Known homes: half their squared difference, in spreads. A home not yet measured: what the
    piece's openings differ by on average.
    """
    options = []
    for size in sorted({s for known in (orphan, *homes) for s in known.sizes}):
        missing = tuple(k.name for k in (orphan, home, other) if size not in k.sizes)
        if not missing:
            continue
        if size in home.sizes and size in other.sizes:
            apart = (home.sizes[size] - other.sizes[size]) ** 2
        else:
            seen = [h.sizes[size] for h in homes if size in h.sizes]
            apart = 2 * pvariance(seen) if len(seen) > 1 else SPREAD_MM**2
        options.append(Measurement(size, missing, apart / SPREAD_MM**2 / 2))
    best = max(options, key=lambda m: (m.expected_margin, -len(m.of)), default=None)
    return best if best and best.expected_margin > 0 else None


def _ambiguous(
    orphans: Sequence[Known], found: Assignment, costs: Sequence[Sequence[float]]
) -> Iterator[tuple[str, str]]:
    """Pairs of orphans that could change homes at less than the telling margin."""
    for i, j in combinations(range(len(orphans)), 2):
        at, there = found.columns[i], found.columns[j]
        if max(at, there) >= len(costs[0]):
            continue
        swapped = costs[i][there] + costs[j][at] - costs[i][at] - costs[j][there]
        if swapped < TELL and max(costs[i][at], costs[j][there]) < SHUT_OUT:
            yield orphans[i].name, orphans[j].name


def _checked(known: Known) -> Refusal | None:
    sizes = known.sizes.items()
    return first(
        *(
            amount(f"{size} of {known.name}", mm, above=0, most=10_000, unit="mm")
            for size, mm in sizes
        )
    )


def _lacks(orphans: Sequence[Known], homes: Sequence[Known]) -> tuple[str, ...]:
    every = sorted({size for known in (*orphans, *homes) for size in known.sizes})
    return tuple(
        f"{size} of {known.name}"
        for known in (*orphans, *homes)
        for size in every
        if size not in known.sizes
    )
