"""Grits of the FEPA P scale, and when one follows another badly."""

from __future__ import annotations

from partsbench.core.sources import Source, Status

FINEST_BEFORE_STAIN = 220
COARSEST_LAST = 180
"""Where the pages stop that want more colour: 150 to 180."""
WIDEST_JUMP = 2.1
"""Ratio of the grits' numbers: "about double". The numbers and the grain sizes run together."""
COARSEST_BEFORE_LAST_COAT = 220

GRIT_SOURCE = Source(
    "rule of the trade: 220 and stop; engineerfix.com, 'How to use oil-based stain for a "
    "professional finish', read before 2026-11: 180 to 220; diyproject.ai, 'Sanding Grit Guide', "
    "read 2026-11-28: 150 to 180 for a penetrating stain",
    Status.COMMON_PRACTICE,
)
JUMP_SOURCE = Source(
    "craftedwoodcreations.com, read before 2026-11: double the number; sandingformakers.pro, read "
    "before 2026-11: 50 % a step; diyproject.ai, 'Sanding Grit Guide', read 2026-11-28: one grit "
    "at a time",
    Status.TRADE_PRESS,
)
BETWEEN_SOURCE = Source(
    "diyproject.ai, 'Sanding Grit Guide', read 2026-11-28: 220 to 320", Status.TRADE_PRESS
)


def is_jump(before: int | None, after: int | None) -> bool:
    """True when `after` is more than about double `before`, as 80 to 220."""
    return before is not None and after is not None and after > before * WIDEST_JUMP
