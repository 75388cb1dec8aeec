from __future__ import annotations

from partsbench.core.piece import shaping
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import OpeningKind
from partsbench.core.piece.parts import Home, HomeKind
from partsbench.core.piece.shaping import Axis
from partsbench.services.acts.history import undo
from partsbench.services.books import pieces
from partsbench.ui.layout.desk import Desk, tile_of
from partsbench.ui.piece_view.keys import home_number, part_of
from tests.ui.layout.conftest import Heard


def test_choosing_a_tile_makes_its_part_the_current_one(desk: Desk) -> None:
    desk.choose(["H5", "H6"])
    assert [p.short for p in desk.parts()] == ["D5", "D6"]
    assert desk.part == "D6"


def test_choosing_a_pull_lights_the_drawer_it_sits_on(desk: Desk) -> None:
    desk.choose_part("P3")
    assert desk.chosen == ("H3",)
    assert desk.current().short == "P3"


def test_a_bag_has_no_tile_and_can_still_be_the_current_part(desk: Desk) -> None:
    home = Home(HomeKind.ON_PIECE, spot="tray")
    desk.settle(pieces.add_part(desk.shop, desk.tag, Family.BAG, home, "screws"), "Added.")
    desk.choose_part("B1")
    assert (desk.chosen, desk.part) == ((), "B1")
    assert [p.short for p in desk.parts()] == ["B1"]


def test_after_a_split_both_halves_stay_chosen_though_numbers_moved(desk: Desk) -> None:
    desk.choose(["H5"])
    assert desk.reshape(lambda f: shaping.split(f, 5, Axis.COLUMNS), "D5 in two")
    assert desk.chosen == ("H5", "H6")
    assert desk.piece.part("D8") is not None


def test_after_a_join_the_joined_one_is_chosen(desk: Desk) -> None:
    desk.choose(["H5", "H6"])
    desk.reshape(lambda f: shaping.merge(f, [5, 6]), "joined")
    assert len(desk.chosen) == 1
    assert desk.openings()[0].span.columns >= 2


def test_a_refusal_changes_nothing_and_names_both(desk: Desk, heard: Heard) -> None:
    before = desk.piece
    assert not desk.reshape(lambda f: shaping.merge(f, [1, 4]), "joined")
    assert "1, 4" in heard.refusal()
    assert desk.piece == before == desk.shop.piece(desk.tag)


def test_every_tile_and_every_drawn_part_find_each_other(desk: Desk) -> None:
    piece = desk.piece
    for short in ("D1", "D7", "L1", "L4", "T1", "C1"):
        assert part_of(piece, tile_of(piece, short)).short == short


def test_a_piece_that_is_gone_leaves_an_empty_desk(desk: Desk) -> None:
    desk.choose(["H5"])
    desk.load("")
    assert (desk.piece, desk.chosen, desk.part, desk.parts()) == (None, (), "", [])


def test_the_pull_in_hand_stays_in_hand_when_its_path_is_given(desk: Desk) -> None:
    desk.choose_part("P3")
    given = pieces.give_path(desk.shop, desk.tag, "paint", ["P3"])
    assert desk.settle(given, "P3: paint.")
    assert desk.part == "P3"
    assert desk.chosen == ("H3",)


def test_after_undo_what_was_chosen_stays_chosen_in_its_place(desk: Desk) -> None:
    desk.choose(["H3"])
    there = desk.openings()[0].span
    desk.reshape(lambda f: shaping.set_kind(f, 3, OpeningKind.DOOR), "D3 made a door")
    assert [o.span for o in desk.openings()] == [there]
    undo(desk.shop)
    desk.load(desk.tag)
    assert [(o.span, o.kind) for o in desk.openings()] == [(there, OpeningKind.DRAWER)]


def test_a_corner_with_its_leg_stays_chosen_when_the_front_changes(desk: Desk) -> None:
    piece = desk.piece
    assert piece is not None
    leg = piece.part("L2")
    assert leg is not None
    desk.choose_part("L2")
    (corner,) = desk.chosen
    assert home_number(corner) == leg.home.number
    assert desk.reshape(lambda f: shaping.split(f, 5, Axis.COLUMNS), "D5 in two")
    assert desk.part == "L2" and desk.current().home.spot == leg.home.spot
    desk.choose(["C1"])
    desk.reshape(lambda f: shaping.split(f, 1, Axis.COLUMNS), "D1 in two")
    assert desk.chosen == ("C1",)


def test_a_desk_without_a_piece_changes_nothing(desk: Desk, heard: Heard) -> None:
    desk.load("")
    before = desk.shop.book.newest()
    assert not desk.reshape(lambda f: shaping.split(f, 5, Axis.COLUMNS), "D5 in two")
    assert desk.openings() == [] and desk.parts() == [] and desk.current() is None
    assert (heard.answers, desk.shop.book.newest()) == ([], before)
    assert tile_of(None, "D1") == ""
