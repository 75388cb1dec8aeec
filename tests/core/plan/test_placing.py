"""Each thing as soon as it can be behind what is placed: beside a plain search minute by minute
that asks the checker, and rule by rule in cases small enough to see."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from random import Random

import pytest

from partsbench.core.plan.check import faults
from partsbench.core.plan.floor import Batches, Floor, Unit
from partsbench.core.plan.placing import place_all
from partsbench.core.plan.slots import LOOK
from partsbench.core.plan.workshop import (
    Booked,
    Lag,
    ShopPlan,
    SprayGun,
    Stint,
    Worker,
    Workshop,
)
from tests.support import workshops

NEVER_JOINS = -1_000_000
STEP = 5
"""Minutes: every time of these shops is a multiple of it."""


def unbound(seed: int, people: int) -> Workshop:
    """A shop without windows and latest days, with nothing of no length."""
    shop = workshops.mixed(seed, parts=4, steps=3, people=people)
    stints = (replace(s, by=None, minutes=max(STEP, s.minutes)) for s in shop.stints)
    lags = (replace(x, most=None) for x in shop.lags)
    return replace(shop, stints=tuple(stints), lags=tuple(lags))


def some_loads(floor: Floor, random: Random) -> Batches:
    """Two coats of one mix in one cup, where that can be."""
    pairs = [
        (i, j)
        for i, j in combinations(range(len(floor.stints)), 2)
        if floor.joins(floor.stints[i], floor.stints[j]) and floor.one_cup((i, j))
    ]
    pair = random.choice(pairs) if pairs else None
    return (pair,) if pair and floor.units((pair,)) is not None else ()


def fits(shop: Workshop, placed: list[Booked]) -> bool:
    """Whether what is placed so far can be worked, by the checker."""
    keys = {p.stint for p in placed}
    part = replace(
        shop,
        stints=tuple(s for s in shop.stints if s.key in keys),
        lags=tuple(x for x in shop.lags if x.before in keys and x.after in keys),
    )
    return not faults(part, ShopPlan(tuple(placed)))


def soonest(floor: Floor, unit: Unit, placed: list[Booked], load: int) -> list[Booked]:
    shop = floor.shop
    for at in range(0, floor.horizon, STEP):
        if not any(a <= at - unit.before < b for w in shop.workers for a, b in w.here):
            continue
        for who in combinations(unit.able, unit.crew):
            names = tuple(shop.workers[w].name for w in who)
            mine = [
                Booked(s.key, at + o, at + o + s.minutes, names, load if s.mix else 0)
                for i, o in unit.begins
                for s in (floor.stints[i],)
            ]
            if fits(shop, [*placed, *mine]):
                return mine
    raise AssertionError("nowhere")


@pytest.mark.parametrize("seed", range(14))
def test_each_is_placed_where_the_checker_first_finds_it_can_be(seed: int) -> None:
    random = Random(seed)
    shop = unbound(seed, people=1 + seed % 2)
    floor = Floor(shop)
    made = floor.units(some_loads(floor, random))
    assert made is not None
    rank = [random.random() for _ in shop.stints]
    lower = {random.randrange(len(shop.stints)): STEP * random.randrange(60)}
    placed: list[Booked] = []
    left = set(range(len(made.units)))
    late = replace(
        shop,
        stints=tuple(
            replace(s, soonest=max(s.soonest, lower.get(i, 0))) for i, s in enumerate(shop.stints)
        ),
    )
    plain = Floor(late)
    while left:
        ready = [u for u in left if not left & set(made.waits[u])]
        u = min(ready, key=lambda u: (min(rank[i] for i in made.units[u].members), u))
        placed += soonest(plain, made.units[u], placed, len(placed) + 1)
        left.remove(u)
    found = place_all(floor, made, rank, NEVER_JOINS, lower).plan()
    assert found.missed == ()
    assert {p.stint: (p.start, p.workers) for p in found.placed} == {
        p.stint: (p.start, p.workers) for p in placed
    }


@pytest.mark.parametrize("seed", range(40))
def test_any_order_with_any_loads_gives_a_plan_that_can_be_worked(seed: int) -> None:
    random = Random(seed)
    shop = workshops.mixed(seed, parts=5, people=1 + seed % 2)
    floor = Floor(shop)
    made = floor.units(some_loads(floor, random))
    assert made is not None
    rank = [random.random() for _ in shop.stints]
    table = place_all(floor, made, rank, random.choice((0, 25, 120, NEVER_JOINS)))
    assert faults(shop, table.plan()) == []
    # What is said to be missed is missed.
    at = table.plan().at()
    for a, b in table.plan().missed:
        own = next(s for s in shop.stints if s.key == b)
        if a == b:
            assert own.by is None or at[a].start > own.by
            continue
        (most,) = [x.most for x in shop.lags if (x.before, x.after) == (a, b)]
        assert most is not None and at[b].start - at[a].end > most


ME = Worker("me", ((0, 600), (1440, 2040)), ((0, 300), (1440, 1740)))
WREN = replace(ME, name="Wren")
COAT = Stint("c", "A", "c", 20, "colour", room="r", use="spray", mix="m", ml=100.0)
SAND = Stint("s", "A", "s", 30, "sand")


def shop_of(
    *stints: Stint, lags: tuple[Lag, ...] = (), people: int = 1, **more: object
) -> Workshop:
    more.setdefault("gun", SprayGun(10, 15, 250.0))
    return Workshop(stints, lags, (ME, WREN)[:people], **more)  # type: ignore[arg-type]


def placed(
    shop: Workshop, turn: str = "", late: int = 0, loads: Batches = (), **lower: int
) -> ShopPlan:
    """Everything in the turn of these keys; what is not named comes last."""
    floor = Floor(shop)
    made = floor.units(loads)
    assert made is not None
    rank = [float(turn.find(s.key) if s.key in turn else 99) for s in shop.stints]
    held = {floor.number[key]: minute for key, minute in lower.items()}
    plan = place_all(floor, made, rank, late, held).plan()
    assert faults(shop, plan) == []
    return plan


def starts(plan: ShopPlan) -> dict[str, int]:
    return {p.stint: p.start for p in plan.placed}


def sprayed(plan: ShopPlan) -> list[str]:
    """The loads, as `ab`."""
    found: dict[int, str] = {}
    for p in plan.placed:
        if p.load:
            found[p.load] = found.get(p.load, "") + p.stint
    return [found[load] for load in sorted(found)]


def coats(keys: str, **more: object) -> list[Stint]:
    return [replace(COAT, key=k, **more) for k in keys]  # type: ignore[arg-type]


def test_a_coat_joins_the_cup_that_is_open_as_far_as_it_goes() -> None:
    plan = placed(shop_of(*coats("abc")))
    # Ten to set up, two of twenty; fifteen to clean and ten to set up again.
    assert starts(plan) == {"a": 10, "b": 30, "c": 75}
    assert sprayed(plan) == ["ab", "c"]
    assert [p.load for p in plan.placed] == [1, 1, 2]
    assert sprayed(placed(shop_of(*coats("abc", ml=80.0)))) == ["abc"]
    assert sprayed(placed(shop_of(*coats("abc", ml=250 / 3)))) == ["abc"]
    assert sprayed(placed(shop_of(*coats("abc", ml=84.0)))) == ["ab", "c"]


def test_a_coat_that_is_never_to_join_has_a_cup_of_its_own() -> None:
    plan = placed(shop_of(*coats("ab")), late=NEVER_JOINS)
    assert (starts(plan), sprayed(plan)) == ({"a": 10, "b": 55}, ["a", "b"])


def test_it_joins_no_cup_behind_which_something_else_lies() -> None:
    """The hands, the room or the gun are taken: it is set up anew, where that is no later."""
    fine = shop_of(*coats("a"), replace(SAND, soonest=45), *coats("b"))
    assert sprayed(placed(fine, "asb")) == ["a", "b"]
    later = replace(fine, stints=(*fine.stints[:1], replace(SAND, soonest=65), fine.stints[2]))
    assert sprayed(placed(later, "asb")) == ["ab"]
    other = shop_of(*coats("a"), *coats("n", mix="n", soonest=74), *coats("b"), people=2)
    assert sprayed(placed(other, "anb")) == ["a", "n", "b"]
    sooner = replace(other, stints=(other.stints[0], replace(other.stints[1], soonest=75),
                                    other.stints[2]))  # fmt: skip
    assert sprayed(placed(sooner, "anb")) == ["ab", "n"]
    # Another pair of hands makes dust in the room, or in the next one.
    for room, loads in (("r", ["a", "b"]), ("q", ["ab"])):
        dust = replace(SAND, room=room, use="dust", soonest=45)
        shop = shop_of(*coats("a"), dust, *coats("b"))
        helped = replace(ME, only=("colour",)), replace(WREN, only=("sand",))
        assert sprayed(placed(replace(shop, workers=helped), "asb")) == loads


@pytest.mark.parametrize(
    "other",
    [{"mix": "n"}, {"room": "q"}, {"work": "prime"}, {"hands": 2}, {"soonest": 31},
     {"by": 29, "soonest": 0}],
)  # fmt: skip
def test_only_what_is_alike_and_ready_joins(other: dict[str, object]) -> None:
    shop = shop_of(*coats("a"), *coats("b", **other), people=2)
    only = replace(shop, workers=(ME, replace(WREN, only=("prime",))))
    if "work" in other:
        shop = replace(only, workers=(replace(ME, only=("colour",)), WREN))
    assert sprayed(placed(shop, "ab")) != ["ab"]
    assert sprayed(placed(shop_of(*coats("ab"), people=2), "ab")) == ["ab"]


def test_what_joins_may_begin_later_for_that_but_not_too_late() -> None:
    """The second cup of the same mix is open from 200 on; alone it could be sprayed at 55."""
    shop = shop_of(*coats("a", ml=250.0), *coats("d", ml=100.0, soonest=200), *coats("b"))
    for late, joins in ((164, False), (165, True)):
        assert (sprayed(placed(shop, "adb", late)) == ["a", "db"]) is joins
    due = replace(shop, stints=(*shop.stints[:2], replace(COAT, key="b", by=219)))
    assert sprayed(placed(due, "adb", 500)) == ["a", "d", "b"]
    in_time = replace(due, stints=(*shop.stints[:2], replace(COAT, key="b", by=220)))
    assert sprayed(placed(in_time, "adb", 500)) == ["a", "db"]


def test_it_does_not_join_where_it_finds_no_place_on_the_rack() -> None:
    both = coats("ab", m2=1.0, lies=60)
    assert sprayed(placed(shop_of(*both, rack_m2=2.0))) == ["ab"]
    plan = placed(shop_of(*both, rack_m2=1.9))
    assert (sprayed(plan), starts(plan)) == (["a", "b"], {"a": 10, "b": 90})


def test_a_room_is_clear_to_the_minute_before_another_use_begins() -> None:
    """Wren sands from 100 on; what is sprayed before that is cleaned away and settled by then."""
    helped = replace(ME, only=("colour",)), replace(WREN, only=("sand",))
    settles = {("spray", "dust"): 20, ("dust", "spray"): 30}
    dust = replace(SAND, room="r", use="dust", soonest=100)
    # Ten to set up, fifteen to clean: until 80 it is 55 minutes of spraying, and not 56.
    for minutes, begins in ((55, 10), (56, 170)):
        shop = shop_of(*coats("a", minutes=minutes), dust, settles=settles)
        assert starts(placed(replace(shop, workers=helped), "sa"))["a"] == begins


def test_the_rack_is_filled_and_freed_to_the_minute() -> None:
    """Wide and narrow pieces: the narrow one finds its place beside the second."""
    wide, narrow = coats("ab", m2=1.5, lies=100), coats("cd", m2=0.5, lies=10)
    shop = shop_of(*wide, *narrow, rack_m2=2.0, gun=SprayGun(0, 0, 0.0))
    # a until 120; c beside it from 20 until 50, d after that; b when a is dry.
    assert starts(placed(shop, "acdb", NEVER_JOINS)) == {"a": 0, "c": 20, "d": 50, "b": 120}
    assert starts(placed(shop, "abcd", NEVER_JOINS)) == {"a": 0, "b": 120, "c": 20, "d": 50}
    # Looked for as far as need be: what lies for three days is taken off on the fourth.
    slow = shop_of(*coats("ab", m2=1.5, lies=4000), rack_m2=2.0, gun=SprayGun(0, 0, 0.0))
    slow = replace(slow, workers=(replace(ME, here=((0, 9000),)),))
    assert starts(placed(slow, "ab", NEVER_JOINS)) == {"a": 0, "b": 4020}
    exact = [replace(s, m2=0.7) for s in (*wide, *narrow[:1])]
    tenths = shop_of(*exact, rack_m2=2.1, gun=SprayGun(0, 0, 0.0))
    assert starts(placed(tenths, "abc", NEVER_JOINS)) == {"a": 0, "b": 20, "c": 40}


def test_work_for_two_begins_when_both_are_free() -> None:
    shop = shop_of(replace(SAND, key="a", minutes=50), replace(SAND, key="b", hands=2), people=2)
    plan = placed(shop, "ab")
    assert starts(plan) == {"a": 0, "b": 50}
    assert {p.stint: p.workers for p in plan.placed} == {"a": ("me",), "b": ("me", "Wren")}
    beside = replace(shop, stints=(*shop.stints, replace(SAND, key="c")))
    last = placed(beside, "abc").at()["c"]
    assert (last.start, last.workers) == (0, ("Wren",))


def test_what_has_no_length_needs_a_free_minute_to_be_in() -> None:
    comes = replace(SAND, key="h", minutes=0, soonest=20)
    assert starts(placed(shop_of(SAND, comes), "sh"))["h"] == 30
    assert starts(placed(shop_of(SAND, comes), "hs")) == {"s": 0, "h": 20}
    evening = replace(comes, soonest=600)
    assert starts(placed(shop_of(SAND, evening), "sh"))["h"] == 1440


def test_a_first_stint_is_put_off_so_that_what_must_follow_can() -> None:
    """Ten hours a day: staining at 540 would leave the wipe for tomorrow."""
    stints = (
        replace(SAND, minutes=540),
        replace(SAND, key="a"),
        replace(SAND, key="b", minutes=40),
    )
    shop = shop_of(*stints, lags=(Lag("a", "b", 0, 10),))
    assert starts(placed(shop, "sab")) == {"s": 0, "a": 1440, "b": 1470}
    # By as many minutes as the second was too late by: no more.
    shop = shop_of(SAND, replace(SAND, key="a"), replace(SAND, key="b", soonest=500),
                   lags=(Lag("a", "b", 0, 10),))  # fmt: skip
    assert starts(placed(shop, "asb")) == {"a": 460, "s": 0, "b": 500}
    assert starts(placed(shop, "sab")) == {"a": 460, "s": 0, "b": 500}


def test_what_follows_a_stint_that_was_put_off_comes_right_behind_it() -> None:
    """Other work of the same turn does not get between them."""
    stints = (replace(SAND, key="a"), replace(SAND, key="b", soonest=100),
              replace(SAND, key="z", soonest=95, minutes=60))  # fmt: skip
    shop = shop_of(*stints, lags=(Lag("a", "b", 0, 10),))
    # In its turn b would come at 155, 115 minutes too late: by so much a is put off.
    assert starts(placed(shop, "azb")) == {"a": 115, "b": 145, "z": 175}


def test_what_has_a_latest_day_goes_before_everything_else() -> None:
    shop = shop_of(replace(SAND, minutes=100), replace(SAND, key="a", by=50))
    assert starts(placed(shop, "sa")) == {"a": 0, "s": 30}
    assert starts(placed(replace(shop, stints=(shop.stints[0], replace(SAND, key="a", by=100))),
                         "sa")) == {"s": 0, "a": 100}  # fmt: skip


def test_a_latest_day_that_nothing_can_keep_is_given_up_and_told() -> None:
    shop = shop_of(SAND, replace(SAND, key="a", soonest=60, by=50))
    plan = placed(shop, "sa", a=400)
    assert plan.missed == (("a", "a"),)
    assert starts(plan) == {"s": 0, "a": 60}, "as soon as can be, also where it stood later"


def test_a_window_that_nothing_can_keep_is_given_up_and_told() -> None:
    """Ten hours of work an evening later than its window; of the others nothing is missed."""
    stints = (replace(SAND, key="a", minutes=60), replace(SAND, key="b", minutes=600))
    plan = placed(shop_of(*stints, lags=(Lag("a", "b", 0, 30),)), "ab")
    assert plan.missed == (("a", "b"),)


def test_what_nobody_has_time_for_lies_behind_everything() -> None:
    long = (replace(SAND, key="a", minutes=700), replace(SAND, key="b", minutes=800))
    shop = replace(shop_of(SAND, *long), workers=(replace(ME, here=((0, 600), (1000, 1216))),))
    horizon = Floor(shop).horizon
    assert horizon == 2 * LOOK
    plan = placed(shop, "abs")
    assert set(plan.missed) == {("a", "a"), ("b", "b")}
    assert starts(plan) == {"s": 0, "a": horizon, "b": horizon + 1440}
    assert plan.at()["a"].workers == ("me",)


def test_what_fits_into_no_day_is_told_as_missed() -> None:
    long = replace(SAND, key="a", minutes=700)
    shop = replace(shop_of(SAND, long), workers=(replace(ME, here=((0, 600), (1000, 1500))),))
    plan = placed(shop, "sa")
    assert plan.missed == (("a", "a"),)
    assert plan.at()["a"].start >= Floor(shop).horizon - 700


def test_what_is_held_back_starts_no_sooner() -> None:
    assert starts(placed(shop_of(SAND, replace(SAND, key="a")), "sa", s=200)) == {"s": 200, "a": 0}
    # A load by each of its stints: the second is twenty minutes behind the first.
    shop = shop_of(*coats("ab"))
    assert starts(placed(shop, "ab", loads=((0, 1),), b=100)) == {"a": 80, "b": 100}


def test_a_load_is_late_by_the_first_of_its_stints_that_is() -> None:
    """b may be sprayed by 45, twenty minutes behind a, which dries for long behind s."""
    lags = (Lag("s", "a", 5, 20),)
    shop = shop_of(SAND, *coats("ab"), lags=lags)
    plan = placed(shop, "sab", loads=((1, 2),))
    assert starts(plan) == {"s": 0, "a": 40, "b": 60}
    due = shop_of(SAND, coats("a")[0], coats("b", by=59)[0], lags=lags)
    assert placed(due, "sab", loads=((1, 2),)).missed == (("b", "b"),)


def test_a_plan_is_in_order_of_time_and_says_what_it_missed_once() -> None:
    stints = (replace(SAND, key="a", minutes=60), replace(SAND, key="b", minutes=600))
    plan = placed(shop_of(*stints, lags=(Lag("a", "b", 0, 30),)), "ba")
    assert [p.start for p in plan.placed] == sorted(p.start for p in plan.placed)
    assert len(set(plan.missed)) == len(plan.missed)


def test_the_plan_that_comes_out_is_the_one_that_came_out_before() -> None:
    """Pinned: how a pass goes back decides which of many right plans comes out."""
    once, often, most = (workshops.mixed(seed, parts=7, steps=3) for seed in (14, 21, 31))
    assert starts(placed(once, "", 25)) == {
        "0/0": 0, "6/0": 0, "1/0": 40, "1/1": 60, "5/0": 60, "1/2": 75, "5/1": 95,
        "0/1": 120, "5/2": 140, "6/1": 150, "6/2": 175, "2/0": 1450, "2/1": 1520, "4/0": 1530,
        "4/1": 1565, "2/2": 1650, "3/0": 2890, "4/2": 2930, "3/1": 3020, "3/2": 4320,
    }  # fmt: skip
    assert starts(placed(often, "", 25)) == {
        "0/0": 10, "0/1": 70, "3/0": 75, "6/0": 75, "2/0": 85, "2/1": 110, "2/2": 160,
        "5/0": 170, "6/1": 195, "1/0": 1440, "1/1": 1445, "3/1": 1475, "5/1": 1500, "4/0": 1545,
        "6/2": 1560, "4/1": 1605, "4/2": 1620, "5/2": 2880,
    }  # fmt: skip
    # Here it goes back as often as it may, and then misses what it would still try to keep.
    assert starts(placed(most, "", 25)) == {
        "0/0": 10, "0/1": 30, "3/0": 40, "1/0": 60, "1/1": 65, "2/0": 65, "3/1": 110,
        "3/2": 110, "5/0": 160, "1/2": 1450, "6/0": 1470, "2/1": 1500, "4/0": 1585, "4/1": 2880,
        "4/2": 2890, "5/1": 2930, "5/2": 2965, "6/1": 2965, "6/2": 3010,
    }  # fmt: skip
