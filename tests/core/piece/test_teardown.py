"""What is to be minded when a part comes out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.piece.front import Front, front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.teardown import hint, mind


@pytest.fixture
def piece() -> Piece:
    front = front_from_rows((1,))
    assert isinstance(front, Front)
    made = furnish("K7Q4", "Heron", front, legs=4, top=True)
    assert isinstance(made, Piece)
    return made


@pytest.mark.parametrize(
    ("short", "key"),
    [("D1", "tipping"), ("T1", "two_people"), ("L1", "lifting"), ("C1", "")],
)
def test_each_sort_of_part_has_its_caution(piece: Piece, short: str, key: str) -> None:
    part = piece.part(short)
    assert part is not None
    assert mind(part) == ((key,) if key else ())
    assert mind(replace(part, fragile=True)) == ("fragile",)
    assert hint(piece, part) == ""
