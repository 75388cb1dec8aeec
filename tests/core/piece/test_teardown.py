"""In which order a piece comes apart, and what is to be minded when a part comes out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from partsbench.core.piece import shaping
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import Front, OpeningKind, front_from_rows
from partsbench.core.piece.furnish import add_part, furnish, with_front
from partsbench.core.piece.parts import Home, HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.teardown import hint, label_order, mind, teardown_order


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


def shorts(parts: Iterable[Part]) -> list[str]:
    return [p.short for p in parts]


def whole_chest() -> Piece:
    """Two drawers with a pull each over a door that hides one; legs, a top, runners and a bag."""
    front = front_from_rows((2, 1))
    assert isinstance(front, Front)
    made = furnish("K7Q4", "Heron", front, legs=2, pulls=1, top=True)
    assert isinstance(made, Piece)
    to = shaping.set_kind(made.front, 3, OpeningKind.DOOR)
    assert isinstance(to, Front)
    made = with_front(made, to)
    assert isinstance(made, Piece)
    to = shaping.put_behind(made.front, 3, [1])
    assert isinstance(to, Front)
    made = with_front(made, to)
    for family, home, parent in (
        (Family.RUNNER, Home(HomeKind.OPENING, 1, "left"), ""),
        (Family.BAG, Home(HomeKind.ON_PIECE), ""),
        (Family.LOCK, Home(HomeKind.ON_PART), "D2"),
        (Family.LOCK, Home(HomeKind.ON_PART), "K1"),
        (Family.OTHER, Home(HomeKind.STAYS), ""),
        (Family.LOCK, Home(HomeKind.ON_PART), "C1"),
    ):
        assert isinstance(made, Piece)
        made = add_part(made, family, home, parent=parent)
    assert isinstance(made, Piece)
    return made


def test_a_piece_comes_apart_from_its_drawers_to_its_legs() -> None:
    """Drawers and their runners, the door before what it hides, the bag, the top, then the legs;
    what travels with a part comes off at the bench, also what sits on a part that stays."""
    piece = whole_chest()
    hidden = next(o.number for o in piece.front.openings if o.behind is not None)
    inside = piece.occupant(hidden)
    assert inside is not None and inside.short == "D3"
    order = shorts(teardown_order(piece))
    out = ["D1", "R1", "D2", "G1", "D3", "B1", "T1", "L1", "L2"]
    assert order[: len(out)] == out
    follow = order[len(out) :]
    assert follow[0] == "P1", "of the first drawer"
    assert follow.index("K1") < follow.index("K2"), "a key after the lock that it is for"
    assert follow[-1] == "K3", "of the carcase, which stays"
    assert len(order) == len(set(order))
    stays = {p.short for p in piece.present} - set(order)
    assert stays == {"C1", "X1"}
    assert shorts(label_order(piece)) == [*order, *(s for s in shorts(piece.present) if s in stays)]


def test_a_runner_comes_out_after_the_drawer_that_it_bears() -> None:
    piece = whole_chest()
    parts = (*(p for p in piece.parts if p.family is Family.RUNNER),
             *(p for p in piece.parts if p.family is not Family.RUNNER))  # fmt: skip
    order = shorts(teardown_order(replace(piece, parts=parts)))
    assert order.index("D1") < order.index("R1")


def test_a_door_says_what_is_inside_and_nothing_else_does() -> None:
    piece = whole_chest()
    said = {p.short: hint(piece, p) for p in piece.present}
    assert said["G1"] == "Open door G1: 1 inside (D3)."
    assert {short for short, words in said.items() if words} == {"G1"}
    empty = replace(piece, parts=tuple(p for p in piece.parts if p.short != "D3"))
    door = empty.part("G1")
    assert door is not None and hint(empty, door) == ""
