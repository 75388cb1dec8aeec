"""Whose drawer is this: orphans matched to open homes by size, old marks and wear.

The cost of a match is how much less likely its play is than the usual one (`Play.misfit`, a
logarithm), plus a fee for a mark that contradicts. So a margin of 2 means that the second best is
about seven times less likely. A home is told apart when it is likelier by `ODDS` than all others
together, and not before the play of a known drawer was measured, unless it alone bears the
orphan's mark. `tests.bench.orphans` is the simulation that holds this to one wrong in twenty. A
size that a home lacks costs what a right match costs on average.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations
from math import exp, inf, log

from partsbench.core.outcomes import Refused
from partsbench.core.sums import units
from partsbench.core.sums.assignment import Assignment, assign
from partsbench.core.sums.next_size import (
    SOME_PAIR,
    WORTH,
    Measurement,
    best_of,
    known_drawers,
    missing_sizes,
)
from partsbench.core.sums.plays import (
    TOO_BIG_MM,
    KnownPair,
    KnownSizes,
    LearntPlay,
    ends,
    gap,
    learn,
    learnt_from,
    spoilt,
)
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.wording import capital, sentences

METHOD_SOURCE = "least-cost assignment (Hungarian method); play by Student's distribution"
ODDS = 30.0
"""So many times as likely as all other homes together; of such answers one in twenty is wrong where
openings are alike and sizes are read amiss, fewer elsewhere (`tests.bench.orphans`)."""
TELL = log(ODDS)
"""A smaller margin does not tell two answers apart."""
LACKING = 0.5
"""Cost of a size that a home lacks."""
MARK_FEE = 6.0
"""A mark that is not its own home's: once in 400 (our own assumption)."""
WEAR_FEE = 1.0

UNLIKE = 4.0
"""A dearer misfit in one direction is unlike known drawers: a slip, or a stranger."""
SAID = 3
"""More pairs than this are counted, not read out."""
SHUT_OUT = 10_000.0
"""Cost of a match that cannot be."""
NO_PLAY = "how much play these drawers have is not known"
FIRST_OF_ALL = "measure it, and a drawer whose home is known with its opening"


class Doubt(StrEnum):
    """Why the home of an orphan is not told apart."""

    NOWHERE = "it fits nowhere"
    NO_PLAY = NO_PLAY
    UNLIKE = "known drawers have other play"
    RIVAL = "another home is not ruled out"


@dataclass(frozen=True, slots=True)
class Match(units.Worded):
    """Where one orphan most likely belongs; `home` is None when it fits nowhere."""

    orphan: str
    home: str | None
    runner_up: str | None
    margin: float
    play_mm: float | None
    doubt: Doubt | None = None
    next_measurement: Measurement | None = None

    @property
    def told_apart(self) -> bool:
        """Whether the home is clear: of such answers at most one in twenty is wrong."""
        return self.doubt is None

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """`Most likely opening 6 (1.9 mm play). Opening 4 is not ruled out: measure ...`"""
        if self.home is None:
            return f"{self.orphan} fits no open home: it may belong to another piece."
        home = self.home
        if self.play_mm is not None:
            home = f"{home} ({units.show_gap(self.play_mm, measures)} play)"
        asked = self.next_measurement.asked if self.next_measurement else ""
        if self.doubt is Doubt.NO_PLAY:
            first = asked or FIRST_OF_ALL
            return f"Likeliest {home}, not told apart: {NO_PLAY}. First {first}."
        if self.doubt is Doubt.UNLIKE:
            again = "take its sizes again, it may belong to another piece"
            return f"Likeliest {home}, not told apart: {self.doubt}; {again}."
        said = f"Most likely {home}."
        if self.doubt is None:
            return said
        if self.runner_up is None:
            first = f"First {asked}." if asked else "Another orphan may belong there."
            return sentences(said, first)
        other, then = capital(self.runner_up), asked or "look for an old mark, or try both"
        return sentences(said, f"{other} is not ruled out: {then}.")


