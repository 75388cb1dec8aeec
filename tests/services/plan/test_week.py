"""The lanes of a week say what the plan says: all the work, the gun, the waits."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from partsbench.core.plan.change import shifted
from partsbench.core.plan.words import when
from partsbench.services.plan import asking, plans
from partsbench.services.plan.week import CLOSE, LaneKind, cannot_be_kept, then_act, week_of
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import set_habit
from tests.support.clock import SetClock
from tests.support.finishing import two_finishes


@pytest.fixture
def clock() -> SetClock:
    return SetClock(datetime(2031, 3, 3, 9, 0, tzinfo=UTC))


@pytest.fixture
def shown(shop: Shop) -> plans.PlanShown:
    set_habit(shop, "work hours", "8:00 to 18:00")
    two_finishes(shop)
    return plans.plan(shop, seconds=0.3)


def test_every_act_of_the_week_lies_in_a_stretch_of_its_hands(shown: plans.PlanShown) -> None:
    week = week_of(shown)
    mine = next(lane for lane in week.lanes if lane.kind is LaneKind.HANDS)
    names = {s.key: s.name for s in shown.shop.stints}
    for p in shown.best.plan.placed:
        start, end = when(shown.at, p.start), when(shown.at, p.end)
        if start < shown.at + timedelta(days=7):
            inside = [s for s in mine.spans if s.starts <= start and end <= s.ends]
            assert len(inside) == 1 and names[p.stint] in inside[0].sentence
    for a, b in zip(mine.spans, mine.spans[1:], strict=False):
        assert b.starts - a.ends > CLOSE


def test_a_load_lasts_from_the_set_up_until_the_gun_is_clean(shown: plans.PlanShown) -> None:
    week = week_of(shown)
    gun = next(lane for lane in week.lanes if lane.kind is LaneKind.GUN)
    first = min((p for p in shown.best.plan.placed if p.load), key=lambda p: p.start)
    assert gun.spans[0].starts == when(shown.at, first.start - shown.shop.gun.set_up)
    assert shown.shop.gun.set_up > 0


def test_a_wait_lies_between_what_it_is_between(shown: plans.PlanShown) -> None:
    week = week_of(shown)
    waits = next(lane for lane in week.lanes if lane.kind is LaneKind.WAIT)
    at = shown.best.plan.at()
    longest = max(shown.shop.lags, key=lambda lag: lag.least)
    opens = when(shown.at, at[longest.before].end)
    closes = opens + timedelta(minutes=longest.least)
    assert any(s.starts <= opens and closes <= s.ends for s in waits.spans)


def test_marks_say_what_is_done_and_which_promise_is_kept(
    shop: Shop, shown: plans.PlanShown, clock: SetClock
) -> None:
    (tag,) = shown.ends
    assert cannot_be_kept(shown) == ()
    for days, kept in ((1, False), (20, True)):
        asking.note_promise(shop, tag, clock() + timedelta(days=days))
        again = plans.plan(shop, seconds=0.3)
        week = week_of(again)
        (due,) = [m for m in week.marks if m.promised]
        assert due.kept is kept and due.words == "Heron promised 09:00"
        done = next(m for m in week.marks if not m.promised)
        assert done.day == when(again.at, again.ends[tag]).date()
        assert [s.startswith("Heron cannot be done by") for s in cannot_be_kept(again)] == (
            [] if kept else [True]
        )


def test_what_comes_after_the_next_act_is_told_with_its_lane(shown: plans.PlanShown) -> None:
    week = week_of(shown)
    placed = shown.best.plan.placed
    stints = {s.key: s for s in shown.shop.stints}
    assert week.next_act.endswith(stints[placed[0].stint].name)
    told = next(p for p in placed if week.then.endswith(f": {stints[p.stint].name}"))
    at = when(shown.at, told.start).astimezone()
    assert at.date() == shown.at.astimezone().date()
    assert week.then.startswith(f"Then {at:%H:%M}, you: ")
    first = stints[placed[0].stint]
    between = [p for p in placed if p.start < told.start]
    assert {stints[p.stint].does for p in between} == {first.does}
    assert stints[told.stint].does != first.does


def test_a_load_is_told_as_the_guns(shop: Shop, shown: plans.PlanShown, clock: SetClock) -> None:
    """On a day that begins with a coat behind other work."""
    coat = next(p for p in shown.best.plan.placed if p.load)
    day = when(shown.at, coat.start).astimezone().replace(hour=0, minute=0)
    left = [p for p in shown.best.plan.placed if when(shown.at, p.start) >= day]
    cut = replace(shown.best, plan=replace(shown.best.plan, placed=tuple(left)))
    hand = replace(shown.hand, at=shown.at)
    stints = {s.key: s for s in shown.shop.stints}
    minutes = int((day - shown.at).total_seconds() // 60)
    moved = replace(cut, plan=shifted(cut.plan, minutes))
    today = replace(shown, best=moved, hand=replace(hand, at=day))
    said = then_act(today)
    assert said
    told = next(p for p in moved.plan.placed if said.endswith(f": {stints[p.stint].name}"))
    assert (", gun: " in said) == bool(told.load)


def test_nothing_more_today_says_nothing(shop: Shop, clock: SetClock) -> None:
    set_habit(shop, "work hours", "8:00 to 9:09")
    two_finishes(shop)
    week = week_of(plans.plan(shop, seconds=0.2))
    assert "Then" not in week.then
