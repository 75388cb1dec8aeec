from __future__ import annotations

from dataclasses import asdict, fields, replace

import pytest
from hypothesis import given, settings

from partsbench.core.piece.codes import Family, parse_code
from partsbench.core.piece.drawing import ShapeKind, elevation
from partsbench.core.piece.furnish import add_part
from partsbench.core.piece.parts import STAIN, TIE_ON, Home, HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.teardown import label_order
from partsbench.paper.drawing import ShapeLook
from partsbench.paper.labels import (
    LabelContent,
    home_label_of,
    home_labels_of,
    label_of,
    labels_of,
)
from tests.support.paper import all_labels, heron, many_drawers, with_a_door
from tests.support.some_pieces import pieces


def part_of(piece: Piece, short: str) -> Part:
    part = piece.part(short)
    assert part
    return part


def label(piece: Piece, short: str) -> LabelContent:
    return label_of(piece, part_of(piece, short))


def test_a_drawer_says_its_number_code_home_and_where_the_label_goes() -> None:
    made = label(heron(), "D5")
    assert (made.number, made.code, made.codename) == ("D5", "K7Q4-D05AK", "Heron")
    assert (made.home, made.stick, made.arrow) == ("row 3, left", "stick it on the back", "up")
    assert (made.old_mark, made.kind, made.is_home) == ("3", "drawer", False)


def test_its_home_is_filled_in_the_drawing_and_nothing_else_is() -> None:
    made = label(heron(), "D5")
    (mark,) = made.marks
    assert (mark.look, mark.shape.part, mark.shape.home) == (ShapeLook.FILLED, "D5", 5)


def test_a_pull_is_filled_and_its_drawer_outlined() -> None:
    host, own = label(heron(), "P3").marks
    assert (host.look, host.shape.part) == (ShapeLook.OUTLINED, "D2")
    assert (own.look, own.shape.part) == (ShapeLook.FILLED, "P3")


def test_a_hidden_drawer_is_filled_inside_its_door() -> None:
    piece = with_a_door()
    hidden = next(
        p
        for p in piece.parts
        if piece.front.opening(p.home.number or 0)
        in piece.front.behind(part_of(piece, "G1").home.number)
    )
    (mark,) = label_of(piece, hidden).marks
    door = next(s for s in elevation(piece).shapes if s.part == "G1")
    assert mark.shape.kind is ShapeKind.HIDDEN
    assert door.x < mark.shape.x < door.x + door.width
    assert door.y < mark.shape.y < door.y + door.height


def test_equal_legs_are_filled_at_every_corner_of_theirs() -> None:
    made = label(with_a_door(), "L2")
    assert [m.shape.part for m in made.marks] == ["L3", "L4", "L1", "L2"]
    assert made.kind == "leg"


def test_the_carcase_and_a_bag_are_outlined_not_blackened() -> None:
    for short in ("C1", "B1"):
        (mark,) = label(heron(), short).marks
        assert (mark.look, mark.shape.kind) == (ShapeLook.OUTLINED, ShapeKind.CARCASE)


def test_a_runner_is_a_bar_at_its_side_of_the_opening() -> None:
    piece = add_part(heron(), Family.RUNNER, Home(HomeKind.OPENING, 5, "right side"), "runner")
    assert isinstance(piece, Piece)
    opening, bar = label(piece, "R1").marks
    assert (opening.look, opening.shape.home, bar.look) == (ShapeLook.OUTLINED, 5, ShapeLook.FILLED)
    assert bar.shape.x > opening.shape.middle[0]


def test_a_label_that_lies_flat_points_to_the_front() -> None:
    piece = heron()
    drawer = part_of(piece, "D2").with_path(STAIN, frozenset({"back"}))
    assert label_of(piece, drawer).stick == "stick it on the bottom"
    assert label_of(piece, drawer).arrow == "front"


