"""Who is behind: what most siblings have come to, of coats or of steps."""

from __future__ import annotations

from collections.abc import Iterable
from statistics import median_high


def usual(counts: Iterable[int]) -> int:
    """What at least half of some siblings have come to; whoever has less is behind."""
    return median_high(counts)
