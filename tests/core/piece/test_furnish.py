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
    pull_spots,
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


def test_twelve_legs_and_six_pulls_are_the_most_that_can_be_drawn():
    piece = piece_of(2, legs=12, pulls=6)
    assert (len(shorts(piece, Family.LEG)), len(shorts(piece, Family.PULL))) == (12, 12)
    front = front_from_rows([2])
    for options in ({"legs": 13}, {"pulls": 7}, {"pulls": -1}):
        assert isinstance(furnish("K7Q4", "Heron", front, **options), Refused)


def test_as_many_drawers_as_have_numbers_can_be_and_no_more():
    """359 is the last that a label can bear: 18 rows of 20 less one."""
    assert len(shorts(piece_of(*[20] * 17, 19), Family.DRAWER)) == 359


def test_legs_are_equals_only_where_it_is_said():
    assert {p.group for p in piece_of(1, legs=4).present if p.family is Family.LEG} == {""}
    equal = piece_of(1, legs=4, equal_legs=True)
    assert {p.group for p in equal.present if p.family is Family.LEG} == {"leg"}
    leg = piece_of(2, 1, legs=2).part("L2")
    assert leg is not None
    assert (leg.name, leg.home) == ("front right leg", Home(HomeKind.CORNER, 5, "front right"))


@pytest.mark.parametrize("pulls", [0, 1, 2, 3])
def test_a_door_has_one_pull_at_most(pulls):
    piece = piece_of(2, pulls=pulls)
    door = shaped(piece, shaping.set_kind(piece.front, 1, OpeningKind.DOOR))
    hosts = [p.parent for p in door.present if p.family is Family.PULL]
    assert (hosts.count("D1"), hosts.count("G1")) == (pulls, min(pulls, 1))


def test_a_new_drawer_has_as_many_pulls_as_most_drawers_have():
    piece = piece_of(3, pulls=2)
    for short in ("P1", "P2"):
        piece = without_part(piece, short, "")
    after = shaped(piece, shaping.split(piece.front, 3, shaping.Axis.ROWS))
    last = after.children(shorts(after, Family.DRAWER)[-1])
    assert len(last) == 2
    bare = piece_of(2)
    after = shaped(bare, shaping.split(bare.front, 1, shaping.Axis.ROWS))
    assert shorts(after, Family.PULL) == []


def test_new_openings_of_a_labelled_piece_are_numbered_above_every_home_it_ever_had():
    """Two drawers and two legs: homes 1 to 4. A part that was at home 9 once leaves that too."""
    piece = replace(piece_of(2, legs=2), numbers_fixed=True)
    after = shaped(piece, shaping.split(piece.front, 1, shaping.Axis.COLUMNS, 3))
    assert {o.number for o in after.front.openings} == {1, 2, 5, 6}
    drawer = piece.part("D1")
    assert drawer is not None
    once = replace(drawer, number=9, home=Home(HomeKind.OPENING, 9), retired="burnt")
    after = shaped(piece.with_part(once), shaping.split(piece.front, 1, shaping.Axis.COLUMNS, 3))
    assert {o.number for o in after.front.openings} == {1, 2, 10, 11}


def test_what_a_labelled_door_hides_is_numbered_on_with_its_door():
    piece = piece_of(2, legs=2)
    piece = replace(shaped(piece, shaping.set_kind(piece.front, 2, OpeningKind.DOOR)),
                    numbers_fixed=True)  # fmt: skip
    door = next(o.number for o in piece.front.openings if o.kind is OpeningKind.DOOR)
    after = shaped(piece, shaping.put_behind(piece.front, door, [2]))
    assert [(o.number, o.behind) for o in after.front.openings if o.behind] == [
        (5, door),
        (6, door),
    ]


def test_a_part_whose_opening_is_gone_is_retired_once_its_label_is_printed():
    piece = piece_of(2, pulls=1)
    merged = shaping.merge(piece.front, [1, 2])
    assert shorts(shaped(piece, merged), Family.DRAWER) == ["D1"]
    fixed = shaped(replace(piece, numbers_fixed=True), merged)
    gone = {p.short: p.retired for p in fixed.parts if p.retired}
    assert gone == {"D2": "its opening is gone", "P2": "its opening is gone"}


def test_a_runner_stays_in_its_opening_whatever_fills_it_and_a_drawer_does_not():
    piece = ok(add_part(piece_of(2), Family.RUNNER, Home(HomeKind.OPENING, 1, "left")))
    fixed = replace(piece, numbers_fixed=True)
    door = shaped(fixed, shaping.set_kind(piece.front, 1, OpeningKind.DOOR))
    assert [p.short for p in door.at_home(1)] == ["R1", "G1"]
    assert [p.short for p in door.parts if p.retired] == ["D1"]


