"""Grits of the FEPA P scale, and when one follows another badly."""

from __future__ import annotations

from partsbench.core.finish.steps import Source, Status

FINEST_BEFORE_STAIN = 220
WIDEST_JUMP = 2.1
"""Ratio of the grits' numbers: "about double". The numbers and the grain sizes run together."""
COARSEST_BEFORE_LAST_COAT = 220

GRIT_SOURCE = Source(
    "rule of the trade: 220 and stop; 'How to use oil-based stain', engineerfix.com, 180 to 220",
    Status.COMMON_PRACTICE,
)
JUMP_SOURCE = Source(
    "craftedwoodcreations.com: double the number; sandingformakers.pro: 50 % a step; they differ",
    Status.PUBLISHED,
)
BETWEEN_SOURCE = Source("diyproject.ai 'Sanding grit guide', 220 to 320", Status.PUBLISHED)


def is_jump(before: int | None, after: int | None) -> bool:
    """True when `after` is more than about double `before`, as 80 to 220."""
    return before is not None and after is not None and after > before * WIDEST_JUMP
