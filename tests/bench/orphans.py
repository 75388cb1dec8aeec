"""How often a clear home is the wrong one: python -m tests.bench.orphans

Chests are drawn, not real. What they are drawn from is our own assumption, wide on purpose:

- 4 to 12 open homes, one to three orphans; openings all alike, alike in rows, or graduated. They
  differ from their plan by 0.3 to 3 mm and lean by up to 2 mm (standard deviations, each drawn anew
  for a chest); drawers follow the lean in part.
- Play is `play` in height, 0.6 to 1.4 of that in width, up to 15 mm more in depth. From drawer to
  drawer it varies by 0.2 mm to 0.2 mm and 0.3 of it, twice that in depth. No drawer is larger than
  its opening.
- A reading is off by 0.5 mm (standard deviation), and rounded to 1 mm or 1/32 in; one of 200 is a
  slip of 5 or 10 mm. Sizes are taken once, at both ends, or at one; openings lack one in 20.

Marks and wear are not drawn. Two more tables stand below: what would come of learning the play from
other pieces, and orphans that belong to none of the open homes (each clear one is wrong).
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import sqrt
from random import Random

from partsbench.core.sums.orphans import Matches, match
from partsbench.core.sums.plays import KnownSizes

PLAYS = (1.0, 2.0, 3.0, 4.0, 5.0)
KNOWN = (0, 1, 2, 3, 5, 8)
PATTERNS = ("alike", "rows", "graduated")
SEED = 20_260_101
READING_MM, SLIPS, LACKING = 0.5, 1 / 200, 1 / 20
ENDS = {"width": ("top width", "bottom width"), "height": ("left height", "right height"),
        "depth": ("depth",)}  # fmt: skip
NO_LESS_MM = 0.2

Exact = dict[str, float]
"""Sizes as they are, mm."""


@dataclass(frozen=True, slots=True)
class Chest:
    """What the shop has measured, and where each orphan truly belongs."""

    homes: list[KnownSizes]
    orphans: list[KnownSizes]
    pairs: list[tuple[KnownSizes, KnownSizes]]
    truth: dict[str, str]


@dataclass(slots=True)
class Tally:
    """Answers, clear ones among them, and wrong ones among those."""

    asked: int = 0
    clear: int = 0
    wrong: int = 0
    first: int = 0
    """Answers whose likeliest home was the right one, clear or not."""

    def add(self, other: Tally) -> None:
        """Count the other's in."""
        self.asked += other.asked
        self.clear += other.clear
        self.wrong += other.wrong
        self.first += other.first


