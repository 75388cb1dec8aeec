from __future__ import annotations

from collections.abc import Callable

from hypothesis import given, seed
from hypothesis import strategies as st

from partsbench.core.sums.places import MIDDLE, MOST_TRIED, QUARTER, SIXTH, Along, likely


def near(at: list[float], reach: float) -> Callable[[float], int]:
    """Counts the places within reach of one."""

    def met(mm: float) -> int:
        return sum(abs(a - mm) <= reach for a in at)

    return met


def test_a_distance_is_mm_or_a_share_of_the_front() -> None:
    assert [a.of(600) for a in (MIDDLE, QUARTER, SIXTH, Along(62))] == [300, 150, 100, 62]


def test_middles_betweennear_places_are_tried_and_those_far_apart_are_not() -> None:
    assert likely([60, 80, 200], 0, 300, 10, near([60, 80, 200], 10))[0] == 70
    assert 130 not in likely([60, 200], 0, 300, 10, near([60, 200], 10))


def test_nothing_fits_between_bounds_that_cross() -> None:
    assert likely([50], 60, 40, 5, near([50], 5)) == []
    assert likely([50], 40, 40, 5, near([50], 5)) == [40]


@seed(20261125)
@given(st.lists(st.floats(0, 600), max_size=60), st.floats(0, 100), st.floats(200, 300))
def test_places_lie_within_the_bounds_and_are_few(
    wanted: list[float], least: float, most: float
) -> None:
    found = likely(wanted, least, most, 8, near(wanted, 8))
    assert len(found) <= MOST_TRIED
    assert all(least <= mm <= most for mm in found)
    assert bool(found) == bool(wanted)


def test_places_are_told_apart_by_the_hundredth_of_a_millimetre() -> None:
    assert likely([50.004, 50.126], 0, 300, 0.01, near([50], 1)) == [50.0, 50.13]


def test_places_as_far_apart_as_twice_the_reach_have_a_middle_between_them() -> None:
    for apart, has in ((20, True), (20.01, False)):
        found = likely([100, 100 + apart], 0, 300, 10, near([0], 1))
        assert ((100 + apart / 2) in found) is has


def test_of_places_that_meet_as_many_the_nearest_to_the_edge_is_tried_first() -> None:
    assert likely([90, 30, 60], 0, 300, 1, near([30, 60, 90], 1)) == [30, 60, 90]
    assert likely([90, 30, 60], 40, 80, 1, near([60], 1)) == [60, 40, 80]


def test_two_dozen_places_are_tried_of_many() -> None:
    wanted = [float(mm) for mm in range(100)]
    assert likely(wanted, 0, 300, 0.1, near(wanted, 0.1)) == wanted[:24]
