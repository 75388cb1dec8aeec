"""Each rule of a workshop is looked at by itself: a plan is broken on purpose in one place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.plan.check import faults
from partsbench.core.plan.workshop import (
    Booked,
    Lag,
    ShopPlan,
    SprayGun,
    Stint,
    Worker,
    Workshop,
)

SAND = Stint("sand", "A", "sand", 30, "sand", room="r", use="dust")
COAT = Stint("coat", "A", "coat", 20, "colour", room="r", use="spray", mix="m", ml=100, m2=1.0,
             lies=60, loud=True)  # fmt: skip
MORE = replace(COAT, key="more", piece="B")
SHOP = Workshop(
    (SAND, COAT, MORE),
    (Lag("sand", "coat", 10, 200),),
    (
        Worker("me", ((0, 600),), ((0, 500),)),
        Worker("you", ((0, 300),), ((0, 300),), ("sand",)),
    ),
    SprayGun(10, 15, 200.0),
    {("dust", "spray"): 60, ("spray", "dust"): 45},
    2.0,
)
GOOD = ShopPlan(
    (
        Booked("sand", 0, 30, ("me",)),
        Booked("coat", 100, 120, ("me",), 1),
        Booked("more", 120, 140, ("me",), 1),
    )
)


def moved(key: str, **to: object) -> ShopPlan:
    return replace(
        GOOD,
        placed=tuple(replace(p, **to) if p.stint == key else p for p in GOOD.placed),
    )


def rules(shop: Workshop, plan: ShopPlan) -> set[str]:
    return {f.rule for f in faults(shop, plan)}


def test_a_good_plan_has_no_fault() -> None:
    assert faults(SHOP, GOOD) == []


@pytest.mark.parametrize(
    ("plan", "rule"),
    [
        (replace(GOOD, placed=GOOD.placed[1:]), "whole"),
        (moved("sand", end=29), "length"),
        (moved("sand", start=61, end=91), "least"),
        (moved("sand", start=30, end=60), "room"),
        (moved("coat", start=450, end=470, load=2), "most"),
        (moved("more", start=590, end=610, load=2), "hours"),
        (moved("more", start=480, end=500, load=2), "hours"),
        (moved("more", workers=("you",), load=2, start=200, end=220), "work"),
        (moved("sand", workers=("me", "you")), "hands"),
        (moved("more", start=130, end=150, load=2), "twice"),
        (moved("more", start=130, end=150, load=2), "gun"),
        (moved("more", start=121, end=141), "load"),
        (moved("more", start=5, end=25, load=2), "set-up"),
    ],
)
def test_what_cannot_be_is_seen(plan: ShopPlan, rule: str) -> None:
    assert rule in rules(SHOP, plan)


def test_a_cup_holds_so_much_and_a_rack_too() -> None:
    assert rules(replace(SHOP, gun=SprayGun(10, 15, 199.0)), GOOD) == {"cup"}
    assert rules(replace(SHOP, rack_m2=1.9), GOOD) == {"rack"}


def test_days_are_kept() -> None:
    late = replace(SHOP, stints=(replace(SAND, soonest=1), COAT, MORE))
    assert rules(late, GOOD) == {"soonest"}
    over = replace(SHOP, stints=(SAND, replace(COAT, by=99), MORE))
    assert rules(over, GOOD) == {"by"}


def test_what_the_plan_says_that_it_misses_is_not_told_again() -> None:
    plan = moved("coat", start=231, end=251, load=2)
    assert rules(SHOP, plan) == {"most"}
    assert rules(SHOP, replace(plan, missed=(("sand", "coat"),))) == set()


def test_spray_settles_before_dust() -> None:
    shop = replace(SHOP, lags=())
    # The gun is clean at 155, and 45 minutes later at 200.
    assert rules(shop, moved("sand", start=199, end=229)) == {"room"}
    assert rules(shop, moved("sand", start=200, end=230)) == set()