@dataclass(frozen=True, slots=True)
class Matches(units.Worded):
    """All orphans matched together, by the play of the piece's known drawers."""

    matches: tuple[Match, ...]
    ambiguous: tuple[tuple[str, str], ...]
    next_measurement: Measurement | None
    plays: Mapping[str, LearntPlay]
    """The play by direction, where it is learnt and an orphan has a size."""
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = (METHOD_SOURCE,)

    def say(self, measures: units.Measures = units.Measures.METRIC) -> str:
        """One sentence for one orphan; for several a count, and what to measure next."""
        learnt = learnt_from(tuple(self.plays.values()), measures)
        if len(self.matches) == 1:
            return f"{self.matches[0].say(measures)} {learnt}".strip()
        clear = sum(m.told_apart for m in self.matches)
        said = [f"{clear} of {len(self.matches)} orphans have one clear home."]
        if any(m.doubt is Doubt.NO_PLAY for m in self.matches):
            said.append(f"{capital(NO_PLAY)}.")
        said += [f"{a} and {b} cannot be told apart." for a, b in self.ambiguous[:SAID]]
        if len(self.ambiguous) > SAID:
            said.append(f"Nor can {len(self.ambiguous) - SAID} more pairs.")
        if self.next_measurement:
            said.append(self.next_measurement.sentence)
        return " ".join([*said, *([learnt] if learnt else [])])


@dataclass(frozen=True, slots=True)
class _Question:
    """Who looks for a home among which, and by what play."""

    orphans: Sequence[KnownSizes]
    homes: Sequence[KnownSizes]
    known: Sequence[KnownPair]
    plays: Mapping[str, LearntPlay]
    costs: Sequence[Sequence[float]]
    found: Assignment

    def match(self, row: int) -> Match:
        """The answer for one orphan."""
        orphan, column, rival = self.orphans[row], self.found.columns[row], self.found.rival(row)
        if column >= len(self.homes) or self.costs[row][column] >= SHUT_OUT:
            return Match(orphan.name, None, None, inf, None, Doubt.NOWHERE)
        home, other = self.homes[column], None
        margin = rival.margin if rival.margin < SHUT_OUT / 2 else inf
        if margin < inf and rival.column is not None and rival.column < len(self.homes):
            other = self.homes[rival.column]
        shared = home.sizes.keys() & orphan.sizes.keys()
        play = min((home.sizes[s] - orphan.sizes[s] for s in shared), default=None)
        doubt = self.doubt(row, column)
        following = self.following(doubt, orphan, home, other)
        runner_up = other.name if other else None
        return Match(orphan.name, home.name, runner_up, margin, play, doubt, following)

    def doubt(self, row: int, column: int) -> Doubt | None:
        """What keeps this home from being clear."""
        orphan, home = self.orphans[row], self.homes[column]
        gaps = {d: g for d in self.plays if (g := gap(home, orphan, d))}
        marked = [h.name for h in self.homes if h.marks & orphan.marks]
        learnt = [d for d in gaps if self.plays[d].seen]
        if not learnt and marked != [home.name]:
            return Doubt.NO_PLAY
        if any(self.plays[d].misfit(gaps[d]) > UNLIKE for d in learnt):
            return Doubt.UNLIKE
        others = enumerate(self.found.margins[row])
        against = sum(exp(-margin) for j, margin in others if j != column)
        # A slip in the orphan's size puts all homes off but one that lacks it.
        untried = any(ends(orphan, d) and self.measured(d) for d in self.plays if d not in gaps)
        return Doubt.RIVAL if untried or against * ODDS > 1 else None

    def measured(self, direction: str) -> bool:
        """Whether any home has a size in that direction."""
        return any(ends(home, direction) for home in self.homes)

    def following(
        self, doubt: Doubt | None, orphan: KnownSizes, home: KnownSizes, other: KnownSizes | None
    ) -> Measurement | None:
        """What to measure next: the play first, then what parts home and runner-up best."""
        at = (orphan, home, other or home)
        to_learn = list(known_drawers(*at, self.known, self.plays))
        if doubt is Doubt.NO_PLAY:
            to_learn = to_learn or list(known_drawers(*at, [SOME_PAIR], self.plays))
            missing = missing_sizes(*at, self.homes, self.plays)
            return best_of(to_learn or list(missing))
        if doubt is not Doubt.RIVAL:
            return None
        best = best_of([*missing_sizes(*at, self.homes, self.plays), *to_learn])
        return best if best and best.expected_margin > WORTH else None

    def ambiguous(self) -> Iterator[tuple[str, str]]:
        """Pairs of orphans that could change homes at less than the telling margin."""
        costs, columns = self.costs, self.found.columns
        for i, j in combinations(range(len(self.orphans)), 2):
            at, there = columns[i], columns[j]
            if max(at, there) >= len(self.homes):
                continue
            swapped = costs[i][there] + costs[j][at] - costs[i][at] - costs[j][there]
            if swapped < TELL and max(costs[i][at], costs[j][there]) < SHUT_OUT:
                yield self.orphans[i].name, self.orphans[j].name


