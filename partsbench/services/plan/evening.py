"""What to begin tonight, and how much that saves: from the plan of the shop, and no other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from partsbench.core.finish.durations import say_duration
from partsbench.core.plan.evening import pulled_forward, with_evening, worth_tonight
from partsbench.core.plan.workshop import FromTo
from partsbench.core.wording import then_list
from partsbench.services.known.hours import MORNING, hours_of
from partsbench.services.plan import plans
from partsbench.services.plan.plans import PlanShown
from partsbench.services.plan.ways import hours_or_usual
from partsbench.services.shop import Shop

WORTH_IT = timedelta(minutes=30)
EVENING = timedelta(hours=3)
"""What is begun within so long is begun tonight; and so long somebody who has set no hours may
still work, however late it is."""


@dataclass(frozen=True, slots=True)
class Tonight:
    """The work that saves most when it is done tonight and not tomorrow: its steps, in order.
    early: hours of work are left after it, so that it is said of today."""

    tag: str
    where: str
    steps: tuple[str, ...]
    saves: timedelta
    early: bool = False

    @property
    def sentence(self) -> str:
        """`Tonight: Heron D3: Sand 220, then Stain; it saves 10 h against tomorrow.`"""
        day, saves = "Today" if self.early else "Tonight", say_duration(self.saves)
        return f"{day}: {self.where}: {then_list(self.steps)}; it saves {saves} against tomorrow."


@dataclass(frozen=True, slots=True)
class EveningHours:
    """When the morning begins, and when one may still work tonight beside the hours of the plan,
    in minutes from now. early: the hours of work go on for longer than an evening."""

    morning: int
    here: FromTo
    loud: tuple[FromTo, ...]
    early: bool = False


def tonight_begins(shop: Shop, now: datetime) -> datetime:
    """So long before the hours of work end, or now where that has begun."""
    today = hours_or_usual(shop).stretches(now, 1, loud=False)
    ends = [end for begin, end in today if begin < now + EVENING < end]
    return max(now, *(end - EVENING for end in ends)) if ends else now


def evening_of(shop: Shop, now: datetime) -> EveningHours:
    """By the shop's hours; where it has set none, the evening is still open."""
    said = hours_of(shop)
    morning = hours_or_usual(shop).morning(now, MORNING) - now
    early = tonight_begins(shop, now) > now
    until = 0 if said.work else int(min(EVENING, morning).total_seconds() // 60)
    loud = [
        (max(0, int((a - now).total_seconds() // 60)),
         min(until, int((b - now).total_seconds() // 60)))
        for a, b in said.stretches(now, 1, loud=True)
    ]  # fmt: skip
    return EveningHours(int(morning.total_seconds() // 60), (0, until),
                        tuple((a, b) for a, b in loud if a < b), early)  # fmt: skip


def tonight_of(shown: PlanShown, evening: EveningHours) -> Tonight | None:
    """What the plan begins tonight that its piece would miss most in the morning; None where
    nothing is lost by waiting."""
    work, plan = shown.shop, shown.best.plan
    if not work.stints or not work.workers:
        return None
    if evening.here[1]:
        work = with_evening(work, evening.here, evening.loud)
        plan = pulled_forward(work, plan)
    found = worth_tonight(work, plan, int(EVENING.total_seconds() // 60), evening.morning)
    if found is None or timedelta(minutes=found.saves) <= WORTH_IT:
        return None
    stints = {s.key: s for s in work.stints}
    first = stints[found.stints[0]]
    steps = tuple(dict.fromkeys(stints[key].does for key in found.stints))
    saves = timedelta(minutes=found.saves)
    return Tonight(first.piece, first.where, steps, saves, evening.early)


def tonight(
    shop: Shop, tags: Sequence[str] = (), at: datetime | None = None, seconds: float = plans.SECONDS
) -> Tonight | None:
    """The same of the pieces in hand, or of those named: of the plan that was shown last, as far
    as it still holds, so that nothing else is named than on the other pages; where none was shown,
    one is looked for, and noted as shown."""
    shown = plans.plan_as_shown(shop, tags, at, seconds)
    return tonight_of(shown, evening_of(shop, shown.at))
