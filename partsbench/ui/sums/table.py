"""Every decision of the page Sums, in the order of the work."""

from __future__ import annotations

from partsbench.services.sums.asked import earning, fitting, hardware
from partsbench.services.sums.asked.bench import SMALL
from partsbench.services.sums.asked.description import SumQuestion

OF_THE_PIECE = (
    fitting.FIT, fitting.WHOSE, fitting.SWAPS,
    hardware.CENSUS, hardware.ORDER, hardware.ALLOT, hardware.PULLS, hardware.DRILL,
    earning.MIX, fitting.MASK, fitting.LEVEL, fitting.SYMMETRY, fitting.TIP,
)  # fmt: skip
AT_THE_BENCH = (*SMALL, earning.AGAIN)
DECISIONS = (*OF_THE_PIECE, *AT_THE_BENCH)


def find(decisions: tuple[SumQuestion, ...], key: str) -> SumQuestion:
    """The decision of that key, else the first."""
    return next((d for d in decisions if d.key == key), decisions[0])
