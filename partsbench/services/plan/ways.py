"""How this shop works, as it has said: who is here when, which room is for what, gun and rack."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, time, timedelta
from math import ceil, floor

from partsbench.core.finish.hours import DaySpan, Hours
from partsbench.core.finish.steps import Step
from partsbench.core.plan.making import DUST, SPRAY, USES, Ways
from partsbench.core.plan.shop_words import HelperHours, parse_days, parse_helpers, parse_rooms
from partsbench.core.plan.workshop import FromTo, SprayGun, Worker
from partsbench.services.known import work
from partsbench.services.known.hours import MORNING, hours_of
from partsbench.services.rules import answers
from partsbench.services.shop import Shop
from partsbench.services.sums import shipped
from partsbench.services.sums.habits import Habits, habits
from partsbench.services.sums.litres import USUAL_CUP_ML, USUAL_TOOL

DAYS_AHEAD = 60
USUAL_HOURS = DaySpan(time(MORNING), time(18))
"""Where the shop has said none. Common practice."""

YOU = "you"

SET_UP, CLEAN = 10, 15
"""Minutes for each cup, as in the finish paths: trade experience, from memory."""

DUST_SETTLES = 60
"""Minutes from the last sanding to the gun, as in the checks before a coat: common practice."""

SPRAY_SETTLES = 30
"""Minutes from the last coat until it is sanded beside it; a tin that says when its film is free of
dust wins. Trade experience, from memory."""


def workers_of(shop: Shop, now: datetime) -> tuple[Worker, ...]:
    """You, at your hours, and the helpers at theirs."""
    own, at_work = habits(shop), hours_or_usual(shop)
    days = parse_days(own.typed.get("working days", "")) or frozenset(range(7))
    you = Worker(YOU, _stretches(at_work, now, days, loud=False),
                 _stretches(at_work, now, days, loud=True))  # fmt: skip
    found = parse_helpers(own.typed["helpers"]) if "helpers" in own.typed else ()
    helpers = () if isinstance(found, str) else found
    return (you, *(helper_of(h, at_work, now) for h in helpers))


def hours_or_usual(shop: Shop) -> Hours:
    """The shop's hours; the usual ones where it has said none: a plan works nobody at night."""
    said = hours_of(shop)
    return said if said.work else replace(said, work=USUAL_HOURS)


def helper_of(helper: HelperHours, at_work: Hours, now: datetime) -> Worker:
    """A helper at stated hours; quiet hours are quiet for everybody."""
    here: list[FromTo] = []
    loud: list[FromTo] = []
    for days, span in helper.times:
        mine = Hours(span, at_work.quiet, at_work.zone)
        here += _stretches(mine, now, days, loud=False)
        loud += _stretches(mine, now, days, loud=True)
    return Worker(helper.name, _joined(here), _joined(loud), helper.only)


def gun_of(shop: Shop) -> SprayGun:
    own = habits(shop)
    return SprayGun(
        ceil(own.number("gun setup", SET_UP)),
        ceil(own.number("gun cleaning", CLEAN)),
        own.number("cup", USUAL_CUP_ML),
    )


def settles_of(shop: Shop) -> dict[tuple[str, str], int]:
    """Minutes that a room needs between two uses."""
    dust = ceil(habits(shop).number("dust settles", DUST_SETTLES))
    return {(DUST, SPRAY): dust, (SPRAY, DUST): SPRAY_SETTLES}


def ways_of(shop: Shop, now: datetime) -> Ways:
    """The shop's figures: its tins, air and pace, its rooms, what a m² takes from the cup."""
    own = habits(shop)
    rooms = parse_rooms(own.typed["rooms"]) if "rooms" in own.typed else None
    rack = own.value("rack")
    return Ways(
        answers.waits_of(shop, now),
        work.own_times(shop, now),
        rooms if isinstance(rooms, dict) else dict.fromkeys(USES.values(), "shop"),
        lambda step: ml_per_m2(own, step),
        own.number("cup", USUAL_CUP_ML),
        float(rack) if isinstance(rack, int | float) else None,
        ceil(own.number("turning", 0)),
    )


def ml_per_m2(own: Habits, step: Step) -> float:
    """What a coat of it takes out of the cup, ml for each m²; 0 where its film is not known."""
    film = shipped.coats().by_product.get(step.product)
    if film is None:
        return 0.0
    tool = shipped.transfers()[own.word("tool", USUAL_TOOL)]
    return film.wet.value / (tool.share.value / 100)


def _stretches(
    at_work: Hours, now: datetime, days: Iterable[int], *, loud: bool
) -> tuple[FromTo, ...]:
    """The stretches of work on these days of the week, in minutes from now."""
    found = []
    for start, end in at_work.stretches(now, DAYS_AHEAD, loud=loud):
        for a, b in _by_day(start, end, at_work):
            if a.astimezone(at_work.zone).weekday() in set(days):
                found.append((_minutes(a - now, up=True), _minutes(b - now, up=False)))
    return _joined(found)


def _by_day(start: datetime, end: datetime, at_work: Hours) -> Iterable[tuple[datetime, datetime]]:
    """A stretch cut at each midnight, unless the shop's own hours go over it."""
    if at_work.work and at_work.work.overnight:
        yield start, end
        return
    while start < end:
        local = start.astimezone(at_work.zone)
        midnight = (local + timedelta(days=1)).replace(hour=0, minute=0, second=0, microsecond=0)
        yield start, min(end, midnight)
        start = min(end, midnight)


def _joined(found: Iterable[FromTo]) -> tuple[FromTo, ...]:
    """In order, without overlaps."""
    joined: list[FromTo] = []
    for start, end in sorted(found):
        if start >= end:
            continue
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return tuple(joined)


def _minutes(length: timedelta, *, up: bool) -> int:
    minutes = length.total_seconds() / 60
    return max(0, ceil(minutes) if up else floor(minutes))
