"""Work against the time there is for it, in cases small enough to add up."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest

from partsbench.core.plan.energy import (
    ENDS_TRIED,
    Asked,
    Fits,
    RoomTurn,
    Sprayed,
    Weighed,
    hours,
    sprayed,
    too_much,
    turns,
)
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.workshop import Lag, SprayGun, Stint, Worker, Workshop

ME = Worker("me", ((0, 100), (200, 260)), ((10, 50),))
WREN = Worker("Wren", ((50, 120),), ((50, 120),))
FLOOR = Floor(Workshop((), workers=(ME, WREN)))


def minute_by_minute(hands: tuple[Worker, ...], start: int, end: int, loud: bool) -> list[int]:
    """How many of them are here in each minute."""
    return [
        sum(any(a <= t < b for a, b in (w.loud if loud else w.here)) for w in hands)
        for t in range(max(start, 0), max(end, 0))
    ]


@pytest.mark.parametrize(
    "span", [(0, 300), (45, 55), (60, 60), (90, 210), (-20, 30), (-20, 0), (250, 9999)]
)
@pytest.mark.parametrize("loud", [False, True])
def test_hours_of_hands_all_together_or_at_least_one(span: tuple[int, int], loud: bool) -> None:
    for numbers in ((0,), (1,), (0, 1)):
        there = minute_by_minute(tuple((ME, WREN)[n] for n in numbers), *span, loud)
        assert hours(FLOOR, numbers, True, loud)(*span) == sum(there)
        assert hours(FLOOR, numbers, False, loud)(*span) == sum(map(bool, there))


def test_nobody_is_loud_by_chance() -> None:
    assert hours(FLOOR, (0,), True)(0, 300) == 160


@pytest.mark.parametrize("seed", range(30))
def test_too_much_is_found_between_any_two_moments(seed: int) -> None:
    random = Random(seed)
    heads = [random.randrange(30) for _ in range(7)]
    late = [h + random.randint(5, 40) for h in heads]
    some = [Weighed(i, random.randint(1, 12), random.choice((0, 10))) for i in range(7)]
    found = too_much(Asked(some, lambda a, b: b - a), heads, late)
    crowded = {
        (a, b)
        for a in heads
        for b in (late[w.number] + w.lies for w in some)
        if sum(w.weight for w in some if heads[w.number] >= a and late[w.number] + w.lies <= b)
        > max(b - a, 0)
    }
    if found is None:
        assert not crowded
        return
    assert (found.start, found.end) in crowded
    assert found.fits == found.end - found.start
    assert found.fits < found.asked <= sum(w.weight for w in some)


def test_what_just_fits_is_not_too_much() -> None:
    some = [Weighed(0, 10.0), Weighed(1, 10.0)]
    assert too_much(Asked(some, lambda a, b: b - a), [0, 0], [20, 20]) is None
    # Sums of tenths are not exact.
    tenths = [Weighed(i, 0.1) for i in range(3)]
    assert too_much(Asked(tenths, lambda a, b: 0.3), [0] * 3, [1] * 3) is None
    assert too_much(Asked(tenths, lambda a, b: 0.29), [0] * 3, [1] * 3) is not None


def test_of_many_ends_the_first_and_the_last_are_tried() -> None:
    """As many as are tried, and what lies between them."""
    count = 3 * ENDS_TRIED
    some = [Weighed(i, 1.0) for i in range(count)]
    heads, late = [0] * count, list(range(1, count + 1))
    asked: list[int] = []

    def fits(start: int, end: int) -> float:
        asked.append(end)
        return 1000.0

    assert too_much(Asked(some, fits), heads, late) is None
    tried = sorted(set(asked))
    assert len(tried) == ENDS_TRIED
    assert (tried[0], tried[-1]) == (1, count)
    gaps = {b - a for a, b in pairwise(tried)}
    assert gaps <= {3, 4}


def room_for(minutes: float) -> Fits:
    return lambda start, end: minutes


def gun(row: int, cup: float = 0.4, mix: int = 0, crew: int = 1) -> Sprayed:
    return Sprayed(mix, row, cup, crew)


@pytest.mark.parametrize(
    ("stints", "loads"),
    [
        ([gun(0), gun(1)], 1),
        ([gun(0, 0.5), gun(1, 0.5)], 1),
        ([gun(0), gun(1), gun(2)], 2),
        ([gun(0), gun(0)], 2),
        ([gun(0), gun(0), gun(0), gun(1)], 3),
        ([gun(0), gun(1, mix=1)], 2),
        ([gun(0, 1.0), gun(1, 1.0), gun(2, mix=1)], 3),
    ],
)
def test_the_fewest_loads_ask_for_set_up_and_cleaning_between_them(
    stints: list[Sprayed], loads: int
) -> None:
    """By what goes into a cup, and by what cannot share one: all but one of the loads."""
    for crew in (1, 2):
        some = [Weighed(i, 10.0, gun=replace(g, crew=crew)) for i, g in enumerate(stints)]
        heads, late = [0] * len(some), [500] * len(some)
        wanted = 10 * len(some) + 25 * crew * (loads - 1)
        assert too_much(Asked(some, room_for(wanted), 25.0), heads, late) is None
        found = too_much(Asked(some, room_for(wanted - 1), 25.0), heads, late)
        assert found is not None and found.asked == wanted


def test_a_gun_that_nobody_sets_up_asks_for_its_spraying_only() -> None:
    some = [Weighed(0, 10.0, gun=gun(0)), Weighed(1, 10.0, gun=gun(0))]
    assert too_much(Asked(some, room_for(20)), [0, 0], [9, 9]) is None
    assert too_much(Asked(some, room_for(19)), [0, 0], [9, 9]) is not None


def test_of_crews_the_smallest_is_counted() -> None:
    some = [Weighed(0, 10.0, gun=gun(0, crew=3)), Weighed(1, 10.0, gun=gun(0, crew=2)),
            Weighed(2, 10.0, gun=gun(0, crew=4))]  # fmt: skip
    found = too_much(Asked(some, lambda a, b: 0.0, 10.0), [2, 1, 0], [9, 9, 9])
    assert found is not None and found.asked == 10, "the last of them alone is too much"
    found = too_much(Asked(some, lambda a, b: 69.0, 10.0), [2, 1, 0], [9, 9, 9])
    assert found is not None and found.asked == 30 + 2 * 2 * 10


def in_room(*uses: str, closed: tuple[tuple[int, int], ...] = ()) -> tuple[Asked, list[int]]:
    """A row of work in a room, an hour each, each 100 minutes after the one before it."""
    settles = {("dust", "spray"): 30, ("spray", "dust"): 20}
    some = [Weighed(n, 60.0, turn=RoomTurn(0, use)) for n, use in enumerate(uses)]
    heads = [100 * n for n in range(len(uses))]
    return Asked(some, lambda a, b: 0.0, 0.0, settles, closed), heads


def wanted(asked: Asked, heads: list[int], limit: float) -> float | None:
    found = too_much(replace(asked, fits=lambda a, b: limit), heads, [900] * len(heads))
    return found.asked if found else None


@pytest.mark.parametrize(
    ("uses", "closed", "settling"),
    [
        (("dust", "spray"), (), 30),
        (("spray", "dust"), (), 20),
        (("dust", "dust"), (), 0),
        (("dust", "fumes", "spray"), (), 0),
        (("dust", "spray", "dust", "spray"), (), 80),
        # Each night in it takes in the longest change that is left.
        (("dust", "spray", "dust", "spray"), ((400, 500),), 50),
        (("dust", "spray", "dust", "spray"), ((400, 500), (600, 700)), 20),
        (("dust", "spray", "dust", "spray"), ((400, 500), (600, 700), (800, 890)), 0),
        (("dust", "spray"), ((400, 500), (600, 700)), 0),
        # A night behind the last moment, or over before the first, takes in nothing.
        (("dust", "spray"), ((900, 1000),), 30),
        (("dust", "spray"), ((-50, 0),), 30),
        (("dust", "spray"), ((899, 1000),), 0),
        (("dust", "spray"), ((-50, 1),), 0),
    ],
)
def test_a_room_settles_between_the_stints_of_a_row(
    uses: tuple[str, ...], closed: tuple[tuple[int, int], ...], settling: int
) -> None:
    asked, heads = in_room(*uses, closed=closed)
    work = 60 * len(uses)
    assert wanted(asked, heads, work + settling) is None
    if settling:
        assert wanted(asked, heads, work + settling - 1) == work + settling


def test_of_two_rows_the_one_that_changes_most_is_counted() -> None:
    one, heads = in_room("dust", "spray", "dust")
    more = [Weighed(3, 60.0, turn=RoomTurn(1, "spray")), Weighed(4, 60.0, turn=RoomTurn(1, "dust"))]
    asked = replace(one, stints=[*more, *one.stints])
    both = [*heads, 0, 100]
    assert wanted(asked, both, 5 * 60 + 50) is None
    assert wanted(asked, both, 5 * 60 + 49) == 5 * 60 + 50


COAT = Stint("a", "A", "a", 10, "colour", room="r", use="spray", mix="m", ml=100.0)


TWO_COATS = SprayGun(0, 0, 200.0)


def floor(*stints: Stint, lags: tuple[Lag, ...] = (), gun: SprayGun = TWO_COATS) -> Floor:
    return Floor(Workshop(stints, lags, (ME,), gun))


def test_stints_of_the_gun_that_cannot_share_a_cup_stand_in_a_row() -> None:
    """Twenty minutes are the longest load: what comes later than that behind another is apart."""
    coats = [replace(COAT, key=k) for k in "abcd"]
    dust = Stint("s", "A", "s", 15, "sand")
    found = floor(*coats, dust, lags=(Lag("a", "b", 20), Lag("b", "c", 19), Lag("b", "s", 5),
                                      Lag("s", "d", 0)))  # fmt: skip
    rows = [s.row if s else None for s in sprayed(found)]
    # c is too near to b, but far enough from a; b is a's follower already, so c has a row alone.
    assert rows[0] == rows[1]
    assert rows[4] is None
    assert rows[3] == rows[0], "d is five, fifteen and none after b"
    assert rows[2] != rows[0]


def test_what_a_stint_takes_of_a_cup_and_its_mix() -> None:
    wide, odd = replace(COAT, key="b", ml=900.0), replace(COAT, key="c", mix="n", hands=2)
    found = sprayed(floor(COAT, wide, odd))
    assert found == [Sprayed(0, 0, 0.5, 1), Sprayed(0, 1, 1.0, 1), Sprayed(1, 2, 0.5, 2)]
    assert [s and s.cup for s in sprayed(floor(COAT, gun=SprayGun(0, 0, 0.0)))] == [1.0]
    drop = replace(COAT, ml=0.5)
    assert [s and s.cup for s in sprayed(floor(drop, gun=SprayGun(0, 0, 1.0)))] == [0.5]


@pytest.mark.parametrize(
    ("coats", "gun", "longest"),
    [
        # Two of them fill the cup.
        ([COAT] * 3, SprayGun(0, 0, 200.0), 20),
        # The slowest of them by the drop: ten minutes for 50 ml.
        ([COAT, replace(COAT, ml=50.0), COAT, COAT, COAT], SprayGun(0, 0, 200.0), 40),
        # No longer than all of it.
        ([COAT] * 3, SprayGun(0, 0, 900.0), 30),
        ([COAT] * 3, SprayGun(), 30),
        # One that fills more than the cup is sprayed by itself.
        ([replace(COAT, minutes=50, ml=500.0), COAT], SprayGun(0, 0, 100.0), 50),
        # Without ml nothing is known: all of it.
        ([replace(COAT, ml=0.0), COAT, COAT], SprayGun(0, 0, 100.0), 30),
    ],
)
def test_how_long_a_load_may_be(coats: list[Stint], gun: SprayGun, longest: int) -> None:
    """Two coats that are one minute less apart may share a cup."""
    stints = [replace(c, key=str(n)) for n, c in enumerate(coats)]
    for apart, alone in ((longest, False), (longest - 1, True)):
        last = len(stints) - 1
        found = sprayed(floor(*stints, lags=(Lag("0", str(last), apart),), gun=gun))
        first, other = found[0], found[last]
        assert first is not None and other is not None
        assert (first.row != other.row) is alone


def test_turns_of_a_room_are_work_in_it_that_takes_time() -> None:
    dust = Stint("d", "A", "d", 10, "sand", room="r", use="dust")
    stints = (
        dust,
        replace(COAT, key="a"),
        replace(dust, key="none", minutes=0),
        replace(dust, key="quiet", use=""),
        replace(dust, key="out", room=""),
        replace(dust, key="other", room="s"),
        replace(dust, key="e"),
    )
    lags = (Lag("d", "a"), Lag("d", "other"), Lag("a", "none"), Lag("none", "e"))
    assert turns(floor(*stints, lags=lags)) == [
        RoomTurn(0, "dust"), RoomTurn(0, "spray"), None, None, None, RoomTurn(1, "dust"),
        RoomTurn(0, "dust"),
    ]  # fmt: skip


def test_in_a_row_each_follows_the_nearest_that_has_no_follower_yet() -> None:
    dust = Stint("d", "A", "d", 10, "sand", room="r", use="dust")
    stints = tuple(replace(dust, key=str(n)) for n in range(5))
    # 1 and 2 both wait for 0; 3 for 1 at once, for 2 later; 4 for 2.
    lags = (Lag("0", "1"), Lag("0", "2"), Lag("1", "3", 5), Lag("2", "3", 50), Lag("2", "4"))
    rows = [t.row if t else None for t in turns(floor(*stints, lags=lags))]
    assert rows[0] == rows[1] == rows[3]
    assert rows[2] == rows[4] != rows[0]
