"""Who is behind: what most siblings have come to, of coats or of steps."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from statistics import median_high
from typing import TypeVar

K = TypeVar("K")
LEAST_LAG = 2
"""A step more or less is the batch that is worked on; who is two behind was forgotten."""


def usual(counts: Iterable[int]) -> int:
    """What at least half of some siblings have come to; whoever has less is behind."""
    return median_high(counts)


def lagging(steps: Mapping[K, tuple[int, int]]) -> frozenset[K]:
    """Of some siblings, each with the steps that are done and left, those that lag behind most.

    Both are asked: what has a step more on its path than its siblings has more left from the
    start, what has one less has done fewer.
    """
    if not steps:
        return frozenset()
    done = usual(d for d, _ in steps.values())
    left = -usual(-n for _, n in steps.values())
    return frozenset(name for name, (d, n) in steps.items() if d < done and n >= left + LEAST_LAG)
