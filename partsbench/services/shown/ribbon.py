"""The rest of the day as a ribbon: waits as bars with their cliffs, hands-on work in the gaps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from partsbench.core.finish.loads import SPRAYED
from partsbench.core.finish.steps import Step
from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Answer
from partsbench.core.shown_times import weekday
from partsbench.services.rules.clocks import Group
from partsbench.services.shown.day import Day
from partsbench.services.shown.progress_map import PartStand

SHORTEST = timedelta(hours=6)
EVENING_HOUR = 22
UNTOLD = timedelta(minutes=10)
"""Drawn for work whose length nobody knows yet."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A wait: from now until it opens, and from then until its cliff, where it has one.

    opens: None when it is open already. closes: None when the window never closes.
    """

    what: str
    opens: datetime | None
    closes: datetime | None
    now: datetime
    late: bool = False

    @property
    def sentence(self) -> str:
        told = ["may be done now"]
        if self.opens:
            told = [f"may be done from {weekday(self.opens, self.now)}"]
        if self.late:
            told = [word_of(PartStand.LATE)]
        elif self.closes:
            told.append(f"no later than {weekday(self.closes, self.now)}")
        return f"{self.what}: {', '.join(told)}."


@dataclass(frozen=True, slots=True)
class Block:
    """Hands-on work, placed where it may be done and the hands are free."""

    what: str
    starts: datetime
    ends: datetime
    gun: bool
    step: Step

    @property
    def sentence(self) -> str:
        starts, ends = (weekday(at, self.starts) for at in (self.starts, self.ends))
        return f"{starts} to {ends}: {self.what}."


@dataclass(frozen=True, slots=True)
class Ribbon:
    """What is drawn between `starts` and `ends`; what lies beyond is told at the right edge."""

    starts: datetime
    ends: datetime
    bars: tuple[Bar, ...]
    blocks: tuple[Block, ...]


def ribbon(today: Day) -> Ribbon:
    """The ribbon from now to the evening, at least some hours long."""
    local = today.at.astimezone()
    evening = local.replace(hour=EVENING_HOUR, minute=0, second=0, microsecond=0)
    ends = max(evening, local + SHORTEST)
    bars = sorted((b for g in today.clocks if (b := _bar(g))), key=_end)
    return Ribbon(today.at, ends, tuple(bars), tuple(_blocks(today, ends)))


def _bar(group: Group) -> Bar | None:
    waits = group.said.answer is Answer.WAIT and group.said.until is not None
    late = group.said.answer is Answer.LATE
    if not (waits or late or (group.closes and group.said.answer is Answer.GO)):
        return None
    opens = group.said.until if waits else None
    return Bar(f"{group.where}: {group.step.name}", opens, group.closes, group.now, late)


def _blocks(today: Day, ends: datetime) -> list[Block]:
    """Work one after another: what may be done now in its order, then what opens; the same coat
    of the gun is joined, so that it is set up once."""
    groups = [t.group for t in today.tasks]
    waiting = [g for g in today.clocks if g.said.answer is Answer.WAIT and g.said.until]
    placed: list[Block] = []
    free = today.at
    for group in (*_gun_together(groups), *sorted(waiting, key=_opens)):
        soonest = max(free, group.said.until or free) if group in waiting else free
        at_once = placed and soonest == placed[-1].ends
        length = _length(group, placed[-1].step if at_once else None)
        starts = today.hours.next_start(soonest, length, group.step.operation)
        if starts is None or starts + length > ends:
            continue
        gun = group.step.operation in SPRAYED
        what = f"{group.where}: {group.step.name}"
        placed.append(Block(what, starts, starts + length, gun, group.step))
        free = starts + length
    return placed


def _length(group: Group, before: Step | None) -> timedelta:
    """How long the work takes; a gun that just laid this coat is not set up and cleaned again."""
    if group.work is None:
        return UNTOLD
    joined = before is not None and before.name == group.step.name
    set_up = timedelta(minutes=group.step.minutes_per_batch or 0) if joined else timedelta()
    return group.work - set_up


def _gun_together(groups: Sequence[Group]) -> list[Group]:
    """The order kept, but a coat of the gun follows the first of its kind at once."""
    ordered: list[Group] = []
    for group in groups:
        if group in ordered:
            continue
        ordered.append(group)
        if group.step.operation in SPRAYED:
            same = [g for g in groups if g.step.name == group.step.name and g not in ordered]
            ordered += same
    return ordered


def _end(bar: Bar) -> tuple[bool, float]:
    at = bar.closes or bar.opens
    return bar.closes is None, at.timestamp() if at else 0.0


def _opens(group: Group) -> float:
    return group.said.until.timestamp() if group.said.until else 0.0
