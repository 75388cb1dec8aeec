"""Taking pieces in and changing them: a refusal changes nothing, what is done is in the book."""

from __future__ import annotations

from pathlib import Path

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.piece import shaping
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import OpeningKind
from partsbench.core.piece.parts import Home, HomeKind
from partsbench.core.piece.piece import Numbering, Piece
from partsbench.core.piece.shaping import Axis
from partsbench.services.acts import history
from partsbench.services.books import pieces
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.services.shown.labels import Sheet
from tests.support.shops import heron, made, quill, tall_chest


def printed(shop: Shop) -> Piece:
    """Heron with one label printed, so that its numbers stay."""
    piece = heron(shop)
    sheet = labels.make_sheet(shop, piece.tag, only=["D5"])
    assert isinstance(sheet, Sheet)
    labels.hand_out(shop, sheet)
    return stored(shop, piece)


def stored(shop: Shop, piece: Piece) -> Piece:
    found = shop.piece(piece.tag)
    assert found is not None
    return found


def refused(answer: object) -> str:
    assert isinstance(answer, Refused), answer
    return answer.sentence


def test_a_front_typed_as_rows_is_in_the_book(shop: Shop) -> None:
    piece = heron(shop)
    assert stored(shop, piece) == piece
    assert [p.tag for p in pieces.pieces(shop)] == [piece.tag]


@pytest.mark.parametrize(
    ("codename", "counts", "says"),
    [
        ("", "2 2", "codename"),
        ("x" * 41, "2 2", "codename"),
        ("Heron", "two", "“two”"),
        ("Heron", "0", "1 to 40"),
    ],
)
def test_what_cannot_be_laid_out_is_told_and_nothing_is_taken_in(
    shop: Shop, codename: str, counts: str, says: str
) -> None:
    assert says in refused(pieces.lay_out(shop, codename, counts))
    assert pieces.pieces(shop) == []
    assert history.history(shop) == []


def test_two_pieces_never_share_a_tag(shop: Shop) -> None:
    tags = {heron(shop).tag, quill(shop).tag, made(pieces.mirror(shop, "Quill")).tag}
    assert len(tags) == 3


def test_a_reshape_is_one_change_and_can_be_undone(shop: Shop) -> None:
    piece = heron(shop)
    after = made(
        pieces.reshape(shop, piece.tag, lambda f: shaping.split(f, 5, Axis.ROWS, 2), "D5 in two")
    )
    assert after.count()[Family.DRAWER] == 8
    assert history.history(shop)[0].sentence.endswith("D5 in two")
    history.undo(shop)
    assert stored(shop, piece) == piece


def test_a_shape_that_cannot_be_is_told_and_changes_nothing(shop: Shop) -> None:
    piece = heron(shop)
    before = len(history.history(shop))
    answer = pieces.reshape(shop, piece.tag, lambda f: shaping.merge(f, [1, 4]), "join")
    assert "1, 4" in refused(answer)
    assert stored(shop, piece) == piece
    assert len(history.history(shop)) == before


def test_starting_over_keeps_the_size_and_what_was_decided(shop: Shop) -> None:
    piece = heron(shop)
    after = made(pieces.start_over(shop, piece.tag, "1 2"))
    assert after.front.width == pytest.approx(piece.front.width)
    assert after.front.height == pytest.approx(piece.front.height)
    assert after.part("D1").face("front").path == "paint"
    assert after.count()[Family.LEG] == 4


def test_starting_over_is_refused_once_labels_are_printed(shop: Shop) -> None:
    piece = printed(shop)
    assert "Labels are printed" in refused(pieces.start_over(shop, piece.tag, "1 2"))
    assert "“two”" in refused(pieces.start_over(shop, piece.tag, "two"))
    assert stored(shop, piece) == piece


def test_numbers_run_another_way_only_before_labels(shop: Shop) -> None:
    piece = quill(shop)
    after = made(pieces.number_by(shop, piece.tag, Numbering.FROM_BOTTOM))
    assert after.part("D1").home.number == 1
    assert after.front.opening(1).span.row == 2
    fixed = printed(shop)
    assert "Labels are printed" in refused(pieces.number_by(shop, fixed.tag, Numbering.BY_COLUMN))


def test_numbers_stay_when_a_drawer_is_split_after_printing(shop: Shop) -> None:
    piece = printed(shop)
    after = made(
        pieces.reshape(shop, piece.tag, lambda f: shaping.split(f, 1, Axis.COLUMNS), "D1 in two")
    )
    kept = {p.short: (p.home, p.faces) for p in piece.parts}
    assert {p.short: (p.home, p.faces) for p in after.parts if p.short in kept} == kept
    assert [p.short for p in after.present if p.short not in kept] == ["D8", "P8"]


def test_paths_go_to_parts_and_to_single_faces(shop: Shop) -> None:
    piece = heron(shop)
    after = made(pieces.give_path(shop, piece.tag, "stain", ["D4 front", "legs", "C1 left side"]))
    assert after.part("D4").face("front").path == "stain"
    assert after.part("D4").face("sides").path == "raw"
    assert after.part("L3").face("outside").path == "stain"
    assert after.part("C1").face("left side").path == "stain"


