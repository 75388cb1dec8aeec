"""A plan gone through in its own order: as planned it ends as planned, slower hands later."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from partsbench.core.plan.search import best_plan
from partsbench.core.plan.walk import Walk
from partsbench.core.plan.workshop import (
    Booked,
    FromTo,
    Lag,
    ShopPlan,
    SprayGun,
    Stint,
    Worker,
    Workshop,
)
from tests.support import workshops


def work(key: str, minutes: int, **more: object) -> Stint:
    return Stint(key, key[0], key, minutes, "sand", **more)  # type: ignore[arg-type]


def booked(*spans: tuple[str, int, int]) -> ShopPlan:
    return ShopPlan(tuple(Booked(key, a, a + length, ("me",)) for key, a, length in spans))


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


DAY = ((0, 600), (1440, 2040), (2880, 3480))
LUNCH = ((0, 600), (840, 1440), (2880, 3480))
"""A pause of four hours, which is the shortest night, and one of a day."""


def me(here: tuple[FromTo, ...] = DAY, loud: tuple[FromTo, ...] | None = None) -> Worker:
    return Worker("me", here, here if loud is None else loud)


def coat(key: str, **more: object) -> Stint:
    return Stint(key, key[0], key, 20, "colour", mix="m", ml=10.0, **more)  # type: ignore[arg-type]


def ends(shop: Workshop, minutes: list[int], *spans: tuple[str, int, str, int]) -> dict[str, int]:
    """Of a plan of (key, start, by whom, load)."""
    own = {s.key: s.minutes for s in shop.stints}
    plan = ShopPlan(tuple(Booked(key, a, a + own[key], (who,), load)
                          for key, a, who, load in spans))  # fmt: skip
    return Walk(shop, plan).ends(minutes)


def test_the_gun_is_set_up_first_and_cleaned_before_anything_else_is_done() -> None:
    shop = Workshop((coat("C"), work("A", 30)), (), (me(),), SprayGun(10, 15))
    spans = ("C", 10, "me", 1), ("A", 45, "me", 0)
    assert ends(shop, [20, 30], *spans) == {"C": 30, "A": 75}
    assert ends(shop, [25, 30], *spans) == {"C": 35, "A": 80}


def test_there_is_one_gun_for_all_hands() -> None:
    shop = Workshop((coat("C"), coat("D")), (), (me(), replace(me(), name="Wren")),
                    SprayGun(10, 15))  # fmt: skip
    spans = ("C", 10, "me", 1), ("D", 55, "Wren", 2)
    assert ends(shop, [20, 20], *spans) == {"C": 30, "D": 75}
    assert ends(shop, [90, 20], *spans) == {"C": 100, "D": 145}


def test_each_of_a_load_waits_for_what_it_waits_for() -> None:
    """The third of them dries for a hundred minutes; another waits for the first of them only."""
    shop = Workshop(
        (work("X", 10), coat("A"), coat("B"), coat("C"), work("Y", 10)),
        (Lag("X", "C", 100), Lag("A", "Y", 5)),
        (me(), replace(me(), name="Wren")),
    )
    spans = (("X", 0, "Wren", 0), ("A", 70, "me", 1), ("B", 90, "me", 1), ("C", 110, "me", 1),
             ("Y", 95, "Wren", 0))  # fmt: skip
    found = ends(shop, [10, 20, 20, 20, 10], *spans)
    assert found == {"X": 10, "A": 90, "B": 110, "C": 130, "Y": 105}
    slower = ends(shop, [10, 30, 15, 20, 10], *spans)
    assert slower == {"X": 10, "A": 95, "B": 110, "C": 130, "Y": 110}


@pytest.mark.parametrize(("most", "begins"), [(239, 840), (240, 540)])
def test_what_must_follow_before_the_shortest_night_is_over_is_not_begun_in_the_evening(
    most: int, begins: int
) -> None:
    shop = Workshop(
        (work("A", 540), work("B", 40), work("C", 30)), (Lag("B", "C", 0, most),), (me(LUNCH),)
    )
    spans = ("A", 0, "me", 0), ("B", 540, "me", 0), ("C", 840, "me", 0)
    assert ends(shop, [540, 40, 30], *spans)["B"] == begins + 40


def test_over_a_pause_that_is_no_night_nothing_has_to_follow_at_once() -> None:
    shop = Workshop((work("A", 560), work("B", 30), work("C", 30)), (Lag("B", "C", 0, 0),),
                    (me(((0, 600), (700, 1400))),))  # fmt: skip
    spans = ("A", 0, "me", 0), ("B", 560, "me", 0), ("C", 700, "me", 0)
    assert ends(shop, [560, 30, 30], *spans) == {"A": 560, "B": 590, "C": 730}


def test_meanwhile_is_before_a_night_of_four_hours_too_and_up_to_its_last_minute() -> None:
    shop = Workshop((work("A", 500), work("B", 90), work("C", 10)), (), (me(LUNCH),))
    spans = ("A", 0, "me", 0), ("B", 500, "me", 0), ("C", 590, "me", 0)
    assert ends(shop, [520, 90, 10], *spans) == {"A": 520, "B": 930, "C": 530}
    assert ends(shop, [520, 90, 80], *spans)["C"] == 600
    assert ends(shop, [520, 90, 81], *spans)["C"] == 1011
    assert ends(shop, [520, 90, 250], *spans)["C"] == 930 + 250, "that is for the next stretch"
    shorter = replace(shop, workers=(me(((0, 600), (839, 1440))),))
    assert ends(shorter, [520, 90, 10], *spans)["C"] == 939, "no night"


def test_what_waits_for_its_own_sake_keeps_its_turn() -> None:
    """B dries until the next morning: C is planned behind it and comes behind it."""
    shop = Workshop((work("A", 100), work("B", 30), work("C", 30)), (Lag("A", "B", 1400),), (me(),))
    spans = ("A", 0, "me", 0), ("B", 1500, "me", 0), ("C", 1530, "me", 0)
    assert ends(shop, [100, 30, 30], *spans) == {"A": 100, "B": 1530, "C": 1560}


def test_the_set_up_may_begin_before_what_it_waits_for_is_over() -> None:
    """At 595 it could have been set up, so that the evening is free for what comes behind."""
    shop = Workshop((work("A", 100), coat("B"), work("C", 30)), (Lag("A", "B", 505),), (me(),),
                    SprayGun(10, 15))  # fmt: skip
    spans = ("A", 0, "me", 0), ("B", 1450, "me", 1), ("C", 1485, "me", 0)
    assert ends(shop, [100, 20, 30], *spans) == {"A": 100, "B": 1470, "C": 130}


def test_a_stretch_too_short_for_it_is_free_from_its_first_minute() -> None:
    shop = Workshop((work("B", 200), work("C", 50)), (), (me(((0, 100), *DAY[1:])),))
    spans = ("B", 1440, "me", 0), ("C", 1640, "me", 0)
    assert ends(shop, [200, 50], *spans) == {"B": 1640, "C": 50}


def test_of_what_follows_at_once_six_are_looked_ahead() -> None:
    """An hour each: seven of them are to fit before the evening."""
    keys = "FGHIJKLMN"
    chain = tuple(work(k, 60) for k in keys)
    lags = tuple(Lag(a, b, 0, 10) for a, b in pairwise(keys))
    shop = Workshop((work("A", 180), *chain), lags, (me(),))
    spans = [("A", 0, "me", 0), *((k, 1440 + 60 * n, "me", 0) for n, k in enumerate(keys))]
    assert ends(shop, [180, *[60] * 9], *spans)["F"] == 240
    assert ends(shop, [181, *[60] * 9], *spans)["F"] == 1500


def test_loud_work_waits_for_the_hours_in_which_it_may_be_loud() -> None:
    quiet = me(loud=((60, 300), (1500, 2040)))
    shop = Workshop((work("A", 100, loud=True), work("B", 100)), (), (quiet,))
    spans = ("A", 60, "me", 0), ("B", 160, "me", 0)
    assert ends(shop, [100, 100], *spans) == {"A": 160, "B": 260}
    assert ends(shop, [250, 100], *spans)["A"] == 1750


def test_what_has_no_length_ends_when_it_begins_and_leaves_the_room_as_it_was() -> None:
    comes = work("Z", 0, room="r", use="dust")
    spray = coat("C", room="r", use="spray")
    shop = Workshop((comes, spray), (), (me(),), settles={("dust", "spray"): 60})
    spans = ("Z", 0, "me", 0), ("C", 0, "me", 1)
    assert ends(shop, [0, 20], *spans) == {"Z": 0, "C": 20}
    assert ends(shop, [5, 20], *spans) == {"Z": 5, "C": 85}


def test_work_that_goes_into_no_stretch_with_what_must_follow_goes_by_itself() -> None:
    """Behind 250 minutes there is room for 300, and not for the 700 of both together."""
    shop = Workshop(
        (work("A", 250), work("B", 300), work("C", 400)), (Lag("B", "C", 0, 10),), (me(),)
    )
    spans = ("A", 0, "me", 0), ("B", 250, "me", 0), ("C", 1440, "me", 0)
    assert ends(shop, [250, 300, 400], *spans)["B"] == 550
    assert ends(shop, [350, 300, 400], *spans)["B"] == 1740
    # The 600 of both fill one day, and so they wait for it.
    assert ends(shop, [250, 300, 300], *spans)["B"] == 1740
    assert ends(shop, [250, 700, 300], *spans)["B"] == 950, "as it comes: no day is as long"


def test_of_stretches_the_longest_says_what_can_fit() -> None:
    shop = Workshop((work("A", 200), work("B", 100), work("C", 350)), (Lag("B", "C", 0, 10),),
                    (me(((0, 600), (840, 1000), (1440, 2040))),))  # fmt: skip
    spans = ("A", 0, "me", 0), ("B", 1440, "me", 0), ("C", 1540, "me", 0)
    assert ends(shop, [200, 100, 350], *spans)["B"] == 1540
    assert ends(shop, [150, 100, 350], *spans)["B"] == 250


def test_before_the_first_hours_it_waits_for_them() -> None:
    shop = Workshop((work("A", 50),), (), (me(((100, 600), (1440, 2040), (2880, 3480))),))
    assert ends(shop, [60], ("A", 100, "me", 0)) == {"A": 160}
    assert ends(shop, [500], ("A", 100, "me", 0)) == {"A": 600}
    assert ends(shop, [501], ("A", 100, "me", 0)) == {"A": 1941}


@pytest.mark.parametrize("seed", range(6))
def test_at_the_planned_pace_it_ends_no_later_than_planned_and_not_before_the_bound(
    seed: int,
) -> None:
    shop = replace(workshops.of_paths(seed, 6, 3), promised=())
    found = best_plan(shop, rounds=2)
    ends = Walk(shop, found.plan).ends([s.minutes for s in shop.stints])
    for piece, end in found.plan.ends(shop).items():
        assert found.proven.ends[piece] <= ends[piece] <= end