def test_a_false_front_comes_once_and_goes_with_its_opening():
    piece = piece_of(2)
    false = shaped(piece, shaping.set_kind(piece.front, 1, OpeningKind.FALSE_FRONT))
    (front,) = [p for p in false.present if p.name == "false front"]
    assert front.home.kind is HomeKind.STAYS
    assert shaped(false, false.front) == false
    fixed = replace(false, numbers_fixed=True)
    drawer = shaped(fixed, shaping.set_kind(fixed.front, front.home.number, OpeningKind.DRAWER))
    assert drawer.part(front.short).retired and shorts(drawer, Family.DRAWER) == ["D1", "D2"]


def test_what_sits_on_nothing_or_nowhere_is_not_added():
    piece = replace(piece_of(2), numbers_fixed=True)
    gone = without_part(piece, "D2", "burnt")
    for short in ("D2", "D9"):
        said = add_part(gone, Family.LOCK, Home(HomeKind.ON_PART), parent=short)
        assert said == Refused(f"There is no part {short} for it to sit on.")
    said = add_part(piece, Family.RUNNER, Home(HomeKind.OPENING, 9))
    assert said == Refused("There is no opening 9.")
    lock = ok(add_part(piece, Family.LOCK, Home(HomeKind.ON_PART), parent="D2")).parts[-1]
    assert (lock.short, lock.parent, lock.fragile) == ("K1", "D2", False)


def test_a_twin_is_numbered_by_its_own_order_and_not_yet_labelled():
    """Of 300 and 600 mm; left and right change, so its first drawer is the wide one."""
    piece = piece_of(3, 1, legs=2, pulls=1)
    piece = replace(shaped(piece, shaping.merge(piece.front, [2, 3])), numbers_fixed=True,
                    home_generations=((1, "B"),), title="left one")  # fmt: skip
    first = piece.part("D1")
    assert first is not None
    noted = replace(first, note="tight", generation="C", name="left drawer")
    twin = mirrored_piece(piece.with_part(noted), "M2XA", "right one")
    assert not twin.numbers_fixed and twin.home_generations == ()
    assert (twin.tag, twin.title, twin.mirror_of) == ("M2XA", "right one", "K7Q4")
    widths = {p.short: twin.front.box(twin.front.opening(p.home.number).span)[2]
              for p in twin.present if p.family is Family.DRAWER}  # fmt: skip
    assert widths == {"D1": 600, "D2": 300, "D3": 900}
    second = twin.part("D2")
    assert second is not None
    assert (second.name, second.note, second.generation) == ("right drawer", "", "A")
    assert [c.spot for c in twin.corners] == ["front left", "front right"]
    assert [f.name for f in second.faces] == [f.name for f in first.faces]


def test_a_twin_has_the_finish_of_the_other_side():
    carcase = piece_of(1).part("C1")
    assert carcase is not None
    piece = piece_of(1).with_part(carcase.with_path("stain", frozenset({"left side"})))
    twin = mirrored_piece(piece, "M2XA", "").part("C1")
    assert twin is not None
    assert {f.name for f in twin.faces if f.path == "stain"} == {"right side"}


@pytest.mark.parametrize(
    ("count", "spots"),
    [
        (0, ()),
        (1, ("middle",)),
        (2, ("left", "right")),
        (3, ("left", "middle", "right")),
        (4, ("place 1", "place 2", "place 3", "place 4")),
    ],
)
def test_where_so_many_pulls_sit(count, spots):
    assert pull_spots(count) == spots


def test_a_new_door_of_a_labelled_piece_takes_what_it_hides_to_its_own_new_number():
    """Split in two, the new one a door, and two drawers behind it, before it is taken over."""
    piece = replace(piece_of(2, legs=2), numbers_fixed=True)
    front = shaping.split(piece.front, 2, shaping.Axis.ROWS)
    assert isinstance(front, Front)
    front = shaping.set_kind(front, 3, OpeningKind.DOOR)
    assert isinstance(front, Front)
    after = shaped(piece, shaping.put_behind(front, 3, [2]))
    kinds = {o.number: (o.kind, o.behind) for o in after.front.openings}
    assert kinds == {
        1: (OpeningKind.DRAWER, None), 2: (OpeningKind.DRAWER, None), 5: (OpeningKind.DOOR, None),
        6: (OpeningKind.DRAWER, 5), 7: (OpeningKind.DRAWER, 5),
    }  # fmt: skip
