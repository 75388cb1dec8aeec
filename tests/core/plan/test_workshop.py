"""What a workshop and a plan say of themselves."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.plan.workshop import (
    MISSED_COSTS,
    Booked,
    Lag,
    Promised,
    ShopPlan,
    SprayGun,
    Stint,
    Worker,
    Workshop,
    cost,
)

A1, A2 = Stint("a1", "A", "Heron D1: Wash", 30, "wash"), Stint("a2", "A", "Heron D1: Sand", 20)
B1 = Stint("b1", "B", "Quill D1: Sand", 40, "sand")
SHOP = Workshop((B1, A1, A2), titles={"A": "Heron"})
PLAN = ShopPlan(
    (Booked("a2", 60, 80, ("me",)), Booked("a1", 90, 120, ("me",)), Booked("b1", 200, 240, ("me",)))
)


def test_a_helper_with_a_limit_does_that_work_only() -> None:
    anybody, helper = Worker("me", (), ()), Worker("Wren", (), (), ("wash", "rinse"))
    assert anybody.may(A1) and anybody.may(B1)
    assert helper.may(A1)
    assert not helper.may(B1)


def test_pieces_are_those_with_work_left_in_the_order_of_their_first_stint() -> None:
    assert SHOP.pieces == ("B", "A")
    assert (SHOP.title("A"), SHOP.title("B")) == ("Heron", "B")


def test_a_piece_ends_with_the_last_of_its_stints() -> None:
    assert PLAN.ends(SHOP) == {"B": 240, "A": 120}
    assert PLAN.at()["a1"].start == 90
    arrived = Stint("c", "C", "hardware is here", 0)
    assert ShopPlan((Booked("c", 0, 0, ("me",)),)).ends(Workshop((arrived,))) == {"C": 0}


def test_a_plan_costs_its_last_end_what_is_late_by_its_worth_and_what_it_misses() -> None:
    assert cost(SHOP, PLAN) == 240
    late = replace(SHOP, promised=(Promised("A", 100, 3.0), Promised("B", 240, 50.0)))
    assert cost(late, PLAN) == 240 + 3 * 20
    early = replace(SHOP, promised=(Promised("A", 121, 3.0),))
    assert cost(early, PLAN) == 240, "what is done before its day is no cheaper"
    gone = replace(SHOP, promised=(Promised("C", 0, 9.0),))
    assert cost(gone, PLAN) == 240, "nothing of that piece is left"
    missed = replace(PLAN, missed=(("a1", "a2"), ("b1", "b1")))
    assert cost(SHOP, missed) == 240 + 2 * MISSED_COSTS
    assert cost(Workshop(()), ShopPlan(())) == 0


def test_a_window_that_is_not_kept_costs_as_much_as_two_weeks() -> None:
    assert MISSED_COSTS == 14 * 24 * 60


def test_what_nobody_has_said() -> None:
    """The usual values: nothing binds that was not asked for."""
    stint = Stint("s", "A", "s", 10)
    assert (stint.hands, stint.soonest, stint.by, stint.loud) == (1, 0, None, False)
    assert (stint.ml, stint.m2, stint.lies) == (0, 0, 0)
    assert (SprayGun().set_up, SprayGun().clean, SprayGun().cup_ml) == (0, 0, float("inf"))
    assert Promised("A", 5).worth == 10
    assert Booked("s", 0, 10, ()).load == 0
    assert (Lag("a", "b").least, Lag("a", "b").most) == (0, None)
