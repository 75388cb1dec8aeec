"""What is asked before a step, and what is not because something better answers."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from partsbench.core.finish.checks import BATCH, DUST_SETTLED, LIMITS, RIGHT_CUP, SETTLES, checks
from partsbench.core.finish.cups import Cup
from partsbench.core.finish.findings import Level
from partsbench.core.finish.situation import Mixes, Room, Situation
from partsbench.services.known import climate
from tests.support.faces import SHOP, START, at, path, step, through

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


def before(key: str, last: str, **known: object) -> dict[str, str]:
    """What is asked before a step of the paint path, in words, by the check."""
    now = Situation(through(PAINT, last), step(PAINT, key), at("2 h"), ASKING)
    found = checks(replace(now, **known))  # type: ignore[arg-type]
    assert all(f.level is Level.CHECK and f.where == key for f in found)
    return {f.rule: f.reason for f in found}


def test_a_cup_or_a_reading_answers_for_itself_and_in_this_batch_nothing_is_asked_twice() -> None:
    cup = Mixes(Cup("U1", "topcoat", (), START))
    air = Room(20, 50, 9.3)
    coat = ("topcoat_1", "colour_3")
    assert set(before(*coat)) == {RIGHT_CUP, LIMITS}
    assert set(before(*coat, mixes=cup)) == {LIMITS}
    assert set(before(*coat, room=air)) == {RIGHT_CUP}
    assert before(*coat, mixes=cup, room=air) == {}
    assert set(before(*coat, sanded=at("90 min"))) == {RIGHT_CUP, LIMITS, DUST_SETTLED}
    assert before(*coat, confirmed=True) == {}


def test_the_cup_is_asked_about_by_what_the_step_takes() -> None:
    assert "water-borne clear, tinted" in before("topcoat_1", "colour_3")[RIGHT_CUP]
    plain = before("colour_1", "sand_150")[RIGHT_CUP]
    assert "water-borne paint" in plain and "tinted" not in plain


def test_what_puts_nothing_on_asks_for_no_cup() -> None:
    needy = replace(step(PAINT, "sand_220"), needs=(RIGHT_CUP, LIMITS))
    asks = checks(Situation(through(PAINT, "colour_1"), needy, at("2 h"), ASKING))
    assert [f.rule for f in asks] == [LIMITS]


def test_what_was_confirmed_holds_for_an_evening_and_dust_for_an_hour() -> None:
    assert (timedelta(hours=4), timedelta(hours=1)) == (BATCH, SETTLES)
