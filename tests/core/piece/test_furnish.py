from __future__ import annotations

from dataclasses import replace

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.piece import shaping
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import Front, OpeningKind, front_from_rows
from partsbench.core.piece.furnish import (
    add_part,
    furnish,
    mirrored_piece,
    numbered_afresh,
    walk,
    with_front,
    without_part,
)
from partsbench.core.piece.parts import Home, HomeKind
from partsbench.core.piece.piece import Numbering, Piece, home_words


def piece_of(*counts: int, **options) -> Piece:
    front = front_from_rows(counts)
    assert isinstance(front, Front)
    piece = furnish("K7Q4", "Heron", front, **options)
    assert isinstance(piece, Piece)
    return piece


def ok(made: Piece | Refused) -> Piece:
    assert isinstance(made, Piece), made
    return made


def shaped(piece: Piece, front: Front | Refused) -> Piece:
    assert isinstance(front, Front), front
    return ok(with_front(piece, front))


def shorts(piece: Piece, family: Family) -> list[str]:
    return [p.short for p in piece.present if p.family is family]


def test_a_chest_of_seven_has_a_number_for_every_thing():
    piece = piece_of(2, 2, 3, legs=4, pulls=2, top=True)
    assert {f.name: n for f, n in piece.count().items()} == {
        "DRAWER": 7, "LEG": 4, "PULL": 14, "TOP": 1, "CARCASE": 1,
    }  # fmt: skip
    assert [home_words(piece, piece.part(s)) for s in ("D1", "D5", "L1", "P1", "T1", "C1")] == [
        "row 1, left", "row 3, left", "front left corner", "on D1, left", "on the piece, top",
        "stays where it stands",
    ]  # fmt: skip


def test_sixty_drawers_with_two_pulls_each_are_numbered_past_ninety_nine():
    piece = piece_of(*[6] * 10, pulls=2)
    assert len(shorts(piece, Family.DRAWER)) == 60
    assert shorts(piece, Family.PULL)[-1] == "PC0"


@pytest.mark.parametrize(
    ("numbering", "rows"),
    [
        (Numbering.BY_ROW, {"D1": "row 1, left", "D2": "row 1, right", "D3": "row 2, left"}),
        (Numbering.BY_COLUMN, {"D1": "row 1, left", "D2": "row 2, left", "D3": "row 1, right"}),
        (Numbering.FROM_BOTTOM, {"D1": "row 2, left", "D2": "row 2, right", "D3": "row 1, left"}),
    ],
)
def test_numbers_run_the_way_that_is_asked(numbering, rows):
    piece = piece_of(2, 2, numbering=numbering)
    assert {short: home_words(piece, piece.part(short)) for short in rows} == rows


def test_a_split_before_labels_numbers_all_afresh():
    piece = piece_of(2, 2, 3)
    after = shaped(piece, shaping.split(piece.front, 1, shaping.Axis.COLUMNS))
    assert shorts(after, Family.DRAWER) == [f"D{n}" for n in range(1, 9)]
    assert home_words(after, after.part("D2")) == "row 1, middle"


def test_a_split_after_labels_moves_no_number():
    piece = replace(piece_of(2, 2, 3, pulls=1), numbers_fixed=True)
    after = shaped(piece, shaping.split(piece.front, 1, shaping.Axis.COLUMNS))
    assert [after.part(p.short) for p in piece.parts] == list(piece.parts)
    assert [p.short for p in after.present if piece.part(p.short) is None] == ["D8", "P8"]


def test_a_part_added_later_takes_the_next_number_and_moves_none():
    piece = replace(piece_of(2, 2), numbers_fixed=True)
    after = ok(add_part(piece, Family.BAG, Home(HomeKind.ON_PIECE, spot="tray"), contents="12"))
    assert [p.short for p in after.present if piece.part(p.short) is None] == ["B1"]
    assert after.parts[: len(piece.parts)] == piece.parts


def test_a_retired_number_is_not_given_again():
    piece = replace(piece_of(3), numbers_fixed=True)
    gone = without_part(piece, "D3", "lost in the move")
    again = ok(add_part(gone, Family.DRAWER, Home(HomeKind.OPENING, 3)))
    assert [p.short for p in again.present if p.family is Family.DRAWER] == ["D1", "D2", "D4"]
    assert again.part("D3").retired == "lost in the move"


