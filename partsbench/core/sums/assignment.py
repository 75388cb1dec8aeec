"""Who goes where at the least total cost, and how near the next best answer is.

The Hungarian method with shortest augmenting paths, in plain Python: sixty drawers with every
margin take some 15 ms, less than scipy takes to be imported, and scipy is a large thing to install.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite

Costs = Sequence[Sequence[float]]


@dataclass(frozen=True, slots=True)
class Rival:
    """The best answer that gives one row another column: which, and how much dearer in all."""

    column: int | None
    margin: float


@dataclass(frozen=True, slots=True)
class Assignment:
    """The column of each row, the least total, and each row's rival."""

    columns: tuple[int, ...]
    total: float
    rivals: tuple[Rival, ...]


def assign(costs: Costs) -> Assignment:
    """The cheapest assignment of rows to columns (no more rows than columns), with all rivals.

    A rival with no column: the row has nowhere else to go. ValueError for ragged or unbounded
    costs, or more rows than columns.
    """
    _check(costs)
    solver = _Solver(costs)
    columns = tuple(solver.column_of[: len(costs)])
    total = sum(costs[row][column] for row, column in enumerate(columns))
    return Assignment(columns, total, tuple(solver.rival(row) for row in range(len(costs))))


_NOBODY = -1


class _Solver:
    """Matching and potentials: costs[i][j] - u[i] - v[j] >= 0, and 0 where matched.

    Rows of nothing are added until there are as many rows as columns, so that an answer with
    another column is always a ring of changes.
    """

    def __init__(self, costs: Costs) -> None:
        self.size = len(costs[0]) if costs else 0
        self.costs = [*costs, *([[0.0] * self.size] * (self.size - len(costs)))]
        self.u, self.v = [0.0] * self.size, [0.0] * self.size
        self.row_of, self.column_of = [_NOBODY] * self.size, [_NOBODY] * self.size
        for row in range(self.size):
            self.augment(row)

    def augment(self, row: int) -> None:
        """Match one more row along the cheapest alternating path."""
        away, came_from = [inf] * self.size, [-1] * self.size
        todo = list(range(self.size))
        settled: list[int] = []
        current, reached = row, 0.0
        while current != _NOBODY:
            self._relax(current, reached, todo, away, came_from)
            column = min(todo, key=away.__getitem__)
            todo.remove(column)
            settled.append(column)
            current, reached = self.row_of[column], away[column]
        self.u[row] += reached
        for passed in settled[:-1]:
            self.v[passed] -= reached - away[passed]
            self.u[self.row_of[passed]] += reached - away[passed]
        owner = _NOBODY
        while owner != row:
            owner = came_from[column]
            self.row_of[column] = owner
            self.column_of[owner], column = column, self.column_of[owner]

    def rival(self, row: int) -> Rival:
        """The cheapest way to give `row` another column, the others moving as they like.

        A ring of reduced costs from `row` back into its own column, but not straight into it.
        """
        own = self.column_of[row]
        away, came_from = [inf] * self.size, [-1] * self.size
        todo = list(range(self.size))
        self._relax(row, 0.0, todo, away, came_from)
        away[own], came_from[own] = inf, -1
        column = min(todo, key=away.__getitem__)
        while column != own:
            todo.remove(column)
            self._relax(self.row_of[column], away[column], todo, away, came_from)
            column = min(todo, key=away.__getitem__)
        if not isfinite(away[own]):
            return Rival(None, inf)
        return Rival(self._first_step(own, row, came_from), away[own])

    def _relax(
        self, row: int, reached: float, todo: list[int], away: list[float], came_from: list[int]
    ) -> None:
        costs, v = self.costs[row], self.v
        base = reached - self.u[row]
        for column in todo:
            length = base + costs[column] - v[column]
            if length < away[column]:
                away[column] = length
                came_from[column] = row

    def _first_step(self, column: int, row: int, came_from: list[int]) -> int:
        while came_from[column] != row:
            column = self.column_of[came_from[column]]
        return column


def _check(costs: Costs) -> None:
    widths = {len(row) for row in costs}
    if len(widths) > 1:
        raise ValueError("rows of different length")
    if costs and widths.pop() < len(costs):
        raise ValueError("more rows than columns")
    if not all(isfinite(cost) for row in costs for cost in row):
        raise ValueError("a cost that is no finite number")
