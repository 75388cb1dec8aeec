"""What a piece must not be, whichever way it comes in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import Front, front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.parts import Corner, Face, Home, HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.sound import (
    LONGEST_CODENAME,
    LONGEST_NAME,
    LONGEST_NOTE,
    LONGEST_TITLE,
    faults,
    first_fault,
)


def chest() -> Piece:
    """Four drawers with a pull each, on four legs."""
    front = front_from_rows((2, 2))
    assert isinstance(front, Front)
    piece = furnish("K7Q4", "Heron", front, legs=4, pulls=1, top=True)
    assert isinstance(piece, Piece)
    return piece


def changed(short: str, **values: object) -> Callable[[Piece], Piece]:
    """The piece with another part of that number."""

    def change(piece: Piece) -> Piece:
        part = piece.part(short)
        assert part is not None
        parts = tuple(replace(p, **values) if p is part else p for p in piece.parts)
        return replace(piece, parts=parts)

    return change


def renumbered_home(old: int, new: int) -> Callable[[Piece], Piece]:
    def change(piece: Piece) -> Piece:
        openings = tuple(
            replace(o, number=new) if o.number == old else o for o in piece.front.openings
        )
        return replace(piece, front=replace(piece.front, openings=openings))

    return change


def looped(piece: Piece) -> Piece:
    return changed("P2", parent="P1")(changed("P1", parent="P2")(piece))


def twelve_legs(piece: Piece) -> Piece:
    made = furnish(piece.tag, piece.codename, piece.front, legs=12)
    assert isinstance(made, Piece)
    return made


def deep(piece: Piece) -> Piece:
    """A key on a lock on a drawer: that is no circle."""
    more = (
        Part(Family.LOCK, 1, Home(HomeKind.ON_PART), parent="D1"),
        Part(Family.LOCK, 2, Home(HomeKind.ON_PART), parent="K1"),
    )
    return replace(piece, parts=(*piece.parts, *more))


WRONG: list[tuple[Callable[[Piece], Piece], str]] = [
    (lambda p: replace(p, codename=" "), "needs a codename"),
    (lambda p: replace(p, codename="H" * (LONGEST_CODENAME + 1)), "The codename has 41"),
    (lambda p: replace(p, codename="He\x1b[2Jron"), "The codename holds a character"),
    (lambda p: replace(p, title="t" * (LONGEST_TITLE + 1)), "The title has 121"),
    (lambda p: replace(p, title="tall\nchest"), "The title holds a character"),
    (renumbered_home(4, 400), "Home 400: homes are numbered 1 to 359"),
    (renumbered_home(4, 0), "Home 0: homes are numbered"),
    (renumbered_home(4, 3), "2 homes are numbered 3"),
    (lambda p: replace(p, corners=(*p.corners, Corner(1, "rear"))), "2 homes are numbered 1"),
    (
        lambda p: replace(p, corners=tuple(Corner(n, f"spot {n}") for n in range(20, 33))),
        "13 legs cannot be drawn",
    ),
    (lambda p: replace(p, parts=(*p.parts, p.parts[0])), "2 parts are numbered"),
    (changed("D1", number=360), "there is no such number"),
    (changed("D1", number=0), "there is no such number"),
    (changed("D1", home=Home(HomeKind.OPENING, 99)), "D1: there is no opening 99"),
    (changed("D1", home=Home(HomeKind.OPENING, -1)), "D1: there is no home -1"),
    (changed("D1", home=Home(HomeKind.STAYS, 360)), "D1: there is no home 360"),
    (changed("L1", home=Home(HomeKind.CORNER, 1)), "L1: there is no corner 1"),
    (changed("P1", parent=""), "P1: the part that it sits on is missing"),
    (changed("P1", parent="D9"), "P1: there is no part D9 for it to sit on"),
    (changed("P1", parent="P1"), "P1: it sits on itself"),
    (looped, "P1: it sits on itself"),
    (changed("D1", retired="burnt"), "P1: there is no part D1 for it to sit on"),
    (changed("D1", name="n" * (LONGEST_NAME + 1)), "D1: its name has 121"),
    (changed("D1", old_mark="\x07"), "D1: its old mark holds a character"),
    (changed("D1", note="n" * (LONGEST_NOTE + 1)), "D1: its note has 4001"),
    (changed("D1", faces=(Face("front"), Face("front"))), "2 faces are called “front”"),
    (changed("D1", faces=(Face(" "),)), "1 faces are called"),
]


@pytest.mark.parametrize(("spoil", "said"), WRONG, ids=[said for _, said in WRONG])
def test_what_cannot_be_is_told_with_its_number(spoil: Callable[[Piece], Piece], said: str) -> None:
    found = faults(spoil(chest()))
    assert any(said in f.sentence for f in found), found
    assert first_fault(spoil(chest())) == found[0]


@pytest.mark.parametrize(
    "change",
    [
        lambda p: p,
        deep,
        lambda p: replace(p, codename="H" * LONGEST_CODENAME, title="t" * LONGEST_TITLE),
        changed("D1", name="n" * LONGEST_NAME, contents="n" * LONGEST_NOTE),
        changed("D1", note="two\nlines\tof it"),
        renumbered_home(4, 359),
        changed("T1", number=359),
        twelve_legs,
        lambda p: changed("P1", retired="lost")(changed("D1", retired="burnt")(p)),
        changed("P1", retired="lost", parent="D1", home=Home(HomeKind.ON_PART, 0)),
        changed("D1", home=Home(HomeKind.STAYS, 359)),
    ],
)  # fmt: skip
def test_what_can_be_has_no_fault(change: Callable[[Piece], Piece]) -> None:
    piece = change(chest())
    wrong = [f.sentence for f in faults(piece) if "no opening 4" not in f.sentence]
    assert wrong == []