def test_no_face_without_a_finish_means_a_tag() -> None:
    piece = heron()
    drawer = part_of(piece, "D2").with_path(STAIN, frozenset({"back", "bottom", "sides", "inside"}))
    assert label_of(piece, drawer).stick == TIE_ON


def test_notes_say_what_is_fragile_and_what_a_bag_holds() -> None:
    assert label(heron(), "T1").note == "fragile"
    assert label(heron(), "B1").note == "holds 8 screws, 2 keys"


def test_a_reprint_bears_its_generation() -> None:
    piece = heron()
    made = label_of(piece, replace(part_of(piece, "D5"), generation="B"))
    assert made.code.startswith("K7Q4-D05B")


def test_a_home_label_names_who_lives_there() -> None:
    piece = heron()
    made = home_label_of(piece, 5)
    assert (made.number, made.is_home, made.home) == ("D5", True, "row 3, left")
    assert made.code == str(piece.home_code(5))
    assert made.stick == "stick it inside, near the front"
    assert {(m.look, m.shape.home) for m in made.marks} == {(ShapeLook.FILLED, 5)}


def test_a_home_label_of_a_corner() -> None:
    piece = heron()
    made = home_label_of(piece, piece.corners[2].number)
    assert (made.number, made.home) == ("L3", "rear left corner")
    assert made.stick == "stick it under the corner"


def test_the_home_of_any_equal_leg_bears_its_own_number() -> None:
    piece = with_a_door()
    made = home_label_of(piece, piece.corners[0].number)
    assert (made.number, made.kind) == (f"H{piece.corners[0].number}", "any leg")


def test_a_finished_inside_takes_no_label() -> None:
    piece = heron()
    carcase = part_of(piece, "C1").with_path(STAIN, frozenset({"inside"}))
    assert home_label_of(piece.with_part(carcase), 5).stick == f"{TIE_ON} in the opening"


def test_a_home_that_nothing_lives_in_says_so() -> None:
    piece = heron()
    empty = replace(piece, parts=tuple(p for p in piece.parts if p.short != "D5"))
    made = home_label_of(empty, 5)
    assert (made.number, made.kind) == ("H5", "nothing lives here")


def test_all_homes_that_expect_something_have_a_label() -> None:
    piece = with_a_door()
    assert [label.code for label in home_labels_of(piece)] == [
        str(piece.home_code(n)) for n in piece.home_numbers()
    ]
    assert len(home_labels_of(piece, [2, 1])) == 2


def test_a_hundredth_pull_has_its_letter() -> None:
    piece = many_drawers()
    numbers = [made.number for made in labels_of(piece, label_order(piece))]
    assert "P99" in numbers
    assert "PA0" in numbers
    assert len(numbers) == len(set(numbers))


@given(pieces())
@settings(max_examples=40)
def test_every_part_and_home_of_any_piece_has_a_label(piece: Piece) -> None:
    made = all_labels(piece)
    for content in made:
        assert content.marks
        assert content.home
        assert content.stick
        assert str(parse_code(content.code)) == content.code
    of_parts = [content.code for content in made if not content.is_home]
    assert len(set(of_parts)) == len(of_parts)


def test_a_label_has_no_place_for_client_data() -> None:
    """Only what the piece itself knows: the contract of `LabelContent`, field by field."""
    names = {f.name for f in fields(LabelContent)}
    assert names == {
        "number", "code", "tag", "codename", "home", "stick", "arrow", "drawing", "marks",
        "title", "kind", "old_mark", "note", "is_home",
    }  # fmt: skip


@pytest.mark.parametrize("word", ["private note", "its opening is gone"])
def test_private_notes_of_a_part_stay_off_its_label(word: str) -> None:
    piece = heron()
    made = label_of(piece, replace(part_of(piece, "D5"), note=word))
    told = [v for v in asdict(made).values() if isinstance(v, str)]
    assert not [v for v in told if word in v]