class Maker:
    """One maker's way with one chest: plan, leans, play, and how it is measured."""

    def __init__(self, chance: Random, play: float, pattern: str) -> None:
        self.chance, self.pattern = chance, pattern
        self.plays = {
            "height": play,
            "width": play * chance.uniform(0.6, 1.4),
            "depth": play + chance.uniform(0, 15),
        }
        self.varies = {d: chance.uniform(0.2, 0.2 + 0.3 * play) for d in ENDS}
        self.varies["depth"] *= 2
        self.untrue = chance.uniform(0.3, 3)
        self.lean = {"height": chance.uniform(0, 2), "width": chance.uniform(0, 1.5), "depth": 0.0}
        self.follows = {d: chance.random() for d in ENDS}
        self.height, self.width = chance.uniform(90, 200), chance.uniform(250, 900)
        self.step, self.columns = chance.uniform(5, 30), chance.randint(1, 3)
        self.rule = chance.choice((1.0, 25.4 / 32))
        self.taken = {
            "width": chance.choice(("once", "both", "both")),
            "height": chance.choice(("once", "both", "both", "one")),
            "depth": chance.choice(("once", "never", "never")),
        }

    def planned(self, place: int) -> dict[str, float]:
        """The opening that the maker meant."""
        row = {"alike": 0, "rows": place // self.columns, "graduated": place}[self.pattern]
        return {"height": self.height + row * self.step, "width": self.width, "depth": 420.0}

    def opening(self, place: int) -> Exact:
        """The opening as it came out."""
        made = {}
        for size, mm in self.planned(place).items():
            came_out, lean = mm + self.chance.gauss(0, self.untrue), self.lean[size]
            for end in ENDS[size]:
                made[end] = came_out + self.chance.gauss(0, lean)
        return made

    def drawer(self, opening: Exact) -> Exact:
        """The drawer that was fitted to it."""
        made = {}
        for size, ends in ENDS.items():
            middle = sum(opening[end] for end in ends) / len(ends)
            play = self.chance.gauss(self.plays[size], self.varies[size])
            for end in ends:
                made[end] = middle + self.follows[size] * (opening[end] - middle) - play
            over = max(made[end] + NO_LESS_MM - opening[end] for end in ends)
            for end in ends:
                made[end] -= max(over, 0.0)
        return made

    def measured(self, name: str, true: Exact, lacking: float = 0.0) -> KnownSizes:
        """What the shop has of it."""
        sizes: dict[str, float] = {}
        for size, ends in ENDS.items():
            how = self.taken[size]
            if how == "never" or self.chance.random() < lacking:
                continue
            if how == "once":
                reading = self.read(sum(true[end] for end in ends) / len(ends))
                sizes |= dict.fromkeys(ends, reading)
            else:
                sizes |= {end: self.read(true[end]) for end in ends[: 1 if how == "one" else 2]}
        return KnownSizes(name, sizes)

    def read(self, mm: float) -> float:
        """One reading of the rule."""
        off = self.chance.gauss(0, READING_MM)
        if self.chance.random() < SLIPS:
            off += self.chance.choice((-10, -5, 5, 10))
        return round((mm + off) / self.rule) * self.rule


def chest(chance: Random, play: float, known: int, pattern: str) -> Chest:
    """A chest with 4 to 12 open homes, and so many more whose drawer is known."""
    maker, count = Maker(chance, play, pattern), chance.randint(4, 12)
    places = list(range(count + known))
    openings = [maker.opening(place) for place in places]
    homes = [maker.measured(f"opening {i}", openings[i], LACKING) for i in places]
    chance.shuffle(places)
    pairs = [(homes[i], maker.measured(f"D{i}", maker.drawer(openings[i]))) for i in places[count:]]
    truth = {f"orphan {i}": f"opening {i}" for i in places[: chance.choice((1, 1, 2, 3))]}
    orphans = [maker.measured(name, maker.drawer(openings[int(name[7:])])) for name in truth]
    return Chest([homes[i] for i in sorted(places[:count])], orphans, pairs, truth)


def ask(one: Chest) -> Matches:
    """What the program says of it."""
    found = match(one.orphans, one.homes, one.pairs)
    assert isinstance(found, Matches), found
    return found


def tally(chests: Iterable[Chest], asked: Callable[[Chest], Matches] = ask) -> Tally:
    """Clear answers and wrong ones."""
    counted = Tally()
    for one in chests:
        for found in asked(one).matches:
            right = found.home == one.truth[found.orphan]
            counted.add(Tally(1, found.told_apart, found.told_apart and not right, right))
    return counted


def drawn(count: int, play: float, known: int, pattern: str, seed: int = SEED) -> Iterable[Chest]:
    """So many chests of one cell; the same ones each time."""
    chance = Random(f"{seed} {play} {known} {pattern}")
    return (chest(chance, play, known, pattern) for _ in range(count))


def strays(chests: Iterable[Chest]) -> Iterator[Chest]:
    """The chests with one orphan, less the home that is its own."""
    for one in chests:
        if len(one.orphans) == 1:
            own = one.truth[one.orphans[0].name]
            yield replace(one, homes=[home for home in one.homes if home.name != own])


def borrowed(chests: Iterable[Chest], seed: int = SEED) -> Iterator[Chest]:
    """The chests with known drawers of three other pieces, three each, instead of their own."""
    chance = Random(seed)
    for one in chests:
        others = (chest(chance, chance.uniform(1, 5), 3, "rows") for _ in range(3))
        yield replace(one, pairs=[pair for other in others for pair in other.pairs])


def interval(part: int, whole: int, z: float = 1.96) -> tuple[float, float]:
    """Where a share lies, 95 % (Wilson, J. of the American Statistical Association 22, 1927)."""
    if not whole:
        return 0.0, 1.0
    share, more = part / whole, z * z / whole
    middle, half = share + more / 2, z * sqrt(share * (1 - share) / whole + more / whole / 4)
    return max((middle - half) / (1 + more), 0.0), (middle + half) / (1 + more)


def line(name: str, one: Tally) -> str:
    """`play 2 mm, 3 known   511   39.5%   0.5% (0.1% to 2.6%)   77.9%`"""
    low, high = interval(one.wrong, one.clear)
    wrong = (
        f"{one.wrong / one.clear:6.1%} ({low:.1%} to {high:.1%})" if one.clear else "  none clear"
    )
    return (
        f"{name:<35}{one.asked:>7}{one.clear / one.asked:>8.1%}  {wrong:<26}"
        f"{one.first / one.asked:>7.1%}"
    )


def main(asked: Callable[[Chest], Matches] = ask) -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=300, help="chests a cell")
    parser.add_argument("--seed", type=int, default=SEED)
    args = parser.parse_args()
    cells = {
        cell: tally(drawn(args.count, *cell, args.seed), asked)
        for cell in product(PLAYS, KNOWN, PATTERNS)
    }
    print(f"{len(cells) * args.count} chests, seed {args.seed}")
    print(f"{'':<35}{'asked':>7}{'clear':>8}  {'wrong of the clear (95 %)':<26}{'right':>7}")
    print_by(cells, "play {0:g} mm, {1} known")
    print_by(cells, "{2}, {1} known")
    print_by(cells, "{1} known")
    print_by(cells, "all")
    for said, change, known in (
        ("play of other pieces, {2}", borrowed, KNOWN[:1]),
        ("orphan of another piece, {2}", strays, KNOWN[1:]),
    ):
        changed = {
            cell: tally(change(drawn(args.count, *cell, args.seed)), asked)
            for cell in product(PLAYS, known, PATTERNS)
        }
        print_by(changed, said)


def print_by(cells: dict[tuple[float, int, str], Tally], name: str) -> None:
    """The cells that go by one name, added up."""
    found: dict[str, Tally] = {}
    for cell, one in cells.items():
        found.setdefault(name.format(*cell), Tally()).add(one)
    for said, one in found.items():
        print(line(said, one))
    print()


if __name__ == "__main__":
    main()
