from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench import trade
from partsbench.core.sums import tables
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.screws import Screw, Thread, screw, warnings
from partsbench.core.sums.units import Measures
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


@pytest.fixture(scope="module")
def m4() -> Thread:
    found: dict[str, Thread] = answered(dict, tables.threads(trade.load("pulls")))
    return found["M4"]


@pytest.fixture(scope="module")
def hold() -> Figure:
    return answered(Figure, tables.figure(trade.load("pulls"), "rules", "engaged_diameters"))


def test_the_shortest_that_holds(m4: Thread, hold: Figure) -> None:
    """20 mm of front and 4 mm of thread: 24; the next in stock is 25."""
    answer = answered(Screw, screw(m4, hold, 20, thread_depth_mm=10))
    assert (answer.least_mm, answer.most_mm, answer.stock_mm) == (24, 29, 25)
    assert answer.sentence == "M4, 25 mm."
    assert answer.say(Measures.US) == 'M4, 1".'


def test_a_plate_makes_it_longer(m4: Thread, hold: Figure) -> None:
    assert answered(Screw, screw(m4, hold, 20, 2)).stock_mm == 28


def test_no_stock_length_serves(m4: Thread, hold: Figure) -> None:
    answer = answered(Screw, screw(m4, hold, 31.5, thread_depth_mm=7))
    assert answer.stock_mm is None
    assert answer.sentence == (
        "No stock length of M4 serves: it wants 35.5 mm to 37.5 mm; cut one down."
    )


def test_depth_not_known_is_told(m4: Thread, hold: Figure) -> None:
    assert answered(Screw, screw(m4, hold, 20)).lacks == ("how deep the pull is threaded",)


def test_wrong_screws_are_warned(m4: Thread, hold: Figure) -> None:
    wanted = answered(Screw, screw(m4, hold, 20, thread_depth_mm=10))
    assert warnings(wanted, "M4", 25) == ()
    assert "Wrong thread: 8-32 into M4" in warnings(wanted, "8-32", 25)[0]
    assert "Too short" in warnings(wanted, "M4", 22)[0]
    assert "touches bottom" in warnings(wanted, "M4", 30)[0]
    assert len(warnings(wanted, "8-32", 30)) == 2


@given(st.floats(5, 60), st.floats(0, 5), st.floats(5.1, 30))
def test_what_is_chosen_is_never_warned(
    m4: Thread, hold: Figure, front: float, plate: float, depth: float
) -> None:
    answer = answered(Screw, screw(m4, hold, front, plate, depth))
    if answer.stock_mm is not None:
        assert warnings(answer, "M4", answer.stock_mm) == ()
        assert answer.stock_mm - front - plate >= 4 - 1e-9


@pytest.mark.parametrize("value", NONSENSE)
def test_fronts_that_cannot_be(m4: Thread, hold: Figure, value: Any) -> None:
    assert "front thickness" in refused(screw(m4, hold, value))
    assert "plate thickness" in refused(screw(m4, hold, 20, value))
    if value is not None:
        assert "depth of the thread" in refused(screw(m4, hold, 20, 0, value))


def test_a_thread_too_shallow_to_hold(m4: Thread, hold: Figure) -> None:
    assert "holds too little of M4" in refused(screw(m4, hold, 20, 0, 3))


def test_what_a_screw_must_bite_is_so_many_of_its_own_diameters(m4: Thread, hold: Figure) -> None:
    """Soft metal wants one and a half: 6 mm of an M4, so 26 through a front of 20; 28 in stock."""
    soft = replace(hold, value=1.5)
    answer = answered(Screw, screw(m4, soft, 20))
    assert (answer.least_mm, answer.stock_mm) == (26, 28)


def test_the_least_bite_and_the_last_millimetre_before_the_bottom_both_serve(
    m4: Thread, hold: Figure
) -> None:
    """21 and 4 are 25, a stock length; 20 and a hole of 6 less 1 are 25 as well."""
    for front, depth in ((21, None), (20, 6)):
        wanted = answered(Screw, screw(m4, hold, front, thread_depth_mm=depth))
        assert wanted.stock_mm == 25
        assert warnings(wanted, "M4", 25) == ()
    assert answered(Screw, screw(m4, hold, 21.1)).stock_mm == 28
    assert answered(Screw, screw(m4, hold, 20, thread_depth_mm=5.9)).stock_mm is None


def test_a_hole_just_deep_enough_has_one_length(m4: Thread, hold: Figure) -> None:
    """4 mm to bite and 1 mm left free: 5 mm deep holds, any less does not."""
    only = answered(Screw, screw(m4, hold, 21, thread_depth_mm=5))
    assert (only.least_mm, only.most_mm, only.stock_mm) == (25, 25, 25)
    assert "holds too little" in refused(screw(m4, hold, 21, 0, 4.9))


def test_a_thin_plate_front_can_bear_a_pull(m4: Thread, hold: Figure) -> None:
    assert answered(Screw, screw(m4, hold, 0.8)).least_mm == pytest.approx(4.8)
