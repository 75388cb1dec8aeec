"""Against scipy.optimize.linear_sum_assignment, its documented example, and a published puzzle."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from partsbench.core.sums.assignment import assign

PUZZLE = [  # Project Euler 345, the five by five example: largest sum 3315
    [7, 53, 183, 439, 863],
    [497, 383, 563, 79, 973],
    [287, 63, 343, 169, 583],
    [627, 343, 773, 959, 943],
    [767, 473, 103, 699, 303],
]


def test_scipys_documented_example() -> None:
    found = assign([[4, 1, 3], [2, 0, 5], [3, 2, 2]])
    assert found.total == 5
    assert found.columns == (1, 0, 2)


def test_the_published_matrix_sum() -> None:
    found = assign([[-value for value in row] for row in PUZZLE])
    assert -found.total == 3315
    picked = [PUZZLE[row][column] for row, column in enumerate(found.columns)]
    assert picked == [863, 383, 343, 959, 767]


@given(st.integers(1, 12), st.integers(0, 6), st.integers(0, 2**32 - 1))
def test_scipy_agrees(rows: int, more: int, seed: int) -> None:
    costs = np.random.default_rng(seed).normal(0, 10, (rows, rows + more)).round(2)
    theirs = costs[linear_sum_assignment(costs)].sum()
    assert assign(costs.tolist()).total == pytest.approx(theirs)


@pytest.mark.parametrize("seed", range(3))
def test_scipy_agrees_on_sixty_drawers_and_on_every_margin(seed: int) -> None:
    """A row's margin is scipy's total with that one pairing forbidden, less the least total."""
    costs = np.random.default_rng(seed).gamma(2, 3, (60, 60))
    found = assign(costs.tolist())
    assert found.total == pytest.approx(costs[linear_sum_assignment(costs)].sum())
    for row in range(0, 60, 7):
        barred = costs.copy()
        barred[row, found.columns[row]] = 1e6
        theirs = barred[linear_sum_assignment(barred)].sum()
        assert found.total + found.rival(row).margin == pytest.approx(theirs)
        given_column = costs.copy()
        given_column[row, :] = 1e6
        given_column[row, 5] = costs[row, 5]
        theirs = given_column[linear_sum_assignment(given_column)].sum()
        assert found.total + found.margins[row][5] == pytest.approx(theirs)