def match(
    orphans: Sequence[KnownSizes], homes: Sequence[KnownSizes], known: Sequence[KnownPair] = ()
) -> Matches | Refused:
    """The likeliest home of each orphan, all taken together, each with its runner-up and margin.

    `known` are openings and the drawers that live there, from which the play is learnt.
    """
    every = (*orphans, *homes, *(one for pair in known for one in pair))
    bad = first(*map(_checked, every))
    if bad:
        return bad
    if not orphans or not homes:
        return wrong("orphans" if not orphans else "open homes", "there are none")
    plays = learn(known)
    costs = [[cost(orphan, home, plays) for home in homes] for orphan in orphans]
    nowhere = max(0, len(orphans) - len(homes))
    found = assign([[*row, *[SHUT_OUT] * nowhere] for row in costs])
    asked = _Question(orphans, homes, known, plays, costs, found)
    matches = tuple(map(asked.match, range(len(orphans))))
    wanted = (m.next_measurement for m in matches)
    return Matches(
        matches,
        tuple(asked.ambiguous()),
        best_of([one for one in wanted if one]),
        {d: play for d, play in plays.items() if play.seen and any(ends(o, d) for o in orphans)},
        (*_play_lacks(matches), *spoilt(known), *_lacks(orphans, homes)),
    )


def cost(orphan: KnownSizes, home: KnownSizes, plays: Mapping[str, LearntPlay]) -> float:
    """How much less likely this home is than one that all agrees with (a logarithm)."""
    total = 0.0
    for direction, play in plays.items():
        found = gap(home, orphan, direction)
        compared = 0 if found is None else 1 if found.uneven is None else 2
        total += LACKING * (len(ends(orphan, direction)) - compared)
        if found:
            total += play.misfit(found) + SHUT_OUT * (found.least < -TOO_BIG_MM)
    if orphan.marks and home.marks and not orphan.marks & home.marks:
        total += MARK_FEE
    return total + WEAR_FEE * len(orphan.wear ^ home.wear) * bool(orphan.wear and home.wear)


def _checked(known: KnownSizes) -> Refused | None:
    sizes = known.sizes.items()
    return first(
        *(
            amount(f"{size} of {known.name}", mm, above=0, most=10_000, unit="mm")
            for size, mm in sizes
        )
    )


def _play_lacks(matches: Sequence[Match]) -> Iterator[str]:
    """First of all, what the play would be learnt from."""
    unlearnt = [m for m in matches if m.doubt is Doubt.NO_PLAY]
    asked = best_of([m.next_measurement for m in unlearnt if m.next_measurement])
    if unlearnt:
        yield asked.what if asked else SOME_PAIR[1].name


def _lacks(orphans: Sequence[KnownSizes], homes: Sequence[KnownSizes]) -> tuple[str, ...]:
    every = sorted({size for known in (*orphans, *homes) for size in known.sizes})
    return tuple(
        f"{size} of {known.name}"
        for known in (*orphans, *homes)
        for size in every
        if size not in known.sizes
    )
