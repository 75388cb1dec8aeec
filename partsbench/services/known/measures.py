"""The units that the shop reads and writes; light, for it is asked before any sum is."""

from __future__ import annotations

from partsbench.core.sums.shown import Measures
from partsbench.services.shop import Shop
from partsbench.store import figures


def measures(shop: Shop) -> Measures:
    """As the setting `units` has it; metric while nobody has said."""
    typed = figures.habits(shop.book).get("units", "")
    return Measures.US if typed.strip().lower() == Measures.US else Measures.METRIC
