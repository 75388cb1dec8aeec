"""Labels are read back before they are handed out, and a reprint tells the old one from the new."""

from __future__ import annotations

import pytest

from partsbench.core.outcomes import Done, Refused, Tone
from partsbench.core.piece.codes import Family, parse_code
from partsbench.services.acts import bench, history
from partsbench.services.books import pieces as piece_service
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.services.shown.labels import Sheet
from tests.support.clock import SetClock
from tests.support.shops import heron


def sheet_of(shop: Shop, tag: str, **options: object) -> Sheet:
    sheet = labels.make_sheet(shop, tag, **options)  # type: ignore[arg-type]
    assert isinstance(sheet, Sheet), sheet
    return sheet


def test_every_part_gets_a_label_in_teardown_order(shop: Shop) -> None:
    piece = heron(shop)
    sheet = sheet_of(shop, piece.tag)
    codes = [parse_code(c) for c in sheet.codes]
    shorts = [c.short for c in codes]
    assert shorts[:7] == ["D1", "D2", "D3", "D4", "D5", "D6", "D7"]
    assert shorts[7:12] == ["T1", "L1", "L2", "L3", "L4"]
    assert sorted(shorts) == sorted(p.short for p in piece.present)


def test_home_labels_come_when_asked(shop: Shop) -> None:
    piece = heron(shop)
    sheet = sheet_of(shop, piece.tag, only=["D5", "L2"], homes=True)
    families = [parse_code(c).family for c in sheet.codes]
    assert families == [Family.DRAWER, Family.LEG, Family.HOME, Family.HOME]


def test_making_a_sheet_notes_nothing_until_it_is_handed_out(shop: Shop) -> None:
    piece = heron(shop)
    before = len(history.history(shop))
    sheet = sheet_of(shop, piece.tag)
    assert len(history.history(shop)) == before
    assert not shop.piece(piece.tag).numbers_fixed
    assert isinstance(labels.hand_out(shop, sheet), Done)
    assert shop.piece(piece.tag).numbers_fixed


def test_a_reprint_moves_the_letter_on_and_the_old_label_says_so(
    shop: Shop, clock: SetClock
) -> None:
    piece = heron(shop)
    first = sheet_of(shop, piece.tag, only=["D1"])
    labels.hand_out(shop, first)
    clock.pass_time(days=2)
    second = sheet_of(shop, piece.tag, only=["D1"], reprint=True)
    assert (first.codes[0][8], second.codes[0][8]) == ("A", "B")
    assert bench.look(shop, first.codes[0]).tone is Tone.ASK
    labels.hand_out(shop, second)
    old = bench.look(shop, first.codes[0])
    assert old.tone is Tone.REPLACED
    assert f"replaced on {clock().astimezone():%d %b}" in old.sentence
    assert bench.look(shop, second.codes[0]).part == "D1"


def test_a_reprint_of_what_was_never_printed_is_a_first_print(shop: Shop) -> None:
    piece = heron(shop)
    assert sheet_of(shop, piece.tag, only=["D5"], reprint=True).codes[0][8] == "A"


def test_home_labels_have_letters_of_their_own(shop: Shop) -> None:
    piece = heron(shop)
    labels.hand_out(shop, sheet_of(shop, piece.tag, only=["H3"]))
    again = sheet_of(shop, piece.tag, only=["H3"], reprint=True)
    labels.hand_out(shop, again)
    assert again.codes[0][8] == "B"
    assert sheet_of(shop, piece.tag, only=["D3"]).codes[0][8] == "A"


def test_an_undone_reprint_makes_the_old_label_good_again(shop: Shop) -> None:
    piece = heron(shop)
    first = sheet_of(shop, piece.tag, only=["D1"])
    labels.hand_out(shop, first)
    labels.hand_out(shop, sheet_of(shop, piece.tag, only=["D1"], reprint=True))
    history.undo(shop)
    assert bench.look(shop, first.codes[0]).tone is Tone.ASK


