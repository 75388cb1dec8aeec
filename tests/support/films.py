"""One film all round, for the sums of what fits."""

from __future__ import annotations

from collections.abc import Collection

from partsbench.core.sums.fit import Edge, Paint

ALL_EDGES = frozenset(Edge)


def painted(
    film_mm: float, drawer: Collection[Edge] = ALL_EDGES, opening: Collection[Edge] = ALL_EDGES
) -> Paint:
    """One film on all these edges."""
    return Paint(dict.fromkeys(drawer, film_mm), dict.fromkeys(opening, film_mm))
