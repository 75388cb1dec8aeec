from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.behind import usual

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
