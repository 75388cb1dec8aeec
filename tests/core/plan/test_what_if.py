"""Workshops as they would be, on stretches small enough to see."""

from __future__ import annotations

import pytest

from partsbench.core.plan.what_if import Compared, compared, with_helper, without_time
from partsbench.core.plan.workshop import FromTo, Worker, Workshop

ME = Worker("me", ((10, 20), (30, 40)), ((12, 18),))
WREN = Worker("Wren", ((0, 50),), ((0, 50),), ("sand",))
SHOP = Workshop((), workers=(ME,))


def test_a_helper_is_one_pair_of_hands_more() -> None:
    assert with_helper(SHOP, WREN).workers == (ME, WREN)


@pytest.mark.parametrize(
    ("off", "left"),
    [
        ((0, 10), ((10, 20), (30, 40))),
        ((20, 30), ((10, 20), (30, 40))),
        ((0, 11), ((11, 20), (30, 40))),
        ((19, 31), ((10, 19), (31, 40))),
        ((10, 20), ((30, 40),)),
        ((13, 15), ((10, 13), (15, 20), (30, 40))),
        ((5, 60), ()),
        ((40, 60), ((10, 20), (30, 40))),
    ],
)
def test_time_off_is_cut_out(off: FromTo, left: tuple[FromTo, ...]) -> None:
    assert without_time(SHOP, off).workers[0].here == left


def test_who_is_not_named_works_on_and_nobody_named_is_everybody() -> None:
    both = with_helper(SHOP, WREN)
    one = without_time(both, (14, 16), ["me"])
    assert one.workers == (
        Worker("me", ((10, 14), (16, 20), (30, 40)), ((12, 14), (16, 18))),
        WREN,
    )
    assert [w.here[0] for w in without_time(both, (14, 16)).workers] == [(10, 14), (0, 14)]


def test_ends_stand_side_by_side_also_of_a_piece_that_has_one_only() -> None:
    assert compared({"A": 5, "B": 7}, {"C": 9, "A": 4}) == (
        Compared("A", 5, 4),
        Compared("B", 7, None),
        Compared("C", None, 9),
    )
