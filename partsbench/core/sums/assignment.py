"""Who goes where at the least total cost, and how near the next best answer is.

The Hungarian method with shortest augmenting paths, in plain Python: sixty drawers with every
margin take some 15 ms, less than scipy takes to be imported, and scipy is a large thing to install.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite

CostTable = Sequence[Sequence[float]]


@dataclass(frozen=True, slots=True)
class Rival:
    """The best answer that gives one row another column: which, and how much dearer in all."""

    column: int | None
    margin: float


@dataclass(frozen=True, slots=True)
class Assignment:
    """The column of each row, the least total, and what any other column would cost.

    `margins[row][column]`: how much dearer the best answer is that gives the row that column; 0 for
    its own.
    """

    columns: tuple[int, ...]
    total: float
    margins: tuple[tuple[float, ...], ...]

    def rival(self, row: int) -> Rival:
        """The best answer that moves `row`; no column: it has nowhere else to go."""
        own, margins = self.columns[row], self.margins[row]
        others = [column for column in range(len(margins)) if column != own]
        column = min(others, key=margins.__getitem__, default=None)
        return Rival(column, inf if column is None else margins[column])


def assign(costs: CostTable) -> Assignment:
    """The cheapest assignment of rows to columns (no more rows than columns), with all margins.

    ValueError for ragged or unbounded costs, or more rows than columns.
    """
    _check(costs)
    solver = _Solver(costs)
    columns = tuple(solver.column_of[: len(costs)])
    total = sum(costs[row][column] for row, column in enumerate(columns))
    return Assignment(columns, total, tuple(solver.margins(row) for row in range(len(costs))))


_NOBODY = -1


class _Solver:
    """Matching and potentials: costs[i][j] - u[i] - v[j] >= 0, and 0 where matched.

    Rows of nothing are added until there are as many rows as columns, so that an answer with
    another column is always a ring of changes.
    """

    def __init__(self, costs: CostTable) -> None:
        self.size = len(costs[0]) if costs else 0
        self.costs = [*costs, *([[0.0] * self.size] * (self.size - len(costs)))]
        self.u, self.v = [0.0] * self.size, [0.0] * self.size
        self.row_of, self.column_of = [_NOBODY] * self.size, [_NOBODY] * self.size
        for row in range(self.size):
            self.augment(row)
        self.into = [
            [self.costs[row][column] - self.u[row] - self.v[column] for row in self.row_of]
            for column in range(self.size)
        ]
        """For each column: what it costs each other column's row to move into it."""

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

    def margins(self, row: int) -> tuple[float, ...]:
        """How much dearer it is to give `row` each column, the others moving as they like.

        A ring of reduced costs: from `row` into the column, and the cheapest way from there back
        into the row's own, found backwards from that.
        """
        own = self.column_of[row]
        home = [inf] * self.size
        home[own] = 0.0
        todo = list(range(self.size))
        while todo:
            settled = min(todo, key=home.__getitem__)
            todo.remove(settled)
            reached, into = home[settled], self.into[settled]
            for column in todo:
                length = reached + into[column]
                if length >= home[column]:
                    continue
                home[column] = length
        costs, u, v = self.costs[row], self.u[row], self.v
        return tuple(
            0.0 if column == own else max(costs[column] - u - v[column] + home[column], 0.0)
            for column in range(self.size)
        )

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


def _check(costs: CostTable) -> None:
    widths = {len(row) for row in costs}
    if len(widths) > 1:
        raise ValueError("rows of different length")
    if costs and widths.pop() < len(costs):
        raise ValueError("more rows than columns")
    if not all(isfinite(cost) for row in costs for cost in row):
        raise ValueError("a cost that is no finite number")
