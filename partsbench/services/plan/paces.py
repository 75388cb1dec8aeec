"""Whose minutes a plan is made with: your own by step and kind of part, or ours until there are
enough of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp
from statistics import median

from partsbench.core.finish.effort import ENOUGH_OWN_TIMES, own_times_for
from partsbench.core.finish.steps import Per, Step
from partsbench.core.key_words import choice_word
from partsbench.core.piece.codes import Family
from partsbench.core.plan.chance import spread_of
from partsbench.core.wording import capital, notes
from partsbench.services.known.work import own_times
from partsbench.services.plan.plans import PlanShown
from partsbench.services.shop import Shop


@dataclass(frozen=True, slots=True)
class PaceTold:
    """The minutes of one work on one kind of part. times: how many own ones are known; minutes and
    the range in which two of three lie are told only where there are enough of them."""

    work: str
    kind: str
    per: Per
    times: int
    minutes: float | None
    low: float | None
    high: float | None

    @property
    def sentence(self) -> str:
        """`Sand, drawer: your own 6.2 min a face, two of three 5.1 to 7.5 min (9 times).`"""
        of = capital(notes(self.work, self.kind))
        if self.minutes is None:
            enough = ENOUGH_OWN_TIMES
            return f"{of}: ours, until there are {enough} of your own; {self.times} so far."
        return (
            f"{of}: your own {self.minutes:.1f} min a {choice_word(self.per)}, "
            f"two of three {self.low:.1f} to {self.high:.1f} min ({self.times} times)."
        )


def paces(shop: Shop, shown: PlanShown) -> tuple[PaceTold, ...]:
    """Each work that is left in the plan and has minutes of its own to be known."""
    own = own_times(shop, shown.at)
    found: dict[tuple[str, str], PaceTold] = {}
    for stint in shown.shop.stints:
        step = shown.hand.steps.get(stint.key)
        key = (stint.work, stint.kind)
        if step is not None and key not in found:
            found[key] = _told(step, own_times_for(step, own, stint.kind), stint.kind)
    return tuple(found[key] for key in sorted(found))


def _told(step: Step, times: Sequence[float], kind: str) -> PaceTold:
    name = Family(kind).name.lower() if kind else ""
    if len(times) < ENOUGH_OWN_TIMES:
        return PaceTold(step.operation.value, name, step.per, len(times), None, None, None)
    middle, sigma = median(times), spread_of(times).sigma
    return PaceTold(
        step.operation.value,
        name,
        step.per,
        len(times),
        middle,
        middle * exp(-sigma),
        middle * exp(sigma),
    )
