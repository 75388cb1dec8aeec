from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.behind import LEAST_LAG, lagging, usual

COUNTS = st.lists(st.integers(0, 9), min_size=1)


@pytest.mark.parametrize(
    ("counts", "most"),
    [([3, 3, 3, 2], 3), ([0, 1], 1), ([0, 0, 1], 0), ([5], 5), (range(10), 5)],
)
def test_what_most_have(counts: list[int], most: int) -> None:
    assert usual(counts) == most


@given(COUNTS)
def test_at_least_half_have_it_and_fewer_have_more(counts: list[int]) -> None:
    most = usual(counts)
    assert sum(c >= most for c in counts) * 2 >= len(counts)
    assert sum(c > most for c in counts) * 2 < len(counts)


def test_two_steps_behind_most_is_behind_and_one_is_not() -> None:
    steps = {"D1": (6, 5), "D2": (6, 5), "D3": (5, 6), "D4": (4, 7), "D5": (9, 2)}
    assert lagging(steps) == {"D4"}
    assert lagging({}) == frozenset()


def test_a_longer_path_alone_makes_nobody_lag() -> None:
    fresh = {"D1": (0, 11), "D2": (0, 11), "C1": (0, 13)}
    assert lagging(fresh) == frozenset()
    assert lagging({"D1": (4, 7), "D2": (4, 7), "C1": (4, 9)}) == frozenset()
    assert lagging({"D1": (4, 7), "D2": (4, 7), "C1": (3, 9)}) == {"C1"}


def test_a_shorter_path_alone_makes_nobody_lag() -> None:
    assert lagging({"D1": (5, 7), "D2": (5, 7), "D3": (3, 7)}) == frozenset()


@given(st.dictionaries(st.integers(), st.tuples(st.integers(0, 9), st.integers(0, 9))))
def test_fewer_than_half_lag_and_each_by_two_steps(steps: dict[int, tuple[int, int]]) -> None:
    found = lagging(steps)
    assert len(found) * 2 <= len(steps)
    for name in found:
        ahead = [left for _, left in steps.values() if left <= steps[name][1] - LEAST_LAG]
        assert len(ahead) * 2 >= len(steps)