@pytest.mark.parametrize(
    ("path", "names", "says"),
    [
        ("varnish", ["D1"], "no finish path “varnish”"),
        ("paint", ["D99"], "no part D99"),
        ("paint", ["D1 lid"], "no face “lid”"),
    ],
)
def test_paths_that_cannot_be_given_are_told(
    shop: Shop, path: str, names: list[str], says: str
) -> None:
    piece = heron(shop)
    assert says in refused(pieces.give_path(shop, piece.tag, path, names))
    assert stored(shop, piece) == piece


def test_a_path_for_many_is_a_short_sentence_in_the_history(shop: Shop) -> None:
    piece = made(pieces.lay_out(shop, "Larch", "6 6 6"))
    names = [p.short for p in piece.present if p.family is Family.DRAWER]
    pieces.give_path(shop, piece.tag, "paint", names)
    assert history.history(shop)[0].sentence.startswith("D1–D18: ")


def test_words_about_a_part_are_kept_and_told_in_words(shop: Shop) -> None:
    piece = heron(shop)
    after = made(pieces.edit_part(shop, piece.tag, "d5", old_mark="3", note="split", fragile=True))
    part = after.part("D5")
    assert (part.old_mark, part.note, part.fragile) == ("3", "split", True)
    assert history.history(shop)[0].sentence.endswith("D5: old mark “3”, note “split”, fragile")
    pieces.edit_part(shop, piece.tag, "D5", fragile=False, old_mark="", hidden=True)
    sentence = history.history(shop)[0].sentence
    assert sentence.endswith("D5: no old mark, no longer fragile, kept off clients' papers")


def test_fittings_are_given_to_several_at_once(shop: Shop) -> None:
    piece = quill(shop)
    after = made(pieces.give_fittings(shop, piece.tag, ["D1", "D2"], 2, "knob"))
    assert after.count()[Family.PULL] == 4
    after = made(pieces.give_fittings(shop, piece.tag, ["D7"], 1, "lock"))
    after = made(pieces.give_fittings(shop, piece.tag, ["D7"], 2, "runner"))
    assert (after.count()[Family.LOCK], after.count()[Family.RUNNER]) == (1, 2)
    assert "Choose" in refused(pieces.give_fittings(shop, piece.tag, [], 1, "knob"))
    assert "hinge" in refused(pieces.give_fittings(shop, piece.tag, ["D1"], 1, "hinge"))
    assert stored(shop, piece) == after


def test_legs_and_top_can_be_changed(shop: Shop) -> None:
    piece = quill(shop)
    after = made(pieces.give_legs(shop, piece.tag, 4, True))
    assert [p.group for p in after.present if p.family is Family.LEG] == ["leg"] * 4
    after = made(pieces.give_top(shop, piece.tag, True))
    assert after.count()[Family.TOP] == 1
    after = made(pieces.give_top(shop, piece.tag, False))
    assert after.count()[Family.TOP] == 0


def test_a_bag_has_contents_and_the_next_number(shop: Shop) -> None:
    piece = heron(shop)
    home = Home(HomeKind.ON_PIECE, spot="tray")
    pieces.add_part(shop, piece.tag, Family.BAG, home, "screws of the top", contents="8 screws")
    after = made(pieces.add_part(shop, piece.tag, Family.BAG, home, "hinge screws"))
    assert [(p.short, p.contents) for p in after.present if p.family is Family.BAG] == [
        ("B1", "8 screws"),
        ("B2", ""),
    ]


def test_a_retired_part_says_why_and_a_part_that_is_not_there_is_told(shop: Shop) -> None:
    piece = printed(shop)
    after = made(pieces.retire_part(shop, piece.tag, "D7", "lost in the van"))
    assert after.part("D7").retired == "lost in the van"
    assert "no part “D7”" in refused(pieces.retire_part(shop, piece.tag, "D7", "again"))


def test_the_mirrored_twin_is_another_piece_with_its_own_codes(shop: Shop, tmp_path: Path) -> None:
    piece = tall_chest(shop, tmp_path)
    twin = made(pieces.mirror(shop, piece.tag, "right one"))
    assert (twin.mirror_of, twin.title) == (piece.tag, "right one")
    door = next(o for o in twin.front.openings if o.kind is OpeningKind.DOOR)
    assert door.span.right == len(twin.front.columns)
    assert len(twin.front.behind(door.number)) == 2
    assert "Say which" in refused(pieces.mirror(shop, "Heron"))


def test_a_piece_is_taken_in_from_its_description_with_its_line_when_wrong(
    shop: Shop, tmp_path: Path
) -> None:
    file = tmp_path / "bad.toml"
    file.write_text('codename = "Heron"\nrows = "2 x"\n')
    assert str(file) in refused(pieces.take_in(shop, file))
    file.write_text("codename = \n")
    assert "line 1" in refused(pieces.take_in(shop, file))
    assert str(tmp_path / "none.toml") in refused(pieces.take_in(shop, tmp_path / "none.toml"))
    assert pieces.pieces(shop) == []


def test_a_piece_that_is_not_in_the_book_is_told(shop: Shop) -> None:
    for answer in (
        pieces.give_top(shop, "ZZ99", True),
        pieces.start_over(shop, "ZZ99", "2 2"),
        pieces.rename(shop, "ZZ99", "x"),
        pieces.mirror(shop, "ZZ99"),
    ):
        assert "no piece “ZZ99”" in refused(answer)