def test_after_y_a_part_wants_a_new_number(shop: Shop) -> None:
    piece = heron(shop)
    labels.hand_out(shop, sheet_of(shop, piece.tag, only=["D5"]))
    for _ in range(24):
        labels.hand_out(shop, sheet_of(shop, piece.tag, only=["D5"], reprint=True))
    refused = labels.make_sheet(shop, piece.tag, only=["D5"], reprint=True)
    assert isinstance(refused, Refused)
    assert "25 times" in refused.sentence


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ({"only": ["D99"]}, "no part “D99”"),
        ({"only": ["H99"]}, "no home “H99”"),
        ({"stock": "papyrus"}, "papyrus"),
        ({"start": 0}, "0"),
        ({"start": 99}, "99"),
    ],
)
def test_what_cannot_be_printed_is_told(shop: Shop, options: dict[str, object], told: str) -> None:
    piece = heron(shop)
    refused = labels.make_sheet(shop, piece.tag, **options)  # type: ignore[arg-type]
    assert isinstance(refused, Refused)
    assert told in refused.sentence


def test_a_sheet_that_cannot_be_read_back_is_refused(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A blank page in place of the labels: the decoder finds nothing, so nothing is handed out."""
    from partsbench.paper import sheet as paper_sheet
    from partsbench.paper.pen import Pen

    def blank(runs: object, *rest: object) -> bytes:
        pen = Pen(210, 297, "blank")
        pen.text(20, 20, "nothing to decode", 5)
        return pen.finish()

    monkeypatch.setattr(paper_sheet, "label_sheets", blank)
    refused = labels.make_sheet(shop, heron(shop).tag, only=["D5"])
    assert isinstance(refused, Refused)
    assert "could not be read back" in refused.sentence


def test_numbers_stay_once_labels_are_printed(shop: Shop) -> None:
    from partsbench.core.piece.parts import Home, HomeKind

    piece = heron(shop)
    labels.hand_out(shop, sheet_of(shop, piece.tag, only=["D5"]))
    before = {p.short: p.home for p in piece.parts}
    home = Home(HomeKind.ON_PIECE, spot="loose")
    grown = piece_service.add_part(shop, piece.tag, Family.BAG, home, "bag", contents="screws")
    assert {p.short: p.home for p in grown.parts if p.short in before} == before
    assert grown.part("B1").contents == "screws"


def test_plain_paper_by_size_gives_each_part_its_own_label(shop: Shop) -> None:
    """Seven drawers and a top to stick, pulls small, legs on tags; each on its own pages."""
    piece = heron(shop)
    plan = labels.plan_sheet(shop, piece.tag, stock="by-size-a4", start=3, homes=True)
    assert isinstance(plan, labels.SheetPlan)
    assert [(run.stock.name, run.start) for run in plan.runs] == [
        ("plain-a4", 3), ("small-a4", 1), ("tags-a4", 1),
    ]  # fmt: skip
    families = [{parse_code(c.code).family for c in run.contents} for run in plan.runs]
    assert Family.HOME in families[0] and Family.DRAWER in families[0]
    assert families[1:] == [{Family.PULL}, {Family.LEG}]
    sheet = sheet_of(shop, piece.tag, stock="by-size-a4", start=3, homes=True)
    assert sorted(sheet.codes) == sorted(sheet_of(shop, piece.tag, homes=True).codes)
    assert sheet.pages == 4


def test_a_small_label_bears_its_code_once_and_a_missing_one_is_still_refused(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = heron(shop)
    assert sheet_of(shop, piece.tag, only=["P1"], stock="small-a4").pages == 1
    from partsbench.paper import sheet as paper_sheet

    whole = paper_sheet.label_sheets

    def without_the_last(runs: object, *rest: object) -> object:
        return whole([*runs][:-1], *rest)  # type: ignore[misc]

    monkeypatch.setattr(paper_sheet, "label_sheets", without_the_last)
    refused = labels.make_sheet(shop, piece.tag, stock="by-size-a4")
    assert isinstance(refused, Refused)
    assert "-L0" in refused.sentence


def test_a_single_size_takes_every_part(shop: Shop) -> None:
    piece = heron(shop)
    plan = labels.plan_sheet(shop, piece.tag, stock="tags-letter")
    assert isinstance(plan, labels.SheetPlan)
    assert [run.stock.name for run in plan.runs] == ["tags-letter"]
    assert len(plan.contents) == len(piece.present)
