"""A workshop by number: what goes together, what waits for what, and in which order."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from partsbench.core.plan.floor import SPARE_DAYS, Batches, Floor
from partsbench.core.plan.workshop import (
    Booked,
    Lag,
    ShopPlan,
    SprayGun,
    Stint,
    Worker,
    Workshop,
)

HOURS = ((0, 600), (1440, 2040))
ME = Worker("me", HOURS, ((0, 300),))
WREN = Worker("Wren", ((0, 100),), ((0, 100),), ("sand",))
COAT = Stint("a", "A", "a", 10, "colour", room="r", use="spray", mix="m", ml=100.0, m2=1.0,
             lies=60, soonest=25, by=200)  # fmt: skip
COATS = (
    COAT,
    replace(COAT, key="b", minutes=20, m2=0.0, soonest=40, by=None, loud=True),
    replace(COAT, key="c", minutes=30, ml=50.0, m2=9.0, lies=5, soonest=0, by=105),
)
GUN = SprayGun(10, 15, 250.0)


def floor(*stints: Stint, lags: tuple[Lag, ...] = (), **more: object) -> Floor:
    more.setdefault("workers", (ME,))
    more.setdefault("gun", GUN)
    return Floor(Workshop(stints, lags, **more))  # type: ignore[arg-type]


def test_a_load_is_one_unit_of_its_stints_one_after_another() -> None:
    unit = floor(*COATS, rack_m2=4.0).unit((0, 1, 2))
    assert (unit.begins, unit.length) == (((0, 0), (1, 10), (2, 30)), 60)
    assert (unit.before, unit.after, unit.crew, unit.able) == (10, 15, 1, (0,))
    assert (unit.where, unit.mix, unit.ml, unit.loud) == (("r", "spray"), "m", 250.0, True)
    # What is wider than the rack takes all of it.
    assert unit.lying == ((0, 70, 1.0, 1.0), (30, 35, 4.0, 5.0))
    # The second may begin at 40, ten minutes in; the third by 105, thirty minutes in.
    assert (unit.soonest, unit.by) == (30, 75)


def test_without_rack_or_gun_or_day_nothing_binds() -> None:
    plain = Stint("s", "A", "s", 10, m2=1.0)
    unit = floor(plain).unit((0,))
    assert (unit.lying, unit.before, unit.after, unit.soonest, unit.by) == ((), 0, 0, 0, None)
    assert floor(plain, rack_m2=2.0).unit((0,)).lying == ((0, 10, 1.0, 1.0),)


def test_who_may_do_it_and_when_nobody_is_here() -> None:
    sand = Stint("s", "A", "s", 10, "sand")
    found = floor(COAT, sand, workers=(ME, WREN))
    assert found.able == [(0,), (0, 1)]
    assert found.horizon == 2040 + SPARE_DAYS
    assert SPARE_DAYS == 2 * 1440
    for minute in (0, 99, 100, 299, 300, 599, 600, 1439, 1440, 2039, 2040, found.horizon - 1):
        assert bool(found.plain[0] >> minute & 1) is not any(a <= minute < b for a, b in HOURS)
        assert bool(found.loud[0] >> minute & 1) is (minute >= 300)
        assert bool(found.plain[1] >> minute & 1) is (minute >= 100)
    assert floor(sand, workers=()).horizon == SPARE_DAYS


SETTLES = {("dust", "spray"): 60, ("spray", "dust"): 45}
DUST = Stint("d", "A", "d", 10, "sand", room="r", use="dust")


@pytest.mark.parametrize(
    ("one", "two", "alone", "with_help"),
    [
        (DUST, COAT, 60 + 10, 60 + 10),
        (COAT, DUST, 15 + 45, 15 + 45),
        (replace(DUST, room="s"), COAT, 10, 0),
        (replace(DUST, use="", room=""), COAT, 10, 0),
        (COAT, replace(DUST, use=""), 15, 0),
        (COAT, replace(COAT, key="b"), 0, 0),
        (COAT, replace(COAT, key="b", mix="n"), 25, 0),
        (DUST, replace(DUST, key="b"), 0, 0),
        (replace(DUST, room=""), replace(COAT, room=""), 10, 0),
        (replace(DUST, use="fumes"), COAT, 10, 10),
    ],
)
def test_what_lies_between_two_stints_whatever_else(
    one: Stint, two: Stint, alone: int, with_help: int
) -> None:
    """One pair of hands cleans and sets up itself; with a helper it may be the helper's gun work,
    where the room does not ask for it."""
    for workers, least in (((ME,), alone), ((ME, WREN), with_help)):
        found = floor(one, two, lags=(Lag(one.key, two.key, 0, 500),), settles=SETTLES,
                      workers=workers)  # fmt: skip
        assert found.into == [[], [(0, least, 500)]]
        assert found.out == [[(1, least, 500)], []]
    longer = floor(one, two, lags=(Lag(one.key, two.key, 100),), settles=SETTLES)
    assert longer.into[1] == [(0, 100, None)]


def test_the_other_uses_of_a_room_with_the_settling_before_and_behind() -> None:
    strip = Stint("f", "A", "f", 10, "strip", room="r", use="fumes")
    far = replace(DUST, key="far", room="s")
    quiet = replace(DUST, key="quiet", use="")
    found = floor(COAT, DUST, strip, far, quiet, settles=SETTLES)
    assert found.others == {
        ("r", "spray"): ((("r", "dust"), 60, 45), (("r", "fumes"), 0, 0)),
        ("r", "dust"): ((("r", "spray"), 45, 60), (("r", "fumes"), 0, 0)),
        ("r", "fumes"): ((("r", "spray"), 0, 0), (("r", "dust"), 0, 0)),
        ("s", "dust"): (),
    }


@pytest.mark.parametrize(
    "other",
    [
        {"mix": "n"},
        {"room": "s"},
        {"use": "fumes"},
        {"hands": 2},
        {"loud": True},
        {"work": "sand"},
    ],
)
def test_only_what_is_alike_is_sprayed_from_one_cup(other: dict[str, object]) -> None:
    twin, odd = replace(COAT, key="b"), replace(COAT, key="c", **other)  # type: ignore[arg-type]
    found = floor(COAT, twin, odd, workers=(ME, WREN))
    assert found.joins(COAT, twin)
    assert not found.joins(COAT, odd)
    dry = replace(DUST, key="e")
    assert not floor(DUST, dry).joins(DUST, dry), "nothing is in the gun"


def test_a_cup_holds_so_much_and_the_rack_too() -> None:
    one, two = COAT, replace(COAT, key="b", ml=150.0, m2=2.0)
    assert floor(one, two).one_cup([0, 1])
    assert not floor(one, replace(two, ml=150.1)).one_cup([0, 1])
    assert floor(one, two, rack_m2=3.0).one_cup([0, 1])
    assert not floor(one, two, rack_m2=2.9).one_cup([0, 1])
    # Sums of tenths are not exact; that is no drop too much.
    tenths = [replace(COAT, key=str(n), ml=0.1, m2=0.1) for n in range(3)]
    assert floor(*tenths, gun=SprayGun(0, 0, 0.3), rack_m2=0.3).one_cup([0, 1, 2])


def test_a_load_of_stints_that_wait_for_each_other() -> None:
    after = (Lag("a", "b"),)
    assert floor(*COATS, lags=after).units(((0, 1),)) is not None
    assert floor(*COATS, lags=after).units(((1, 0),)) is None, "the second goes first"
    assert floor(*COATS, lags=(Lag("a", "b", 5),)).units(((0, 1),)) is None, "it dries in the cup"
    # What lies between two of one load cannot come while the load is sprayed.
    between = (Lag("a", "d"), Lag("d", "b"))
    assert floor(*COATS, DUST, lags=between).units(((0, 1),)) is None
    assert floor(*COATS, DUST, lags=between).units(((0, 2),)) is not None


def test_units_are_the_loads_and_everything_else_by_itself() -> None:
    found = floor(*COATS, DUST, lags=(Lag("d", "c"), Lag("d", "a"), Lag("b", "d"))).units(((0, 2),))
    assert found is not None
    assert [u.members for u in found.units] == [(0, 2), (1,), (3,)]
    assert found.waits == ((2,), (), (1,))


def test_a_stint_that_waits_for_itself_is_a_mistake() -> None:
    with pytest.raises(ValueError, match="waits for itself"):
        floor(COAT, DUST, lags=(Lag("a", "d"), Lag("d", "a")))


@pytest.mark.parametrize("seed", range(10))
def test_everything_comes_after_what_it_waits_for(seed: int) -> None:
    random = Random(seed)
    stints = [replace(DUST, key=str(n)) for n in range(12)]
    turns = random.sample(range(12), 12)
    pairs = [random.sample(range(12), 2) for _ in range(14)]
    lags = tuple(Lag(str(turns[min(p)]), str(turns[max(p)])) for p in pairs)
    order = floor(*stints, lags=lags).order
    assert sorted(order) == list(range(12))
    assert all(order.index(int(x.before)) < order.index(int(x.after)) for x in lags)


def test_a_chain_stays_together_and_the_first_comes_first() -> None:
    stints = [replace(DUST, key=str(n)) for n in range(6)]
    lags = (Lag("0", "4"), Lag("4", "2"), Lag("1", "5"), Lag("1", "3"))
    assert floor(*stints, lags=lags).order == [0, 4, 2, 1, 3, 5]


def test_cups_of_a_plan_by_number() -> None:
    def sprayed(key: str, load: int) -> Booked:
        return Booked(key, 0, 10, ("me",), load)

    plan = ShopPlan((sprayed("c", 2), sprayed("a", 1), sprayed("b", 2), sprayed("gone", 1),
                     sprayed("d", 0)))  # fmt: skip
    expected: Batches = ((2, 1), (0,))
    assert floor(*COATS, DUST).cups(plan) == expected
