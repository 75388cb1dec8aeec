"""A workshop gone through from its end: what was the last becomes the first.

A plan made there, each thing as soon as it can be, is one in which each is done as late as it can;
its order is often a better one to plan forward from (justification: Valls, Ballestín and
Quintanilla, Justification and RCPSP, 2005, from memory).
"""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.plan.workshop import FromTo, Lag, SprayGun, Stint, Worker, Workshop

SPARE = 14 * 24 * 60
"""Minutes before minute 0."""


def mirrored(shop: Workshop, end: int) -> Workshop:
    """The same workshop with its time turned round: minute `end` becomes 0. Promises are left out.

    What does not go into the time there is lies before minute 0, where everybody is taken to be
    here all the time.
    """
    return replace(
        shop,
        stints=tuple(_stint(s, end) for s in shop.stints),
        lags=tuple(Lag(x.after, x.before, x.least, x.most) for x in shop.lags),
        workers=tuple(_worker(w, end) for w in shop.workers),
        gun=SprayGun(shop.gun.clean, shop.gun.set_up, shop.gun.cup_ml),
        settles={(b, a): minutes for (a, b), minutes in shop.settles.items()},
        promised=(),
    )


def _stint(s: Stint, end: int) -> Stint:
    soonest = max(0, end - s.by - s.minutes) if s.by is not None else 0
    by = max(0, end - s.soonest - s.minutes) if s.soonest else None
    return replace(s, soonest=soonest, by=by)


def _worker(w: Worker, end: int) -> Worker:
    return replace(w, here=_turned(w.here, end), loud=_turned(w.loud, end))


def _turned(stretches: tuple[FromTo, ...], end: int) -> tuple[FromTo, ...]:
    found = [(max(end - b, 0), end - a) for a, b in reversed(stretches) if a < end]
    return (*found, (end + 1, end + SPARE))
