"""The plan that was shown last, as it is kept: the next one goes on from it, the day follows it."""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import datetime, timedelta

from partsbench.core.plan.workshop import Booked, ShopPlan
from partsbench.services.shop import Shop
from partsbench.store import promises as rows

OLDEST = timedelta(days=14)
"""A plan that was shown longer ago is neither gone on from nor followed."""

StepOf = tuple[str, str]
"""A piece by its tag, and the key of a step."""


def keep(shop: Shop, plan: ShopPlan, at: datetime) -> None:
    """Note a plan, made for that moment, as the one that was shown."""
    rows.show(shop.book, at, json.dumps([asdict(p) for p in plan.placed]))


def kept(shop: Shop, now: datetime) -> tuple[datetime, ShopPlan] | None:
    """The plan that was shown last, and the moment that it counts from; None for one too old."""
    found = rows.shown(shop.book)
    if found is None or not timedelta() <= now - found[0] <= OLDEST:
        return None
    placed = tuple(
        Booked(p["stint"], p["start"], p["end"], tuple(p["workers"]), p["load"])
        for p in json.loads(found[1])
    )
    return found[0], ShopPlan(placed)


def turns(shop: Shop, now: datetime) -> dict[StepOf, int]:
    """When that plan begins each step of each piece, in minutes; {} where there is none."""
    found = kept(shop, now)
    begins: dict[StepOf, int] = {}
    for p in found[1].placed if found else ():
        tag, _, *step = p.stint.split("|")
        if len(step) == 1:  # a carcase turned over is no step of a path
            key = (tag, step[0])
            begins[key] = min(begins.get(key, p.start), p.start)
    return begins
