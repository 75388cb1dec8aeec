"""What to begin tonight is what the plan would lose by the morning, and nothing else."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from partsbench.core.outcomes import Done
from partsbench.core.plan.check import faults
from partsbench.core.plan.what_if import without_time
from partsbench.services.known import facts
from partsbench.services.plan import plans
from partsbench.services.plan.evening import evening_of, tonight, tonight_of
from partsbench.services.shop import Shop
from partsbench.services.sums import habits
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes
from tests.support.shops import heron, lay_out, made


@pytest.fixture
def tag(shop: Shop) -> str:
    return heron(shop).tag


def at_clock(clock: SetClock, hour: int, minute: int = 0) -> None:
    clock.now = clock.now.astimezone().replace(hour=hour, minute=minute)


def keep(shop: Shop, name: str, text: str) -> None:
    assert isinstance(habits.set_habit(shop, name, text), Done)


def washed(shop: Shop, clock: SetClock, *shorts: str) -> None:
    piece = two_finishes(shop)
    for short in shorts:
        do(shop, piece, short, "wash", "rinse", at=clock.now - timedelta(days=2))


def test_it_names_the_steps_that_are_begun_tonight(shop: Shop, clock: SetClock, tag: str) -> None:
    facts.say(shop, tag, "conditioner", "none")
    for short in ("D1", "D2", "D3", "T1"):
        for _ in range(2):
            record(shop, short, here=tag)
    clock.pass_time(hours=12)
    found = tonight(shop, seconds=0.3)
    assert found is not None
    assert (found.tag, found.where) == (tag, "Heron D2, T1")
    assert found.steps[0] == "Sand 150"
    assert "Wipe off the stain" in found.steps
    assert found.saves > timedelta(minutes=30)
    assert found.sentence.startswith("Tonight: Heron D2, T1: Sand 150, then ")


def test_what_it_saves_is_the_end_without_that_work_tonight(shop: Shop, clock: SetClock) -> None:
    """One batch, one pair of hands: with tonight off the plan ends later by just as much."""
    keep(shop, "work hours", "8:00 to 22:00")
    made(lay_out(shop, "Larch", "1", paths=[("paint", ["D1"])], known={"bleeds": "no"}))
    at_clock(clock, 20)
    shown = plans.plan(shop, seconds=0.3)
    found = tonight_of(shown, evening_of(shop, clock()))
    assert found is not None and found.where == "Larch D1"
    off = without_time(shown.shop, (0, 12 * 60))
    idle = plans.planned(replace(shown.hand, shop=off), seconds=0.3)
    assert faults(off, idle.best.plan) == []
    later = idle.ends[found.tag] - shown.ends[found.tag]
    assert later > 0
    assert found.saves == timedelta(minutes=later)


def test_silent_when_nothing_can_be_begun(shop: Shop, clock: SetClock) -> None:
    piece = made(lay_out(shop, "Larch", "1", paths=[("stain", ["D1"])]))
    for _ in range(2):
        record(shop, "D1", here=piece.tag)
    assert tonight(shop, seconds=0.2) is None


def test_it_begins_nothing_that_the_hours_forbid(shop: Shop, clock: SetClock) -> None:
    washed(shop, clock, "D1", "D2", "D3", "D4")
    at_clock(clock, 19, 30)
    free = tonight(shop, seconds=0.3)
    assert free is not None and "Sand" in free.sentence
    keep(shop, "quiet hours", "19:00 to 7:00")
    assert tonight(shop, seconds=0.3) is None
    keep(shop, "quiet hours", "")
    keep(shop, "work hours", "8:00 to 19:00")
    assert tonight(shop, seconds=0.3) is None, "nobody works after the hours that were set"


def test_what_is_begun_while_the_day_goes_on_is_said_of_today(shop: Shop, clock: SetClock) -> None:
    washed(shop, clock, "D1", "D2", "D3", "D4")
    keep(shop, "work hours", "8:00 to 18:00")
    for hour, minute, day in ((9, 0, "Today: "), (14, 59, "Today: "), (15, 0, "Tonight: ")):
        at_clock(clock, hour, minute)
        found = tonight(shop, seconds=0.2)
        assert found is not None and found.sentence.startswith(day), (hour, minute, found)
        assert found.sentence.endswith(" against tomorrow.")
    at_clock(clock, 5)
    assert evening_of(shop, clock()).early is False, "the day has not begun"


def test_who_has_set_no_hours_may_still_work_tonight_for_three(shop: Shop, clock: SetClock) -> None:
    at_clock(clock, 19, 30)
    open_ = evening_of(shop, clock())
    assert (open_.morning, open_.here, open_.loud) == (750, (0, 180), ((0, 180),))
    keep(shop, "quiet hours", "21:00 to 7:00")
    assert evening_of(shop, clock()).loud == ((0, 90),)
    at_clock(clock, 6)
    assert evening_of(shop, clock()).here == (0, 120)
    keep(shop, "work hours", "11:00 to 20:00")
    said = evening_of(shop, clock())
    assert (said.morning, said.here, said.loud) == (300, (0, 0), ())


def test_the_plan_that_was_shown_is_the_one_that_is_asked(
    shop: Shop, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    washed(shop, clock, "D1", "D2")
    at_clock(clock, 17)
    shown = plans.plan(shop, seconds=0.3)
    asked: list[datetime] = []
    monkeypatch.setattr(plans, "keep_shown", lambda *_: asked.append(clock()))
    found = tonight(shop, seconds=0.3)
    assert found == tonight_of(shown, evening_of(shop, clock()))
    assert asked == [], "it is not noted as a plan that was shown"


def test_asked_alone_it_looks_for_a_plan_once_and_the_plan_goes_on_from_it(
    shop: Shop, clock: SetClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    washed(shop, clock, "D1", "D2")
    at_clock(clock, 17)
    looked: list[float] = []
    real = plans.planned

    def counted(hand, seconds=plans.SECONDS, *rest, **more):  # type: ignore[no-untyped-def]
        looked.append(seconds)
        return real(hand, seconds, *rest, **more)

    monkeypatch.setattr(plans, "planned", counted)
    first = tonight(shop, seconds=0.3)
    assert first is not None and looked == [0.3]
    assert tonight(shop, seconds=0.3) == first and looked[1:] == [0], "no other is looked for"
    shown = plans.plan(shop, seconds=0.3)
    assert shown.changed == ""
    assert tonight_of(shown, evening_of(shop, clock())) == first
