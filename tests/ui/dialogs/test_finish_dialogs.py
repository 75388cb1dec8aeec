"""What a shop says of its tins, cups, air, people, paths and pieces, each worked by its fields."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from partsbench.core.finish.masks import MaskState
from partsbench.core.finish.products import Ready
from partsbench.core.outcomes import Answer, Done, Outcome
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.services.acts import masks, tries
from partsbench.services.books import own_paths
from partsbench.services.known import climate, facts, people, tins
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.ui.dialogs.air_dialog import AirDialog
from partsbench.ui.dialogs.cups_dialog import CupsDialog
from partsbench.ui.dialogs.facts_dialog import FactsDialog
from partsbench.ui.dialogs.masks_dialog import MasksDialog
from partsbench.ui.dialogs.paths_dialog import PathsDialog
from partsbench.ui.dialogs.people_dialog import PeopleDialog
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.dialogs.tins_dialog import TinsDialog
from tests.support.clock import SetClock
from tests.support.finishing import do
from tests.support.shops import lay_out, made


@pytest.fixture
def heron(shop: Shop) -> Piece:
    """A painted carcase with a stained top, and a painted drawer."""
    return made(
        lay_out(shop, "Heron", "2", paths=[
            ("paint", ["D1", "C1 rails", "C1 left side", "C1 right side"]), ("stain", ["C1 top"]),
        ])
    )  # fmt: skip


def pressed(dialog: ShopDialog, name: str) -> None:
    button = dialog.findChild(QPushButton, name)
    assert button is not None and button.isEnabled(), name
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


# Tin cards


def test_a_tin_card_is_kept_and_wins(shop: Shop, qtbot: QtBot) -> None:
    dialog = TinsDialog(shop, "")
    qtbot.addWidget(dialog)
    settled: list[object] = []
    dialog.settled.connect(settled.append)
    dialog.name.setText("blue paint")
    place = dialog.product.findData("waterborne_colour")
    dialog.product.setCurrentIndex(max(0, place))
    dialog.waits[Ready.RECOAT][0].setText("4 h")
    dialog.waits[Ready.RECOAT][1].setText("3 d")
    dialog.least.setValue(12)
    pressed(dialog, "tin-save")
    assert isinstance(settled[0], Done)
    (card,) = tins.cards(shop)
    assert card.waits["recoat"].earliest == timedelta(hours=4)
    assert card.waits["recoat"].latest == timedelta(days=3)
    assert (card.least_c, card.most_c) == (12, None)
    assert dialog.list.lines() == [f"blue paint\n{tins.classes()[card.product].name}"]
    pressed(dialog, "tin-retire")
    assert tins.cards(shop) == []


def test_ours_stand_beside_the_fields_with_their_source(shop: Shop, qtbot: QtBot) -> None:
    dialog = TinsDialog(shop, "")
    qtbot.addWidget(dialog)
    for place in range(dialog.product.count()):
        dialog.product.setCurrentIndex(place)
        product = tins.classes()[dialog.product.currentData()]
        for ready, label in dialog.ours.items():
            timed = product.times.get(ready)
            if timed:
                assert timed.source.text in label.text()
                assert str(timed.source.status) in label.text()
            else:
                assert label.text() == "no figure: only the tin knows"


def test_what_the_shop_tried_stands_beside_ours(
    shop: Shop, heron: Piece, clock: SetClock, qtbot: QtBot
) -> None:
    do(shop, heron, "D1", "wash", "rinse", "sand_150", "colour_1")
    clock.pass_time(hours=5)
    tries.say_tried(shop, "D1", Ready.SAND, False, here=heron.tag)
    dialog = TinsDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.product.setCurrentIndex(dialog.product.findData("paint_water"))
    sand = dialog.ours[Ready.SAND]
    assert sand.text().endswith("\nyours: 1 tried, too few to tell")
    assert "too few to tell" in sand.toolTip()
    assert "yours" not in dialog.ours[Ready.TAPE].text()
    dialog.product.setCurrentIndex(dialog.product.findData("clear_oil"))
    assert "yours" not in sand.text() and sand.toolTip() == ""


def test_a_length_that_is_none_is_told_by_its_field(shop: Shop, qtbot: QtBot) -> None:
    dialog = TinsDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.name.setText("blue")
    dialog.waits[Ready.SAND][0].setText("soon")
    pressed(dialog, "tin-save")
    assert dialog.told.text().startswith("Sand: “soon” is no length of time")
    assert tins.cards(shop) == []


def test_a_card_shown_and_kept_again_is_the_same(shop: Shop, qtbot: QtBot) -> None:
    dialog = TinsDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.name.setText("blue")
    dialog.waits[Ready.TAPE][0].setText("27 h 30 min")
    dialog.pot.setText("3 h 10 min")
    pressed(dialog, "tin-save")
    (before,) = tins.cards(shop)
    dialog.on_new_asked()
    assert dialog.name.text() == ""
    dialog.list.choose(0)
    dialog.on_card_picked(0)
    dialog.pot.setText("4 h")
    pressed(dialog, "tin-save")
    (after,) = tins.cards(shop)
    assert after.waits == before.waits
    assert after.pot_life == timedelta(hours=4)


# Cups


def test_a_mix_is_written_down_and_made_again(shop: Shop, qtbot: QtBot) -> None:
    dialog = CupsDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.name.setText("deep blue")
    for (product, parts, lot), values in zip(
        dialog.poured, (("colour", "9", "17"), ("water", "1", "")), strict=False
    ):
        for field, value in zip((product, parts, lot), values, strict=True):
            field.setText(value)
    dialog.tint.setValue(5)
    pressed(dialog, "cup-save")
    (cup,) = cups.listed(shop)
    assert [(p.product, p.parts, p.lot) for p in cup.cup.poured] == [
        ("colour", 9, "17"), ("water", 1, ""),
    ]  # fmt: skip
    assert cups.code(cup) in dialog.about.text()
    dialog.volume.setValue(60)
    assert dialog.recipe.text() == "For 60 ml: 54 colour, 6 water."
    pressed(dialog, "cup-again")
    assert len(cups.listed(shop)) == 2
    pressed(dialog, "cup-strained")
    assert cups.listed(shop)[0].cup.strained
    pressed(dialog, "cup-empty")
    assert [c.number for c in cups.listed(shop)] == [1]


def test_a_line_without_parts_is_refused(shop: Shop, qtbot: QtBot) -> None:
    dialog = CupsDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.name.setText("blue")
    dialog.poured[0][0].setText("colour")
    pressed(dialog, "cup-save")
    assert dialog.told.text() == "colour: parts are a number above 0."
    assert cups.listed(shop) == []


# Facts


def test_lead_wants_its_record(shop: Shop, heron: Piece, qtbot: QtBot) -> None:
    dialog = FactsDialog(shop, heron.tag)
    qtbot.addWidget(dialog)
    box = dialog.fields["lead"]
    box.setCurrentIndex(box.findData("tested free"))
    box.activated.emit(box.currentIndex())
    assert len(facts.said(shop, heron.tag)) == 1, "its age, no more"
    assert dialog.told.text() == facts.NOTE_FOR_LEAD
    assert box.currentData() == "", "it does not look as if it were said"
    dialog.note.setText("swab kit on D1, by Wren")
    box.setCurrentIndex(box.findData("tested free"))
    box.activated.emit(box.currentIndex())
    said = facts.said(shop, heron.tag)[-1]
    assert (said.key, said.value, said.note) == ("lead", "tested free", "swab kit on D1, by Wren")
    assert "a test found no lead" in dialog.said.lines()[0]


def test_of_one_face_only(shop: Shop, heron: Piece, qtbot: QtBot) -> None:
    dialog = FactsDialog(shop, heron.tag)
    qtbot.addWidget(dialog)
    names = [dialog.places.item(i).data(Qt.ItemDataRole.UserRole)
             for i in range(dialog.places.count())]  # fmt: skip
    dialog.places.setCurrentRow(names.index(Spot("C1", "top")))
    box = dialog.fields["veneer"]
    box.setCurrentIndex(box.findData("yes"))
    box.activated.emit(box.currentIndex())
    known = facts.of_piece(shop, heron.tag)
    assert known.of("C1", "top")["veneer"] == "yes"
    assert "veneer" not in known.of("D1")


# Seams and masks


def test_tape_goes_on_and_off_by_record(
    shop: Shop, heron: Piece, qtbot: QtBot, clock: SetClock
) -> None:
    dialog = MasksDialog(shop, heron.tag)
    qtbot.addWidget(dialog)
    dialog.show()
    lines = {(str(s.a), str(s.b)) for s in dialog.model.lines}
    assert ("C1 rails", "C1 top") in lines
    assert dialog.total.text() == masks.summary(dialog.model.lines)
    assert dialog.total.text() == "8 seams to tape, 4.0 m; 1 needs no tape"
    row = next(
        i
        for i, s in enumerate(dialog.model.lines)
        if {s.a, s.b} == {Spot("C1", "rails"), Spot("C1", "top")}
    )
    dialog.table.selectRow(row)
    dialog.rating.setText("3 d")
    dialog.tape.setText("low tack")
    pressed(dialog, "mask-second")
    assert dialog.model.lines[row].state is MaskState.MASKED
    assert dialog.model.index(row, 3).data().startswith("C1 top is covered since")
    pressed(dialog, "mask-off")
    assert dialog.ask.kind == "insist", "a coat that it is on for is still to come"
    assert masks.on_now(shop, heron.tag)
    dialog.ask.answered.emit("insist", "agreed with the client")
    assert masks.on_now(shop, heron.tag) == []


def test_no_mask_needed(shop: Shop, heron: Piece, qtbot: QtBot) -> None:
    dialog = MasksDialog(shop, heron.tag)
    qtbot.addWidget(dialog)
    row = next(
        i
        for i, s in enumerate(dialog.model.lines)
        if {s.a, s.b} == {Spot("C1", "rails"), Spot("C1", "top")}
    )
    dialog.table.selectRow(row)
    before = masks.metres(masks.seams(shop, heron.tag))
    pressed(dialog, "mask-none")
    assert masks.metres(masks.seams(shop, heron.tag)) <= before


def test_what_needs_tape_stands_first_and_is_counted_apart(shop: Shop, qtbot: QtBot) -> None:
    """A clear front with edges left as found meets them in seams that nobody tapes."""
    piece = made(
        lay_out(shop, "Quill", "1", paths=[
            ("clear", ["D1 front"]), ("paint", ["C1 rails"]), ("stain", ["C1 top"]),
        ])
    )  # fmt: skip
    dialog = MasksDialog(shop, piece.tag)
    qtbot.addWidget(dialog)
    dialog.show()
    bare = [s.state is MaskState.NOT_NEEDED for s in dialog.model.lines]
    assert bare == sorted(bare) and any(bare) and not all(bare)
    assert dialog.total.text().endswith(f"; {sum(bare)} need no tape")
    assert dialog.total.text().startswith(f"{bare.count(False)} seam")
    dialog.table.selectRow(len(bare) - 1)
    assert not dialog.ways.isVisible(), "no way to tape where no tape is needed"


# Air and power


def test_air_is_noted_with_what_it_does(shop: Shop, qtbot: QtBot) -> None:
    dialog = AirDialog(shop, "")
    qtbot.addWidget(dialog)
    assert "as on the tin" in dialog.now.text()
    dialog.temperature.setValue(14)
    dialog.humidity.setValue(75)
    assert dialog.meant.text() == "Dew forms on anything colder than 9.6 °C."
    pressed(dialog, "air-save")
    assert "14 °C, 75 %" in dialog.now.text()
    found = climate.reading(shop, shop.clock())
    assert found is not None and found.surface_c is None


def test_a_power_cut_that_lengthens_waits(shop: Shop, qtbot: QtBot, clock: SetClock) -> None:
    dialog = AirDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.start.setText("2 h ago")
    dialog.end.setText("30 min ago")
    dialog.heating.setChecked(True)
    pressed(dialog, "cut-save")
    assert dialog.told.text().startswith("Power was off for 1 h 30")
    dialog.start.setText("10 min ago")
    dialog.end.setText("30 min ago")
    pressed(dialog, "cut-save")
    assert "ends after it began" in dialog.told.text()


# People and places


def test_people_and_places_get_codes(shop: Shop, qtbot: QtBot) -> None:
    dialog = PeopleDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.name.setText("Finch")
    dialog.only.setText("sand, wash")
    pressed(dialog, "person-add")
    dialog.place.setText("rack 2")
    pressed(dialog, "place-add")
    (person,) = people.people(shop)
    assert person.only == ("sand", "wash")
    assert people.person_code(person) in dialog.people.lines()[0]
    assert "rack 2" in dialog.places.lines()[0]
    dialog.only.setText("juggle")
    dialog.name.setText("Rook")
    pressed(dialog, "person-add")
    assert "“juggle” is no operation" in dialog.told.text()
    dialog.people.choose(0)
    pressed(dialog, "person-left")
    assert people.people(shop) == []


def test_enter_in_a_field_adds_the_person_or_the_place(shop: Shop, qtbot: QtBot) -> None:
    dialog = PeopleDialog(shop, "")
    qtbot.addWidget(dialog)
    QTest.keyClicks(dialog.name, "Finch")
    QTest.keyClick(dialog.name, Qt.Key.Key_Return)
    QTest.keyClicks(dialog.place, "rack 2")
    QTest.keyClick(dialog.place, Qt.Key.Key_Return)
    assert [p.name for p in people.people(shop)] == ["Finch"]
    assert [p.name for p in people.places(shop)] == ["rack 2"]


# Finish paths


def test_a_path_is_copied_edited_and_kept(shop: Shop, qtbot: QtBot) -> None:
    dialog = PathsDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.list.choose(dialog.list.lines().index("Clear only"))
    pressed(dialog, "path-save")
    assert "give yours another key" in dialog.told.text()
    dialog.key.setText("my_clear")
    dialog.name.setText("Clear, my way")
    pressed(dialog, "path-copy")
    text = dialog.text.toPlainText().replace('"12 h"', '"10 h"', 1)
    dialog.text.setPlainText(text)
    dialog.text.document().setModified(True)
    dialog.on_text_stood_still()
    pressed(dialog, "path-save")
    assert dialog.told.text() == "Clear, my way is kept as my_clear."
    assert "my_clear" in own_paths.own(shop)
    assert "Clear, my way, your own" in dialog.list.lines()
    rinse = next(s for s in shop.path("my_clear").steps if s.key == "rinse")
    assert rinse.earliest == timedelta(hours=10)


def test_the_key_of_a_copy_follows_its_name_until_it_is_typed(shop: Shop, qtbot: QtBot) -> None:
    dialog = PathsDialog(shop, "")
    qtbot.addWidget(dialog)
    QTest.keyClicks(dialog.name, "2nd blue chest, matt")
    assert dialog.key.text() == "nd_blue_chest_matt"
    dialog.key.clear()
    QTest.keyClicks(dialog.key, "blue")
    QTest.keyClicks(dialog.name, " again")
    assert dialog.key.text() == "blue"
    pressed(dialog, "path-copy")
    assert 'key = "blue"' in dialog.text.toPlainText()


def test_a_text_that_was_not_kept_comes_back(shop: Shop, qtbot: QtBot) -> None:
    dialog = PathsDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.list.choose(1)
    assert dialog.told.text() == "", "nothing was changed"
    QTest.keyClicks(dialog.text, "# mine ")
    mine = dialog.text.toPlainText()
    dialog.list.choose(2)
    assert dialog.text.toPlainText() != mine
    assert "Ctrl+Z" in dialog.told.text()
    QTest.keyClick(dialog.text, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert dialog.text.toPlainText() == mine


def test_a_fault_names_its_line_and_leads_to_it(shop: Shop, qtbot: QtBot) -> None:
    dialog = PathsDialog(shop, "")
    qtbot.addWidget(dialog)
    lines = dialog.text.toPlainText().splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("operation"))
    lines[at] = 'operation = "juggle"'
    dialog.text.setPlainText("\n".join(lines))
    dialog.on_text_stood_still()
    fault = dialog.found.lines()[0]
    assert "juggle" in fault
    assert not dialog.save.isEnabled()
    dialog.found.choose(0)
    if fault.startswith("line "):
        named = int(fault.split(",")[0].removeprefix("line "))
        assert dialog.text.textCursor().blockNumber() == named - 1


def test_findings_are_listed_with_rule_and_source(shop: Shop, qtbot: QtBot) -> None:
    dialog = PathsDialog(shop, "")
    qtbot.addWidget(dialog)
    text = own_paths.text_of(shop, "stain")
    assert isinstance(text, str)
    dialog.text.setPlainText(text.replace("grit = { value = 220", "grit = { value = 400", 1))
    dialog.on_text_stood_still()
    told = dialog.found.lines()
    assert any(line.startswith(("HOLD, ", "WARNING, ")) and "grit" in line for line in told), told
    assert all(line.endswith(")") for line in told), "each with its source"


def test_a_held_answer_is_told_with_its_reason(shop: Shop, heron: Piece, qtbot: QtBot) -> None:
    dialog = ShopDialog(shop, heron.tag, None, name="d", title="d")
    qtbot.addWidget(dialog)
    do(shop, heron, "D1", "wash")
    held = Outcome(Answer.WAIT, Answer.WAIT, "not yet.", because="it is wet", source="your tin")  # type: ignore[arg-type]
    assert not dialog.settle(held)
    assert dialog.told.text() == "not yet.  ·  it is wet  ·  your tin"


# What cannot be, said where it was typed


@pytest.fixture
def seams(shop: Shop, heron: Piece, qtbot: QtBot) -> MasksDialog:
    """The seam of the painted rails and the stained top is chosen."""
    made = MasksDialog(shop, heron.tag)
    qtbot.addWidget(made)
    made.show()
    choose_seam(made, "C1 rails", "C1 top")
    return made


def choose_seam(dialog: MasksDialog, a: str, b: str) -> None:
    pairs = [{str(line.a), str(line.b)} for line in dialog.model.lines]
    dialog.table.selectRow(pairs.index({a, b}))


def test_either_side_of_a_seam_is_covered(shop: Shop, heron: Piece, seams: MasksDialog) -> None:
    assert (seams.first.text(), seams.second.text()) == ("Cover C1 rails", "Cover C1 top")
    pressed(seams, "mask-first")
    assert [str(m.covers) for m in masks.on_now(shop, heron.tag)] == ["C1 rails"]
    assert seams.off.isEnabled() and not seams.first.isEnabled()


def test_a_time_or_a_rating_that_cannot_be_read_puts_no_tape_on(
    shop: Shop, heron: Piece, seams: MasksDialog
) -> None:
    before = shop.book.newest()
    seams.rating.setText("soon")
    pressed(seams, "mask-first")
    assert seams.told.text() == "“soon” is no length of time; write 12 h or 3 d."
    seams.rating.clear()
    for text in ("noonish", "23:59"):
        seams.at.setText(text)
        pressed(seams, "mask-second")
        assert text in seams.told.text()
    assert shop.book.newest() == before and masks.on_now(shop, heron.tag) == []
    seams.at.setText("now")
    pressed(seams, "mask-second")
    seams.at.setText("noonish")
    pressed(seams, "mask-off")
    assert "noonish" in seams.told.text()
    assert len(masks.on_now(shop, heron.tag)) == 1


def test_against_a_hold_the_tape_comes_off_with_a_reason_only(
    shop: Shop, heron: Piece, seams: MasksDialog
) -> None:
    pressed(seams, "mask-second")
    pressed(seams, "mask-off")
    seams.ask.answered.emit("insist", "")
    assert seams.ask.fault and len(masks.on_now(shop, heron.tag)) == 1
    seams.ask.answered.emit("insist", "agreed with the client")
    assert masks.on_now(shop, heron.tag) == []


def test_tape_that_another_window_took_off_is_told(
    shop: Shop, heron: Piece, seams: MasksDialog
) -> None:
    pressed(seams, "mask-second")
    masks.take_off(shop, heron.tag, "C1 top", insist="the tape let go")
    before = shop.book.newest()
    pressed(seams, "mask-off")
    assert seams.told.text().startswith("No tape is on C1 ")
    assert shop.book.newest() == before


def test_that_no_mask_is_needed_is_said_of_the_side_that_would_want_it(
    shop: Shop, heron: Piece, seams: MasksDialog
) -> None:
    choose_seam(seams, "C1 back", "C1 right side")
    pressed(seams, "mask-none")
    assert seams.told.text() == "Heron C1 right side: no mask needed on C1 back."


def test_a_piece_of_one_finish_has_no_seam_and_nothing_to_press(shop: Shop, qtbot: QtBot) -> None:
    dialog = MasksDialog(shop, made(lay_out(shop, "Rill", "1")).tag)
    qtbot.addWidget(dialog)
    assert dialog.total.text() == "No two finish paths meet on one part of this piece."
    assert not any(b.isEnabled() for b in (dialog.first, dialog.second, dialog.off, dialog.none))


def test_a_mix_that_cannot_be_is_told_and_stays_as_typed(shop: Shop, qtbot: QtBot) -> None:
    dialog = CupsDialog(shop, "")
    qtbot.addWidget(dialog)
    product, parts, _ = dialog.poured[0]
    parts.setText("9")
    pressed(dialog, "cup-save")
    assert dialog.told.text() == "Say on each line what was poured."
    product.setText("colour")
    dialog.pot.setText("soon")
    pressed(dialog, "cup-save")
    assert "soon" in dialog.told.text()
    dialog.pot.setText("4 h")
    pressed(dialog, "cup-save")
    assert "name" in dialog.told.text(), "the mix has none yet"
    assert cups.listed(shop) == [] and parts.text() == "9"
    dialog.name.setText("blue")
    pressed(dialog, "cup-save")
    assert [c.cup.name for c in cups.listed(shop)] == ["blue"]
    pressed(dialog, "cup-again")
    assert dialog.told.text() == "Say how many ml are wanted."
    assert len(cups.listed(shop)) == 1


def test_a_size_of_a_part_is_typed_among_what_is_known_of_it(
    shop: Shop, heron: Piece, qtbot: QtBot
) -> None:
    dialog = FactsDialog(shop, heron.tag)
    qtbot.addWidget(dialog)
    depth = dialog.fields["depth mm"]
    assert isinstance(depth, QLineEdit)
    before = shop.book.newest()
    QTest.keyClick(depth, Qt.Key.Key_Return)
    assert shop.book.newest() == before, "nothing was typed"
    QTest.keyClicks(depth, "52o")
    QTest.keyClick(depth, Qt.Key.Key_Return)
    assert shop.book.newest() == before and "52o" in dialog.told.text()
    depth.selectAll()
    QTest.keyClicks(depth, "520")
    QTest.keyClick(depth, Qt.Key.Key_Return)
    said = facts.said(shop, heron.tag)[-1]
    assert (said.key, said.value) == ("depth mm", "520")


def test_a_copy_of_a_path_wants_a_name_and_a_key_of_its_own(shop: Shop, qtbot: QtBot) -> None:
    dialog = PathsDialog(shop, "")
    qtbot.addWidget(dialog)
    dialog.show()
    for name, key in (("", "mine"), ("Mine", "My Own"), ("Mine", "")):
        dialog.name.setText(name)
        dialog.key.setText(key)
        pressed(dialog, "path-copy")
        assert dialog.told.text().startswith("Give the copy a name, and a key in small letters")
    dialog.key.setText("mine")
    pressed(dialog, "path-copy")
    assert dialog.told.text() == "Mine is copied: edit it, then keep it."
    dialog.text.undo()
    dialog.on_redo_asked()
    assert 'key = "mine"' in dialog.text.toPlainText()
    pressed(dialog, "path-save")
    assert list(own_paths.own(shop)) == ["mine"]
    dialog.list.choose(
        dialog.list.lines().index(next(n for n in dialog.list.lines() if "Mine" in n))
    )
    pressed(dialog, "path-drop")
    assert own_paths.own(shop) == {} and dialog.told.text() == "Finish path mine is taken out."


def test_a_power_cut_of_times_that_cannot_be_read_is_told(shop: Shop, qtbot: QtBot) -> None:
    dialog = AirDialog(shop, "")
    qtbot.addWidget(dialog)
    before = shop.book.newest()
    for start, end, wrong in (("noonish", "now", "noonish"), ("2 h ago", "later", "later")):
        dialog.start.setText(start)
        dialog.end.setText(end)
        pressed(dialog, "cut-save")
        assert wrong in dialog.told.text()
    assert shop.book.newest() == before


def test_a_place_has_one_code(shop: Shop, qtbot: QtBot) -> None:
    dialog = PeopleDialog(shop, "")
    qtbot.addWidget(dialog)
    for _ in range(2):
        dialog.place.setText("rack 2")
        dialog.on_place_asked()
    assert dialog.told.text() == "“rack 2” has a code already."
    assert [p.name for p in people.places(shop)] == ["rack 2"]
    dialog.on_left_asked()
    assert people.people(shop) == [], "nobody was chosen, and nobody left"
