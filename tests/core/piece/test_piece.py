"""What a piece knows of its parts: codes of homes, corners of legs, and places in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.piece import shaping
from partsbench.core.piece.codes import HIGHEST_NUMBER, Family
from partsbench.core.piece.front import Front, OpeningKind, front_from_rows
from partsbench.core.piece.furnish import add_part, furnish, with_front, without_part
from partsbench.core.piece.parts import Home, HomeKind
from partsbench.core.piece.piece import Piece, corner_spots, home_words, opening_words


def piece_of(*counts: int, **options: object) -> Piece:
    front = front_from_rows(counts)
    assert isinstance(front, Front)
    made = furnish("K7Q4", "Heron", front, **options)  # type: ignore[arg-type]
    assert isinstance(made, Piece)
    return made


def shaped(piece: Piece, front: object) -> Piece:
    assert isinstance(front, Front), front
    made = with_front(piece, front)
    assert isinstance(made, Piece), made
    return made


def with_more(piece: Piece, family: Family, home: Home, parent: str = "") -> Piece:
    made = add_part(piece, family, home, parent=parent)
    assert isinstance(made, Piece), made
    return made


FOUR = ("front left", "front right", "rear left", "rear right")


@pytest.mark.parametrize(
    ("legs", "spots"),
    [
        (0, ()),
        (1, FOUR[:1]),
        (2, FOUR[:2]),
        (3, (*FOUR[:2], "rear")),
        (4, FOUR),
        (5, (*FOUR, "front middle")),
        (6, (*FOUR, "front middle", "rear middle")),
        (7, (*FOUR, "front middle 1", "rear middle 1", "front middle 2")),
        (8, (*FOUR, "front middle 1", "rear middle 1", "front middle 2", "rear middle 2")),
    ],
)
def test_where_so_many_legs_stand(legs: int, spots: tuple[str, ...]) -> None:
    assert corner_spots(legs) == spots


@pytest.mark.parametrize("legs", range(13))
def test_each_leg_has_a_corner_of_its_own(legs: int) -> None:
    assert len(set(corner_spots(legs))) == len(corner_spots(legs)) == legs


def test_each_part_comes_home_to_the_label_of_what_it_lives_in_or_sits_on() -> None:
    piece = piece_of(2, legs=2, pulls=1, top=True)
    homes = {p.short: str(piece.home_code_of(p)) for p in piece.present}
    code = {p.short: str(piece.code(p)) for p in piece.present}
    assert homes == {
        "D1": str(piece.home_code(1)), "D2": str(piece.home_code(2)),
        "L1": str(piece.home_code(3)), "L2": str(piece.home_code(4)),
        "P1": code["D1"], "P2": code["D2"], "T1": code["C1"], "C1": code["C1"],
    }  # fmt: skip
    bare = replace(piece, parts=tuple(p for p in piece.parts if p.short == "T1"))
    assert str(bare.home_code_of(bare.parts[0])) == code["T1"], "it has nothing to sit on"


def test_a_home_label_that_was_printed_again_has_its_own_letter() -> None:
    piece = replace(piece_of(2), home_generations=((2, "C"),))
    assert [piece.home_code(n).generation for n in (1, 2)] == ["A", "C"]


def test_homes_that_expect_something_are_drawers_doors_corners_and_where_runners_are() -> None:
    piece = piece_of(3, legs=2)
    piece = shaped(piece, shaping.set_kind(piece.front, 2, OpeningKind.DOOR))
    piece = shaped(piece, shaping.set_kind(piece.front, 2, OpeningKind.SHELF))
    shelf = next(o.number for o in piece.front.openings if o.kind is OpeningKind.SHELF)
    assert shelf == 3
    assert piece.home_numbers() == (1, 2, 4, 5)
    lived_in = with_more(piece, Family.SHELF, Home(HomeKind.OPENING, shelf))
    assert lived_in.home_numbers() == (1, 2, 3, 4, 5)


def test_a_runner_is_no_occupant_and_what_sits_on_a_part_is_at_no_home() -> None:
    piece = with_more(piece_of(2, pulls=1), Family.RUNNER, Home(HomeKind.OPENING, 1, "left"))
    drawer = piece.part("D1")
    assert piece.occupant(1) == drawer
    assert [p.short for p in piece.at_home(1)] == ["D1", "R1"]
    gone = without_part(replace(piece, numbers_fixed=True), "D1", "burnt")
    assert gone.occupant(1) is None
    assert [p.short for p in gone.at_home(1)] == ["R1"]


def test_numbers_run_on_to_the_last_that_a_label_can_bear() -> None:
    piece = piece_of(2)
    drawer = piece.part("D2")
    assert drawer is not None
    assert piece.next_number(Family.DRAWER) == 3
    assert piece.next_number(Family.BAG) == 1
    for last, follows in ((HIGHEST_NUMBER - 1, True), (HIGHEST_NUMBER, False)):
        near = replace(piece, parts=(replace(drawer, number=last),))
        found = near.next_number(Family.DRAWER)
        assert found == last + 1 if follows else isinstance(found, Refused)


def test_parts_are_found_by_number_and_family() -> None:
    piece = piece_of(2, legs=2)
    assert piece.numbered(Family.LEG, 2) == piece.part("L2")
    assert piece.numbered(Family.LEG, 3) is None
    assert piece.part("L3") is None


@pytest.mark.parametrize(
    ("counts", "number", "words"),
    [
        ((1,), 1, "row 1"),
        ((2, 1), 2, "row 1, right"),
        ((2, 1), 3, "row 2"),
        ((3,), 2, "row 1, middle"),
        ((4,), 1, "row 1, left"),
        ((4,), 2, "row 1, 2nd of 4"),
        ((4,), 3, "row 1, 3rd of 4"),
        ((4,), 4, "row 1, right"),
        ((1, 5), 4, "row 2, 3rd of 5"),
    ],
)
def test_an_opening_in_words(counts: tuple[int, ...], number: int, words: str) -> None:
    piece = piece_of(*counts)
    opening = piece.front.opening(number)
    assert opening is not None
    assert opening_words(piece.front, opening) == words


def behind(piece: Piece, door: int, *rows: int) -> Piece:
    return shaped(piece, shaping.put_behind(piece.front, door, rows))


def hidden_words(piece: Piece) -> list[str]:
    return [opening_words(piece.front, o) for o in piece.front.openings if o.behind is not None]


def test_what_a_door_hides_is_told_by_its_door_where_there_are_several() -> None:
    piece = piece_of(2)
    piece = shaped(piece, shaping.set_kind(piece.front, 1, OpeningKind.DOOR))
    piece = shaped(piece, shaping.set_kind(piece.front, 1, OpeningKind.DOOR))
    one, _ = (o.number for o in piece.front.openings if o.kind is OpeningKind.DOOR)
    assert hidden_words(behind(piece, one, 1)) == ["behind the door, alone"]
    assert hidden_words(behind(piece, one, 2)) == [
        "behind the door, left",
        "behind the door, right",
    ]
    assert hidden_words(behind(piece, one, 1, 1)) == [
        "behind the door, row 1", "behind the door, row 2",
    ]  # fmt: skip
    both = behind(piece, one, 1)
    other = next(o.number for o in both.front.openings
                 if o.kind is OpeningKind.DOOR and not both.front.behind(o.number))  # fmt: skip
    both = behind(both, other, 1)
    assert sorted(hidden_words(both)) == ["behind door H3, alone", "behind door H4, alone"]


@pytest.mark.parametrize(
    ("family", "home", "parent", "words"),
    [
        (Family.BAG, Home(HomeKind.ON_PIECE, spot="tray"), "", "on the piece, tray"),
        (Family.BAG, Home(HomeKind.ON_PIECE), "", "on the piece"),
        (Family.LOCK, Home(HomeKind.ON_PART), "D1", "on D1"),
        (Family.LOCK, Home(HomeKind.ON_PART, spot="middle"), "D1", "on D1, middle"),
        (Family.RUNNER, Home(HomeKind.OPENING, 2, "left"), "", "row 1, right, left"),
        (Family.OTHER, Home(HomeKind.STAYS), "", "stays where it stands"),
    ],
)
def test_where_a_part_lives_in_words(family: Family, home: Home, parent: str, words: str) -> None:
    piece = with_more(piece_of(2), family, home, parent)
    assert home_words(piece, piece.parts[-1]) == words
