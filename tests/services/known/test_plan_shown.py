"""The plan that was shown last, kept in the book and followed by the day."""

from __future__ import annotations

from datetime import timedelta

from partsbench.core.plan.workshop import Booked, ShopPlan
from partsbench.services.known import plan_shown
from partsbench.services.shop import Shop
from tests.support.clock import SetClock


def booked(key: str, start: int) -> Booked:
    return Booked(key, start, start + 10, ("you",), 0)


PLAN = ShopPlan((booked("K7Q4|D4|wash", 30), booked("K7Q4|D1|wash", 5),
                 booked("K7Q4|C1|coat_1|turn", 60), booked("M2B8|D1|wash", 90)))  # fmt: skip


def test_none_was_shown(shop: Shop, clock: SetClock) -> None:
    assert plan_shown.kept(shop, clock()) is None
    assert plan_shown.turns(shop, clock()) == {}


def test_it_is_given_back_with_the_moment_that_it_counts_from(shop: Shop, clock: SetClock) -> None:
    plan_shown.keep(shop, PLAN, clock())
    assert plan_shown.kept(shop, clock() + timedelta(hours=3)) == (clock(), PLAN)


def test_each_step_of_a_piece_has_its_turn_by_its_first_batch(shop: Shop, clock: SetClock) -> None:
    plan_shown.keep(shop, PLAN, clock())
    assert plan_shown.turns(shop, clock()) == {("K7Q4", "wash"): 5, ("M2B8", "wash"): 90}


def test_one_of_another_time_is_not_followed(shop: Shop, clock: SetClock) -> None:
    plan_shown.keep(shop, PLAN, clock())
    second = timedelta(seconds=1)
    assert plan_shown.kept(shop, clock() + plan_shown.OLDEST) is not None
    assert plan_shown.kept(shop, clock() + plan_shown.OLDEST + second) is None
    assert plan_shown.kept(shop, clock() - second) is None, "the clock was set back"
