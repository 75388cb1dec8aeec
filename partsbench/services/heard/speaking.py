"""The program speaks first: windows that close so soon that the work must begin now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from partsbench.core.finish.durations import say_duration
from partsbench.core.outcomes import Answer, Outcome, Tone
from partsbench.core.shown_times import time_of_day
from partsbench.core.wording import notes
from partsbench.services.rules.clocks import Group
from partsbench.services.shop import Shop
from partsbench.services.shown.day import Day, day

SELDOM = timedelta(minutes=10)
"""With no window in sight the clocks are looked at no more often than that."""


@dataclass(frozen=True, slots=True)
class Closing:
    """What is to be said now, each under a key that says it once, and when to look again."""

    said: tuple[tuple[str, Outcome], ...]
    again: datetime


def closing(shop: Shop, tags: Sequence[str] = ()) -> Closing:
    """The windows about to close, soonest first, of the pieces in hand or those named."""
    today = day(shop, tags=tags)
    alarms = sorted(today.alarms, key=_closes)
    return Closing(tuple((_key(g), _said(g, today.at)) for g in alarms), _again(today))


def _again(today: Day) -> datetime:
    """The next moment at which there may be something new to say."""
    warnings = [g.warn_at for g in today.clocks if g.warn_at]
    changes = [g.said.until for g in today.clocks if g.said.until]
    ahead = [at for at in (*warnings, *changes) if at > today.at]
    return min([*ahead, today.at + SELDOM])


def _said(group: Group, now: datetime) -> Outcome:
    assert group.closes is not None
    left = say_duration(group.closes - now)
    closes = notes(
        f"The window closes in {left}",
        f"the work takes {say_duration(group.work)}" if group.work else "",
    )
    at = time_of_day(group.closes, now)
    return Outcome(
        Answer.GO,
        Tone.CLOSING,
        f"{group.where}: {group.step.name} before {at}.",
        because=f"{closes}: {group.said.because}",
        source=group.said.source,
        until=group.closes,
        tag=group.tag,
        step=group.step.key,
        step_name=group.step.name,
    )


def _key(group: Group) -> str:
    """The same window is spoken of once, however many of its faces are done meanwhile."""
    minute = group.closes.timestamp() // 60 if group.closes else 0
    return f"{group.tag} {group.step.key} {minute:.0f}"


def _closes(group: Group) -> float:
    return group.closes.timestamp() if group.closes else 0.0
