"""The fewest moves that bring swapped parts home, one numbered line a move."""

from __future__ import annotations

from collections.abc import Sequence

from partsbench.core.piece.codes import Family, short_number
from partsbench.core.sums.rings import Bench, Move


def move_lines(moves: Sequence[Move[str, int]]) -> list[str]:
    """`1  D2: H1 to the bench`, and so on."""
    return [
        f"{place}  {move.part}: {_place(move.source)} to {_place(move.target)}"
        for place, move in enumerate(moves, 1)
    ]


def arrows(moves: Sequence[Move[str, int]]) -> list[tuple[str, str]]:
    """Tile keys from and to, of the moves between two homes; what goes by the bench goes home."""
    waiting: dict[str, int] = {}
    pairs = []
    for move in moves:
        if isinstance(move.target, Bench):
            if not isinstance(move.source, Bench):
                waiting[move.part] = move.source
            continue
        source = waiting.get(move.part) if isinstance(move.source, Bench) else move.source
        if source is not None:
            pairs.append((_home(source), _home(move.target)))
    return pairs


def _place(place: int | Bench) -> str:
    return "the bench" if isinstance(place, Bench) else _home(place)


def _home(number: int) -> str:
    return short_number(Family.HOME, number)
