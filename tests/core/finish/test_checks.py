"""What is asked before a step, and what is not because something better answers."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from partsbench.core.finish.checks import DUST_SETTLED, checks
from partsbench.core.finish.situation import Situation
from partsbench.services.known import climate
from tests.support.faces import SHOP, at, path, step, through

PAINT = path("paint")
ASKING = replace(SHOP, checks=climate.checks())


def asked(sanded: datetime | None, now: datetime) -> list[str]:
    coat = step(PAINT, "colour_1")
    found = checks(Situation(through(PAINT, "sand_150"), coat, now, ASKING, sanded=sanded))
    return [f.reason for f in found if f.rule == DUST_SETTLED]


def test_dust_is_asked_about_for_an_hour_after_the_last_sanding():
    now = at("2 h")
    clock = (now - timedelta(minutes=20)).astimezone()
    assert asked(now - timedelta(minutes=20), now) == [
        f"The dust has settled: something was sanded at {clock:%H:%M}."
    ]
    assert asked(now - timedelta(minutes=59), now)
    assert asked(now - timedelta(hours=1), now) == []
    assert asked(None, now) == [], "the book knows of no sanding"
