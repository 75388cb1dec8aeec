"""Which size to take next, so that an orphan's two likeliest homes are best told apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import sqrt
from statistics import fmean, pvariance

from partsbench.core.sums.plays import (
    DIRECTIONS,
    SPREAD_MM,
    Gap,
    KnownPair,
    KnownSizes,
    LearntPlay,
    ends,
    expected,
    gap,
    sound,
)
from partsbench.core.wording import and_list

WORTH = 0.1
"""A size that is expected to add less to the margin is not worth taking."""
SOME_PAIR: KnownPair = (KnownSizes("its opening"), KnownSizes("a drawer whose home is known"))


@dataclass(frozen=True, slots=True)
class Measurement:
    """The next size to take, on what, and the margin it is expected to add."""

    size: str
    of: tuple[str, ...]
    expected_margin: float

    @property
    def what(self) -> str:
        """`left height of opening 4`"""
        return f"{self.size} of {and_list(self.of)}"

    @property
    def asked(self) -> str:
        """`measure the left height of opening 4`"""
        return f"measure the {self.what}"

    @property
    def sentence(self) -> str:
        """`Measure the left height of opening 4.`"""
        return f"Measure the {self.what}."


def best_of(options: Sequence[Measurement]) -> Measurement | None:
    """The one that adds most, with the least to measure."""
    return max(options, key=lambda m: (m.expected_margin, -len(m.of)), default=None)


def missing_sizes(
    orphan: KnownSizes,
    home: KnownSizes,
    other: KnownSizes,
    homes: Sequence[KnownSizes],
    plays: Mapping[str, LearntPlay],
) -> Iterator[Measurement]:
    """Sizes that are missing of the three, in the directions whose play is learnt."""
    taken = set(orphan.sizes) & set(home.sizes) & set(other.sizes)
    for play in (p for p in plays.values() if p.seen):
        for size in sorted({s for known in (orphan, *homes) for s in ends(known, play.direction)}):
            lacking = [k.name for k in (orphan, home, other) if size not in k.sizes]
            missing = tuple(dict.fromkeys(lacking))
            if missing:
                near, far = _supposed(size, home, other, homes)
                added = _apart(near, far, taken | {size}, play) - _apart(near, far, taken, play)
                yield Measurement(size, missing, added)


def known_drawers(
    orphan: KnownSizes,
    home: KnownSizes,
    other: KnownSizes,
    known: Sequence[KnownPair],
    plays: Mapping[str, LearntPlay],
) -> Iterator[Measurement]:
    """Sizes of known drawers and their openings, from which the play is learnt better."""
    taken = set(orphan.sizes) & set(home.sizes) & set(other.sizes)
    for pair, direction in product(known, DIRECTIONS):
        shared = [size for size in ends(home, direction) if size in taken]
        missing = tuple(k.name for k in reversed(pair) if shared and shared[0] not in k.sizes)
        if not missing or sound(pair, direction):
            continue
        play = plays[direction]
        better = expected(direction, [*play.seen, Gap(play.usual_mm, play.usual_mm)])
        added = _apart(home, other, taken, better) - _apart(home, other, taken, play)
        yield Measurement(shared[0], missing, added)


def _apart(home: KnownSizes, other: KnownSizes, taken: set[str], play: LearntPlay) -> float:
    """How much dearer a drawer with the usual play in `home` is in the other one."""
    sizes = {s: home.sizes[s] - play.usual_mm for s in ends(home, play.direction) if s in taken}
    found = gap(other, KnownSizes("", sizes), play.direction)
    return play.misfit(found) if found else 0.0


def _supposed(
    size: str, home: KnownSizes, other: KnownSizes, homes: Sequence[KnownSizes]
) -> tuple[KnownSizes, KnownSizes]:
    """The two homes; one that lacks the size is supposed to differ by what openings differ by."""
    if size in home.sizes and size in other.sizes:
        return home, other
    seen = [h.sizes[size] for h in homes if size in h.sizes]
    apart = max(sqrt(2 * pvariance(seen)) if seen else 0.0, SPREAD_MM)
    near = fmean(seen) if seen else 0.0
    return (
        KnownSizes(home.name, {**home.sizes, size: near}),
        KnownSizes(other.name, {**other.sizes, size: near + apart}),
    )
