"""A plan gone through in its own order: as planned it ends as planned, slower hands later."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.plan.search import best_plan
from partsbench.core.plan.walk import Walk
from partsbench.core.plan.workshop import Booked, Lag, ShopPlan, SprayGun, Stint, Workshop
from tests.support import workshops


def work(key: str, minutes: int, **more: object) -> Stint:
    return Stint(key, key[0], key, minutes, "sand", **more)  # type: ignore[arg-type]


def booked(*spans: tuple[str, int, int]) -> ShopPlan:
    return ShopPlan(tuple(Booked(key, a, a + length, ("me",)) for key, a, length in spans))


@pytest.mark.parametrize("seed", range(6))
def test_at_the_planned_pace_it_ends_no_later_than_planned_and_not_before_the_bound(
    seed: int,
) -> None:
    shop = replace(workshops.of_paths(seed, 6, 3), promised=())
    found = best_plan(shop, rounds=2)
    ends = Walk(shop, found.plan).ends([s.minutes for s in shop.stints])
    for piece, end in found.plan.ends(shop).items():
        assert found.proven.ends[piece] <= ends[piece] <= end


def test_slower_hands_end_later_and_quicker_ones_keep_the_waits() -> None:
    shop = Workshop(
        (work("A1", 60), work("A2", 30)), (Lag("A1", "A2", 120),), (workshops.worker(),)
    )
    walk = Walk(shop, booked(("A1", 0, 60), ("A2", 180, 30)))
    assert walk.ends([60, 30]) == {"A": 210}
    assert walk.ends([100, 40]) == {"A": 100 + 120 + 40}
    assert walk.ends([10, 10]) == {"A": 10 + 120 + 10}


def test_what_no_longer_fits_waits_for_the_morning_and_shorter_work_is_done_meanwhile() -> None:
    """Eight to six: 600 minutes, and the morning is at 1440."""
    shop = Workshop((work("A", 500), work("B", 90), work("C", 10)), (), (workshops.worker(),))
    walk = Walk(shop, booked(("A", 0, 500), ("B", 500, 90), ("C", 590, 10)))
    assert walk.ends([500, 90, 10]) == {"A": 500, "B": 590, "C": 600}
    assert walk.ends([520, 90, 10]) == {"A": 520, "B": 1440 + 90, "C": 530}


def test_nothing_is_begun_in_the_evening_that_must_be_followed_at_once() -> None:
    shop = Workshop(
        (work("A", 500), work("B1", 40), work("B2", 30)),
        (Lag("B1", "B2", 5, 10),),
        (workshops.worker(),),
    )
    walk = Walk(shop, booked(("A", 0, 500), ("B1", 500, 40), ("B2", 545, 30)))
    assert walk.ends([500, 40, 30])["B"] == 575
    assert walk.ends([540, 40, 30])["B"] == 1440 + 40 + 5 + 30
    assert walk.ends([525, 40, 30])["B"] == 600
    assert walk.ends([528, 40, 30])["B"] == 1440 + 40 + 5 + 30, "the wait between them counts"


def test_a_room_settles_and_a_load_stays_one() -> None:
    gun = SprayGun(10, 15, 600.0)
    coats = [
        Stint(k, k[0], k, 20, "colour", room="r", use="spray", mix="m", ml=100.0, loud=True)
        for k in ("B", "C")
    ]
    sand = work("A", 30, room="r", use="dust")
    shop = Workshop(
        (sand, *coats),
        (),
        (workshops.worker(),),
        gun,
        {("dust", "spray"): 60, ("spray", "dust"): 30},
    )
    spans = (("A", 0, 30, 0), ("B", 100, 120, 1), ("C", 120, 140, 1))
    plan = ShopPlan(tuple(Booked(key, a, b, ("me",), load) for key, a, b, load in spans))
    walk = Walk(shop, plan)
    assert walk.ends([30, 20, 20]) == {"A": 30, "B": 120, "C": 140}
    assert walk.ends([50, 25, 20]) == {"A": 50, "B": 50 + 60 + 10 + 25, "C": 50 + 60 + 10 + 45}
