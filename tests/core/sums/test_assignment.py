from __future__ import annotations

from itertools import permutations
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.assignment import Rival, assign


@st.composite
def tables(draw: st.DrawFn) -> list[list[int]]:
    rows = draw(st.integers(1, 5))
    columns = rows + draw(st.integers(0, 2))
    row = st.lists(st.integers(-9, 9), min_size=columns, max_size=columns)
    return draw(st.lists(row, min_size=rows, max_size=rows))


def every_way(costs: list[list[int]]) -> list[tuple[int, tuple[int, ...]]]:
    ways = permutations(range(len(costs[0])), len(costs))
    return [(sum(costs[i][j] for i, j in enumerate(way)), way) for way in ways]


@given(tables())
def test_no_other_way_is_cheaper(costs: list[list[int]]) -> None:
    found = assign(costs)
    assert found.total == min(every_way(costs))[0]
    assert found.total == sum(costs[i][j] for i, j in enumerate(found.columns))


@given(tables())
def test_each_rival_is_the_best_way_that_moves_its_row(costs: list[list[int]]) -> None:
    found = assign(costs)
    ways = every_way(costs)
    for row, rival in enumerate(map(found.rival, range(len(costs)))):
        others = [(total, way) for total, way in ways if way[row] != found.columns[row]]
        if not others:
            assert rival == Rival(None, inf)
            continue
        best = min(others)[0]
        assert found.total + rival.margin == pytest.approx(best)
        assert rival.column in {way[row] for total, way in others if total == best}


@given(tables())
def test_each_margin_is_of_the_best_way_that_gives_the_row_that_column(
    costs: list[list[int]],
) -> None:
    found = assign(costs)
    ways = every_way(costs)
    for row, margins in enumerate(found.margins):
        assert len(margins) == len(costs[0])
        for column, margin in enumerate(margins):
            best = min(total for total, way in ways if way[row] == column)
            assert found.total + margin == pytest.approx(best)


def test_eight_drawers_against_every_order() -> None:
    costs = [[(i * 7 + j * 13 + i * j * 5) % 23 for j in range(8)] for i in range(8)]
    found = assign(costs)
    ways = every_way(costs)
    assert found.total == min(ways)[0]
    for row, rival in enumerate(map(found.rival, range(len(costs)))):
        best = min(total for total, way in ways if way[row] != found.columns[row])
        assert found.total + rival.margin == pytest.approx(best)


def test_nothing_to_assign() -> None:
    assert assign([]).columns == ()


@pytest.mark.parametrize(
    ("costs", "why"),
    [
        ([[1, 2], [3]], "different length"),
        ([[1], [2]], "more rows"),
        ([[nan]], "no finite"),
        ([[inf]], "no finite"),
    ],
)
def test_costs_that_cannot_be(costs: list[list[float]], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        assign(costs)
