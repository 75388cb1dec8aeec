"""What a check has to say: how grave it is, by which rule, why, and where the rule comes from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from partsbench.core.sources import Source, Status


class Level(StrEnum):
    """HOLD refuses until insisted, CHECK asks once a batch, WARN says it once, ADVISE offers."""

    HOLD = "hold"
    CHECK = "check"
    WARN = "warn"
    ADVISE = "advise"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a rule found; `where` is the step or face it speaks of."""

    level: Level
    rule: str
    reason: str
    source: Source
    where: str = ""


PRACTICE = Source("rule of the trade", Status.COMMON_PRACTICE)
EXPERIENCE = Source("trade experience", Status.FROM_MEMORY)
TIN_RULE = Source("the limits that the tin states", Status.TIN)
