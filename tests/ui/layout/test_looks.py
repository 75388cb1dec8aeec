from __future__ import annotations

from pathlib import Path

import pytest

from partsbench.core.piece.front import OpeningKind
from partsbench.core.piece.shaping import set_kind
from partsbench.services.books import pieces
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.looks import key_words, looks_of
from partsbench.ui.piece_view import Pattern
from partsbench.ui.piece_view.keys import home_number, keys_of
from tests.support.shops import made, tall_chest


def test_each_path_has_a_pattern_and_a_word(desk: Desk) -> None:
    piece = made(pieces.give_path(desk.shop, desk.tag, "clear", ["D4"]))
    looks = looks_of(piece, desk.shop.paths)
    assert set(looks) == set(keys_of(piece))
    assert [(looks[k].pattern, looks[k].words) for k in ("H1", "H2", "H4", "H5")] == [
        (Pattern.FILLED, "paint"),
        (Pattern.HATCHED, "stain"),
        (Pattern.DOTTED, "clear"),
        (Pattern.PLAIN, "as found"),
    ]


@pytest.mark.parametrize("path", ["chalk_wax", "dye_stain", "shellac_paint", "raw"])
def test_every_path_of_the_shop_is_told_in_words(desk: Desk, path: str) -> None:
    piece = made(pieces.give_path(desk.shop, desk.tag, path, ["D4 front"]))
    look = looks_of(piece, desk.shop.paths)["H4"]
    assert look.words == path.replace("_", " ")
    assert desk.shop.path(path).name in look.description
    assert "other faces differ" in look.description


def test_an_empty_place_and_a_shelf_say_so(desk: Desk) -> None:
    desk.reshape(lambda f: set_kind(f, 4, OpeningKind.EMPTY), "empty")
    front = desk.piece.front
    empty = next(o.number for o in front.openings if o.kind is OpeningKind.EMPTY)
    look = looks_of(desk.piece, desk.shop.paths)[f"H{empty}"]
    assert (look.number, look.pattern) == ("empty", Pattern.EMPTY)
    assert key_words(desk.piece, f"H{empty}") == "empty, row 2, right"


def test_a_door_gives_its_room_to_what_it_hides(desk: Desk, tmp_path: Path) -> None:
    piece = tall_chest(desk.shop, tmp_path)
    door = piece.part("G1").home.number
    shut = looks_of(piece, desk.shop.paths)[f"H{door}"]
    open_ = looks_of(piece, desk.shop.paths, show_hidden=True)[f"H{door}"]
    assert shut.number == "G1"
    assert open_.number == ""
    assert open_.description.startswith("G1, door")


def test_words_of_a_tile_do_not_say_a_thing_twice(desk: Desk) -> None:
    assert key_words(desk.piece, "H5") == "D5, drawer, row 3, left"
    corner = desk.piece.corners[0].number
    assert key_words(desk.piece, f"H{corner}") == "L1, front left leg"


def test_a_corner_whose_leg_was_taken_off_says_so(desk: Desk) -> None:
    leg = desk.piece.part("L2")
    keys = keys_of(desk.piece)
    corner = next(key for key in keys if home_number(key) == leg.home.number)
    piece = made(pieces.retire_part(desk.shop, desk.tag, "L2", "was taken off"))
    look = looks_of(piece, desk.shop.paths)[corner]
    assert look.description == "corner without a leg" and look.pattern is Pattern.EMPTY
    assert key_words(piece, corner) == corner
    assert key_words(piece, "nothing") == ""
