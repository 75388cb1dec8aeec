"""Once labels are printed no number is given twice: not to an opening, not to a corner."""

from __future__ import annotations

from dataclasses import replace

from partsbench.core.piece.front import Front, front_from_rows
from partsbench.core.piece.furnish import furnish, with_front
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.shaping import Axis, merge, split


def labelled(rows: tuple[int, ...], legs: int) -> Piece:
    front = front_from_rows(rows)
    assert isinstance(front, Front)
    piece = furnish("K7Q4", "Heron", front, legs=legs, pulls=1)
    assert isinstance(piece, Piece)
    return replace(piece, numbers_fixed=True)


def split_first(piece: Piece) -> Piece:
    front = split(piece.front, 1, Axis.COLUMNS)
    assert isinstance(front, Front)
    made = with_front(piece, front)
    assert isinstance(made, Piece)
    return made


def test_a_new_opening_takes_no_number_of_a_corner() -> None:
    piece = split_first(labelled((2,), 4))
    numbers = piece.home_numbers()
    assert len(numbers) == len(set(numbers)) == 7
    assert piece.part("D3").home.number == 7


def test_the_number_of_a_joined_opening_is_not_given_again() -> None:
    piece = labelled((2,), 0)
    joined = with_front(piece, merge(piece.front, [1, 2]))
    assert joined.part("D2").retired
    again = split_first(joined)
    assert {p.home.number for p in again.present if p.family == "D"} == {1, 3}
    assert again.part("D3").home.number == 3