def test_a_lost_drawer_does_not_come_back_when_the_front_changes_elsewhere():
    piece = without_part(replace(piece_of(3), numbers_fixed=True), "D3", "lost")
    after = shaped(piece, shaping.split(piece.front, 1, shaping.Axis.ROWS))
    assert shorts(after, Family.DRAWER) == ["D1", "D2", "D4"]
    assert after.at_home(3) == ()


def test_what_travels_with_a_part_goes_with_it_key_and_lock_too():
    piece = piece_of(2, pulls=1)
    piece = ok(add_part(piece, Family.LOCK, Home(HomeKind.ON_PART), "lock", parent="D1"))
    piece = ok(add_part(piece, Family.LOCK, Home(HomeKind.ON_PART), "key", parent="K1"))
    piece = replace(piece, numbers_fixed=True)
    gone = without_part(piece, "D1", "burnt")
    assert [p.short for p in gone.parts if p.retired] == ["D1", "P1", "K1", "K2"]
    front = shaping.set_kind(piece.front, 1, OpeningKind.EMPTY)
    assert [p.short for p in shaped(piece, front).parts if p.retired] == ["D1", "P1", "K1", "K2"]


def test_a_door_hiding_two_has_three_numbers_and_says_where():
    piece = piece_of(1, 2)
    piece = shaped(piece, shaping.set_kind(piece.front, 3, OpeningKind.DOOR))
    door = piece.part("G1")
    piece = shaped(piece, shaping.put_behind(piece.front, door.home.number, [1, 1]))
    assert shorts(piece, Family.DRAWER) == ["D1", "D2", "D3", "D4"]
    assert home_words(piece, piece.part("D3")) == "behind the door, row 1"


def test_a_false_front_stays_and_an_empty_place_has_no_part():
    piece = piece_of(3)
    piece = shaped(piece, shaping.set_kind(piece.front, 2, OpeningKind.FALSE_FRONT))
    assert [p.name for p in piece.present if p.family is Family.OTHER] == ["false front"]
    number = next(o.number for o in piece.front.openings if o.kind is OpeningKind.FALSE_FRONT)
    piece = shaped(piece, shaping.set_kind(piece.front, number, OpeningKind.EMPTY))
    assert shorts(piece, Family.OTHER) == []


def test_the_mirrored_twin_has_other_codes_and_left_for_right():
    piece = piece_of(1, 2, legs=4, pulls=2)
    piece = piece.with_part(replace(piece.part("D2"), old_mark="7"))
    twin = mirrored_piece(piece, "M2XA", "right one")
    assert {str(piece.code(p)) for p in piece.present}.isdisjoint(
        str(twin.code(p)) for p in twin.present
    )
    assert twin.mirror_of == "K7Q4"
    assert all(p.old_mark == "" for p in twin.parts)
    assert shorts(twin, Family.LEG) == shorts(piece, Family.LEG)
    assert mirrored_piece(twin, "K7Q4", "").front == piece.front


def test_the_numbers_of_a_drawer_and_its_home_agree():
    piece = piece_of(2, 2, 3)
    piece = shaped(piece, shaping.set_kind(piece.front, 1, OpeningKind.DOOR))
    for part in piece.present:
        if part.family is Family.DRAWER:
            assert part.home.number == part.number
    assert numbered_afresh(piece) == piece


def test_walk_gives_each_part_once_each_after_its_host():
    piece = piece_of(2, 2, legs=4, pulls=2)
    order = [p.short for p in walk(piece)]
    assert sorted(order) == sorted(p.short for p in piece.present)
    assert all(order.index(p.parent) < order.index(p.short) for p in piece.present if p.parent)


@pytest.mark.parametrize("options", [{"legs": 13}, {"legs": -1}, {"pulls": 7}])
def test_counts_that_cannot_be_drawn_are_refused(options):
    front = front_from_rows([2])
    assert isinstance(furnish("K7Q4", "Heron", front, **options), Refused)


def test_more_drawers_than_can_be_numbered_are_refused():
    front = front_from_rows([20] * 18)
    assert furnish("K7Q4", "Heron", front) == Refused("A piece can number 359 parts of one kind.")
