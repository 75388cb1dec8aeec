"""What goes together on the parts of a piece, and what has to be left part by part."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.plan.batches import CLOSE, LONGEST, batches
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.placing import place_all
from partsbench.core.plan.workshop import Lag, SprayGun, Stint, Worker, Workshop
from tests.support import workshops

SAND = Stint("a1", "A", "a1", 10, "sand", does="sand")
COAT = Stint("a2", "A", "a2", 10, "colour", mix="m", ml=100.0, does="colour")


def parts(count: int, first: Stint = SAND, second: Stint = COAT) -> tuple[Stint, ...]:
    return tuple(
        replace(s, key=f"{n}{step}")
        for n in range(count)
        for step, s in (("a", first), ("b", second))
    )


def lags(count: int, least: int = 0, most: int | None = None) -> tuple[Lag, ...]:
    return tuple(Lag(f"{n}a", f"{n}b", least, most) for n in range(count))


def cut(
    stints: tuple[Stint, ...],
    some: tuple[Lag, ...] = (),
    shares: int = 1,
    cup: float = 1000.0,
    rack: float | None = None,
    worker: Worker | None = None,
) -> list[str]:
    """The batches, by the keys of their stints."""
    shop = Workshop(
        stints, some, (worker or workshops.worker(),), SprayGun(10, 15, cup), rack_m2=rack
    )
    return [" ".join(stints[i].key for i in b) for b in batches(Floor(shop), shares)]


def test_one_step_on_all_parts_of_a_piece_is_a_batch() -> None:
    assert cut(parts(3), lags(3)) == ["0a 1a 2a", "0b 1b 2b"]


@pytest.mark.parametrize(
    "other",
    [{"piece": "B"}, {"does": "scuff"}, {"work": "wash"}, {"room": "r"}, {"use": "dust"},
     {"hands": 2}, {"loud": True}, {"mix": "n"}],
)  # fmt: skip
def test_only_what_is_alike_goes_together(other: dict[str, object]) -> None:
    stints = (SAND, replace(SAND, key="x"), replace(SAND, key="odd", **other))  # type: ignore[arg-type]
    assert cut(stints) == ["a1 x"]


def test_a_part_that_is_not_as_far_is_left_out() -> None:
    """Of the third part both are the same step: its second has one before it."""
    third = (replace(SAND, key="2a"), replace(SAND, key="2b"))
    assert cut((*parts(2), *third), lags(3)) == ["0a 1a 2a", "0b 1b"]


def test_how_far_a_part_is_goes_by_the_longest_of_what_is_before_it() -> None:
    """The last step of the first waits for both steps before it, that of the second for one."""
    one, two, three = (replace(SAND, does=does) for does in ("wash", "scuff", "wipe"))
    stints = tuple(
        replace(s, key=key)
        for key, s in (("a1", one), ("b1", two), ("c1", three), ("a2", one), ("c2", three))
    )
    waits = (Lag("a1", "b1"), Lag("b1", "c1"), Lag("a1", "c1"), Lag("a2", "c2"))
    assert cut(stints, waits) == ["a1 a2"]


def test_a_batch_is_shared_out_in_order() -> None:
    assert cut(parts(5), lags(5), shares=2) == ["0a 1a 2a", "3a 4a", "0b 1b 2b", "3b 4b"]
    assert cut(parts(1), lags(1), shares=2) == []


def test_cup_and_rack_and_hours_end_a_batch() -> None:
    assert cut(parts(3), lags(3), cup=200.0) == ["0a 1a 2a", "0b 1b"]
    lying = replace(COAT, m2=1.0)
    assert cut(parts(3, second=lying), lags(3), rack=2.0) == ["0a 1a 2a", "0b 1b"]
    half = LONGEST // 2
    assert cut(parts(3, replace(SAND, minutes=half)), lags(3))[0] == "0a 1a"
    assert cut(parts(3, replace(SAND, minutes=half + 1)), lags(3)) == ["0b 1b 2b"]
    # Half of the longest stretch in which it may be loud: of three hours here two are quiet.
    evenings = Worker("me", ((0, 180), (300, 340)), ((0, 60), (300, 320)))
    assert cut(parts(3), lags(3), worker=evenings) == ["0a 1a 2a", "0b 1b 2b"]
    loud = replace(SAND, loud=True)
    assert cut(parts(4, loud), lags(4), worker=evenings)[0] == "0a 1a 2a"
    assert cut(parts(4, loud), lags(4), worker=evenings)[1] == "0b 1b 2b 3b"


def test_what_must_follow_sooner_than_a_batch_takes_is_left_part_by_part() -> None:
    """Three parts of ten minutes, the second step as long: the first is over 20 minutes before it
    is its turn."""
    wipe = replace(SAND, does="wipe", work="wipe")
    assert cut(parts(3, second=wipe), lags(3, 0, 20)) == ["0a 1a 2a", "0b 1b 2b"]
    assert cut(parts(3, second=wipe), lags(3, 0, 19)) == []
    # Quicker work comes up behind the first: it begins at 42, so that the last part, over at 30, is
    # ready at 50; the first, over at 10, has then waited for 32.
    quick = replace(wipe, minutes=4)
    assert cut(parts(3, second=quick), lags(3, 20, 32)) == ["0a 1a 2a", "0b 1b 2b"]
    assert cut(parts(3, second=quick), lags(3, 20, 31)) == []


def test_what_is_bound_closely_to_work_left_apart_is_left_apart_too() -> None:
    third = tuple(replace(SAND, key=f"{n}c", does="buff") for n in range(3))
    wipe = replace(SAND, does="wipe", work="wipe")
    stints = (*parts(3, second=wipe), *third)
    for most, left in ((CLOSE - 1, []), (CLOSE, ["0c 1c 2c"])):
        more = tuple(Lag(f"{n}b", f"{n}c", 0, most) for n in range(3))
        assert cut(stints, (*lags(3, 0, 5), *more)) == left


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("shares", [1, 2])
def test_batches_of_any_shop_can_be_planned(seed: int, shares: int) -> None:
    for shop in (workshops.mixed(seed, parts=6), workshops.shop(seed, parts=6, steps=6)):
        floor = Floor(shop)
        some = batches(floor, shares)
        assert all(len(b) > 1 for b in some)
        assert len({i for b in some for i in b}) == sum(map(len, some))
        made = floor.units(some)
        assert made is not None
        assert min(place_all(floor, made, [0.0] * len(floor.stints)).start) >= 0
