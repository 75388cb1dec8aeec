"""The fewest moves that bring swapped parts home, one numbered line a move."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partsbench.core.piece.codes import Family, short_number
from partsbench.core.sums.rings import Bench, Move

AT_ONCE = 9
"""Moves told at once: more would fill the page, and they are told anew after each one."""


def move_lines(moves: Sequence[Move[str, int]]) -> list[str]:
    """`1  D2: H1 to the bench`, and so on."""
    lines = [
        f"{place}  {move.part}: {_place(move.source)} to {_place(move.target)}"
        for place, move in enumerate(moves, 1)
    ]
    rest = len(lines) - AT_ONCE
    return lines if rest <= 1 else [*lines[:AT_ONCE], f"and {rest} more after these"]


@dataclass(frozen=True, slots=True)
class Arrow:
    """From tile to tile, and the numbers of the moves that make the way: `1, 4` by the bench."""

    start: str
    end: str
    turns: str


def arrows(moves: Sequence[Move[str, int]]) -> list[Arrow]:
    """An arrow for each part that moves from a home to its own; what goes by the bench, too."""
    waiting: dict[str, tuple[int, int]] = {}
    found = []
    for turn, move in enumerate(moves, 1):
        if isinstance(move.target, Bench):
            if not isinstance(move.source, Bench):
                waiting[move.part] = (move.source, turn)
        elif not isinstance(move.source, Bench):
            found.append(Arrow(_home(move.source), _home(move.target), str(turn)))
        elif move.part in waiting:
            source, first = waiting[move.part]
            found.append(Arrow(_home(source), _home(move.target), f"{first}, {turn}"))
    return found


def _place(place: int | Bench) -> str:
    return "the bench" if isinstance(place, Bench) else _home(place)


def _home(number: int) -> str:
    return short_number(Family.HOME, number)
