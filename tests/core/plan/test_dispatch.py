"""At each moment the work that fits best, in cases small enough to follow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from random import Random
from typing import Any

import pytest

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.dispatch import MANNERS, Dispatch, Manner
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.workshop import Lag, SprayGun, Stint, Worker, Workshop
from tests.support import workshops

ME = Worker("me", ((0, 2000),), ((0, 2000),))
WREN = replace(ME, name="Wren")
PLAIN = Manner(60.0, 0.1, 0)
SETTLES = {("dust", "spray"): 20, ("spray", "dust"): 30}
DUST = Stint("d", "A", "d", 40, "sand", room="r", use="dust")
FUMES = Stint("f", "A", "f", 40, "strip", room="r", use="fumes")
COAT = Stint("c", "A", "c", 40, "colour", room="r", use="spray", mix="m", ml=100.0)


class Noted(Dispatch):
    """Notes what it does together."""

    def __init__(self, *how: Any) -> None:
        super().__init__(*how)
        self.together: list[tuple[int, ...]] = []

    def _do(self, together: list[int]) -> None:
        self.together.append(tuple(i for u in together for i in self.units[u].members))
        super()._do(together)

    def loads(self) -> tuple[tuple[int, ...], ...]:
        return tuple(some for some in self.together if len(some) > 1)


def gone(
    shop: Workshop, manner: Manner = PLAIN, tails: Sequence[float] = (), seed: int = 0
) -> tuple[dict[str, int], list[str]]:
    """When each stint was begun, in turn, and the loads, as `a+b`."""
    bounds = Bounds(Floor(shop))
    dispatch = Noted(bounds, tails or [0.0] * len(shop.stints), manner, Random(seed))
    dispatch.run()
    loads = ["+".join(shop.stints[i].key for i in load) for load in dispatch.loads()]
    begun = {s.key: round(r) for s, r in zip(shop.stints, dispatch.rank, strict=True)}
    return dict(sorted(begun.items(), key=lambda x: x[1])), loads


def shop_of(*stints: Stint, lags: tuple[Lag, ...] = (), people: int = 1) -> Workshop:
    return Workshop(stints, lags, (ME, WREN)[:people], SprayGun(10, 15, 250.0), SETTLES)


def named(stint: Stint, keys: str, **more: object) -> list[Stint]:
    return [replace(stint, key=k, **more) for k in keys]  # type: ignore[arg-type]


def test_who_stands_in_dust_goes_on_sanding() -> None:
    """Stripping is the more pressing by 650 minutes, a tenth of which counts: more than the
    change, which is an hour. By 590 it is not."""
    shop = shop_of(replace(DUST, key="a"), replace(DUST, key="b", soonest=1), FUMES)
    pressing = [700.0, 0.0, 650.0]
    assert list(gone(shop, tails=pressing)[0]) == ["a", "f", "b"]
    assert list(gone(shop, tails=[700.0, 0.0, 590.0])[0]) == ["a", "b", "f"]
    assert list(gone(shop, replace(PLAIN, change=70.0), pressing)[0]) == ["a", "b", "f"]
    assert list(gone(shop, replace(PLAIN, tail=0.01), pressing)[0]) == ["a", "b", "f"]
    # In another room, or without a use, nothing changes.
    for elsewhere in ({"room": "s"}, {"use": ""}):
        other = replace(shop, stints=(*shop.stints[:2], replace(FUMES, **elsewhere)))  # type: ignore[arg-type]
        assert list(gone(other, tails=[700.0, 0.0, 590.0])[0]) == ["a", "f", "b"]


def test_the_use_that_was_last_in_the_room_is_the_one_that_stands() -> None:
    """Dust, then fumes: going back to dust is a change, stripping on is none."""
    shop = shop_of(DUST, FUMES, *named(DUST, "e"), *named(FUMES, "g"), lags=(
        Lag("d", "f"), Lag("f", "e"), Lag("f", "g")))  # fmt: skip
    assert list(gone(shop, tails=[0.0, 0.0, 590.0, 0.0])[0]) == ["d", "f", "g", "e"]
    assert list(gone(shop, tails=[0.0, 0.0, 610.0, 0.0])[0]) == ["d", "f", "e", "g"]


def test_setting_the_gun_up_counts_where_the_room_does_not_change() -> None:
    """A coat may begin at ten, and counts ten for its set-up; sanding with an hour's worth of a
    way to go less is as good at 19, and not at 21."""
    for soonest, order in ((19, ["d", "c"]), (21, ["c", "d"])):
        assert list(gone(shop_of(COAT, replace(DUST, soonest=soonest)))[0]) == order


def test_a_load_waits_for_others_so_long_and_takes_what_fits_into_the_cup() -> None:
    coats = named(COAT, "abcd")
    coats[1] = replace(coats[1], soonest=70)
    shop = shop_of(*coats)
    # The longest way to go first; the third does not go into the cup.
    begun, loads = gone(shop, replace(PLAIN, waits=60), [900.0, 50.0, 10.0, 20.0])
    assert loads == ["a+b", "d+c"]
    assert begun == {"a": 30, "b": 70, "d": 135, "c": 175}
    begun, loads = gone(shop, replace(PLAIN, waits=59), [900.0, 50.0, 10.0, 20.0])
    assert loads == ["a+d", "b+c"]
    assert begun == {"a": 10, "d": 50, "b": 115, "c": 155}
    odd = replace(shop, stints=(*coats[:3], replace(coats[3], mix="n")))
    assert gone(odd, PLAIN, [900.0, 50.0, 10.0, 20.0])[1] == ["a+c"]
    small = replace(coats[1], ml=40.0, soonest=0)
    assert gone(shop_of(coats[0], small, coats[2], coats[3]), PLAIN)[1] == ["a+b+c"]


def test_the_gun_is_cleaned_before_it_is_set_up_again_whoever_does_it() -> None:
    shop = shop_of(*named(COAT, "ab", ml=200.0), people=2)
    # Ten to set up, forty sprayed, fifteen cleaned, ten to set up.
    assert gone(shop) == ({"a": 10, "b": 75}, [])


def test_a_room_settles_and_the_set_up_waits_for_it() -> None:
    shop = shop_of(DUST, COAT, replace(DUST, key="e"), lags=(Lag("d", "c"), Lag("c", "e")))
    # Dust until 40, settled at 60, set up at 70; sprayed at 110, clean at 125, settled at 155.
    assert gone(shop)[0] == {"d": 0, "c": 70, "e": 155}


def test_those_do_it_who_are_free_first() -> None:
    shop = shop_of(*named(DUST, "abc", room="", use=""), people=2)
    shop = replace(shop, stints=(replace(shop.stints[0], minutes=70), *shop.stints[1:]))
    assert gone(shop)[0] == {"a": 0, "b": 0, "c": 40}
    heavy = replace(shop, stints=(*shop.stints[:2], replace(shop.stints[2], hands=2, soonest=5)))
    assert gone(heavy)[0] == {"a": 0, "b": 0, "c": 70}
    mine = replace(shop, workers=(replace(ME, only=("sand",)), replace(WREN, only=("wash",))))
    assert gone(mine)[0] == {"a": 0, "b": 70, "c": 110}


def test_what_waits_is_open_when_all_before_it_are_over_and_dry() -> None:
    stints = named(DUST, "abcd")
    lags = (Lag("a", "c", 500), Lag("b", "c", 5), Lag("c", "d", 7))
    assert gone(shop_of(*stints, lags=lags))[0] == {"a": 0, "b": 40, "c": 540, "d": 587}


def test_it_begins_within_the_hours_or_as_it_comes() -> None:
    late = replace(ME, here=((0, 50), (300, 400)), loud=((0, 50), (300, 400)))
    shop = replace(shop_of(*named(DUST, "ab")), workers=(late,))
    assert gone(shop)[0] == {"a": 0, "b": 300}
    never = replace(shop, stints=tuple(named(DUST, "ab", minutes=200)))
    assert gone(never)[0] == {"a": 0, "b": 200}
    # The load as a whole, not its first alone.
    coats = replace(shop, stints=tuple(named(COAT, "ab", minutes=20)))
    assert gone(coats) == ({"a": 310, "b": 330}, ["a+b"])


def test_a_day_of_its_own_is_kept_by_each_of_a_load() -> None:
    coats = (replace(COAT, key="a"), replace(COAT, key="b", soonest=90))
    begun, loads = gone(shop_of(*coats), replace(PLAIN, waits=240), [10.0, 0.0])
    assert (begun, loads) == ({"a": 50, "b": 90}, ["a+b"])


@pytest.mark.parametrize("seed", range(6))
def test_every_stint_is_begun_after_what_it_waits_for_in_every_manner(seed: int) -> None:
    shop = workshops.mixed(seed, parts=6)
    bounds = Bounds(Floor(shop))
    at = bounds.floor.number
    for manner in (*MANNERS, Manner(60.0, 0.1, 60, 30.0)):
        dispatch = Noted(bounds, bounds.heads, manner, Random(seed))
        dispatch.run()
        loads = dispatch.loads()
        assert all(bounds.floor.one_cup(load) and len(load) > 1 for load in loads)
        assert bounds.floor.units(loads) is not None
        for lag in shop.lags:
            a, b = at[lag.before], at[lag.after]
            assert dispatch.rank[b] >= dispatch.rank[a] + shop.stints[a].minutes + lag.least


def test_a_manner_is_one_of_these_and_chance_is_none_unless_asked_for() -> None:
    assert len(set(MANNERS)) == 27
    assert {m.change for m in MANNERS} == {60, 240, 720}
    assert {m.tail for m in MANNERS} == {0.02, 0.1, 0.4}
    assert {m.waits for m in MANNERS} == {0, 60, 240}
    assert {m.chance for m in MANNERS} == {0.0}


def test_the_order_that_comes_out_is_the_one_that_came_out_before() -> None:
    """Pinned: a rule that chooses otherwise gives an order that is as right as this one, and that
    only its plans would show to be worse. One shop with help, two manners, one
    of them with chance."""
    shop = workshops.mixed(15, parts=7, steps=3)
    tails = [20.0 * (len(shop.stints) - i) for i in range(len(shop.stints))]
    assert gone(shop, Manner(60.0, 0.1, 240), tails) == (
        {"0/0": 0, "5/0": 0, "4/0": 5, "1/0": 10, "5/1": 20, "0/1": 60,
         "1/1": 140, "6/0": 1440, "2/0": 1450, "5/2": 1455, "1/2": 1525, "3/0": 1530,
         "2/1": 1575, "4/1": 1580, "3/1": 2880, "6/1": 2880, "6/2": 2895, "3/2": 3045},
        ["2/0+5/2", "1/2+3/0"],
    )  # fmt: skip
    assert gone(shop, Manner(60.0, 0.1, 60, 30.0), tails, 5) == (
        {"0/0": 0, "5/0": 0, "4/0": 5, "1/0": 10, "5/1": 20, "0/1": 60,
         "2/0": 120, "5/2": 125, "1/1": 185, "6/0": 1440, "3/0": 1450, "1/2": 1460,
         "2/1": 1480, "4/1": 1495, "3/1": 1580, "3/2": 2880, "6/1": 2880, "6/2": 2895},
        ["2/0+5/2", "3/0+1/2"],
    )  # fmt: skip


def test_a_batch_is_begun_when_all_of_it_can_be_one_behind_the_other() -> None:
    """b and c are one batch, c behind b; d waits for c alone, and is begun behind the batch."""
    stints = (*named(DUST, "abc", minutes=10), replace(DUST, key="d", minutes=5))
    lags = (Lag("a", "c", 45), Lag("c", "d", 7))
    shop = shop_of(*stints, lags=lags)
    dispatch = Noted(Bounds(Floor(shop)), [0.0] * 4, PLAIN, Random(0), ((1, 2),))
    dispatch.run()
    # a is over at 10 and dry at 55: c begins then, so that b begins ten minutes before.
    assert dispatch.rank == [0, 45, 55, 72]
    assert dispatch.loads() == ((1, 2),)


def test_batches_of_one_mix_go_into_one_cup_whole_or_not_at_all() -> None:
    coats = named(COAT, "abcd", minutes=10, ml=80.0)
    shop = shop_of(*coats)
    dispatch = Noted(Bounds(Floor(shop)), [9.0, 0.0, 0.0, 5.0], PLAIN, Random(0), ((0, 1), (2, 3)))
    dispatch.run()
    assert dispatch.together == [(0, 1), (2, 3)], "four do not go into the cup"
    dispatch = Noted(Bounds(Floor(shop)), [9.0, 0.0, 0.0, 5.0], PLAIN, Random(0), ((0, 1),))
    dispatch.run()
    assert dispatch.together == [(0, 1, 3), (2,)], "the longer way to go first"
