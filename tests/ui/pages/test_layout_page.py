"""The Layout page worked by mouse and keyboard: what is seen is what the book holds."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QDialog, QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Outcome, Refused, Tone
from partsbench.core.piece.codes import Family
from partsbench.core.piece.front import OpeningKind
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.units import Measures
from partsbench.services.acts.history import history, undo
from partsbench.services.books import pieces
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.services.shown.labels import Sheet
from partsbench.ui.dialogs.labels_dialog import LabelsDialog
from partsbench.ui.layout.tools import behind_words, made_words
from partsbench.ui.pages.layout_page import LayoutPage
from partsbench.ui.piece_view import Pattern
from partsbench.ui.theme import Theme
from tests.support.shops import code, heron, made, quill, tall_chest

LEFT = Qt.MouseButton.LeftButton
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


@pytest.fixture
def heard() -> list[object]:
    return []


@pytest.fixture
def page(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot, heard: list[object]
) -> Iterator[LayoutPage]:
    made_page = LayoutPage(shop)
    qtbot.addWidget(made_page)
    made_page.resize(1280, 640)
    made_page.show()
    qtbot.waitExposed(made_page)
    made_page.answered.connect(heard.append)
    made_page.show_piece(piece.tag)
    yield made_page


def stored(page: LayoutPage) -> Piece:
    found = page.shop.piece(page.tag)
    assert found is not None
    return found


def click(qtbot: QtBot, page: LayoutPage, key: str, held: object = None) -> None:
    modifier = held if held is not None else Qt.KeyboardModifier.NoModifier
    qtbot.mouseClick(page.board.view.tile(key), LEFT, modifier)


def press(qtbot: QtBot, page: LayoutPage, name: str) -> None:
    qtbot.mouseClick(page.findChild(QWidget, name), LEFT)


def key_on_front(qtbot: QtBot, page: LayoutPage, key: str, pressed: object, held=None) -> None:
    page.activateWindow()
    page.board.view.focus_tile(key)
    qtbot.waitUntil(page.board.view.tile(key).hasFocus)
    modifier = held if held is not None else Qt.KeyboardModifier.NoModifier
    qtbot.keyClick(page.board.view.tile(key), pressed, modifier)


def test_the_front_is_the_biggest_thing(page: LayoutPage) -> None:
    view = page.board.view
    assert view.width() * view.height() > 0.5 * page.width() * page.height()
    assert view.front_rect().height() > 0.6 * page.height()


def test_two_are_chosen_and_joined(page: LayoutPage, qtbot: QtBot) -> None:
    click(qtbot, page, "H5")
    click(qtbot, page, "H6", CTRL)
    assert page.shape.what.text() == "2 chosen: D5, D6"
    press(qtbot, page, "button-tool-join")
    assert stored(page).count()[Family.DRAWER] == 6
    assert page.board.view.piece == stored(page)


def test_what_makes_no_rectangle_is_refused_in_words_and_nothing_changes(
    page: LayoutPage, qtbot: QtBot, piece: Piece, heard: list[object]
) -> None:
    click(qtbot, page, "H1")
    click(qtbot, page, "H4", CTRL)
    press(qtbot, page, "button-tool-join")
    assert heard == [Refused("Openings 1, 4 do not make one rectangle.")]
    assert stored(page) == piece


def test_the_front_is_shaped_by_keys_alone(page: LayoutPage, qtbot: QtBot) -> None:
    key_on_front(qtbot, page, "H1", Qt.Key.Key_Space)
    key_on_front(qtbot, page, "H1", Qt.Key.Key_A)
    assert stored(page).count()[Family.DRAWER] == 8
    key_on_front(qtbot, page, "H8", Qt.Key.Key_Return)
    key_on_front(qtbot, page, "H8", Qt.Key.Key_G)
    assert stored(page).count()[Family.DOOR] == 1
    key_on_front(qtbot, page, "H1", Qt.Key.Key_Return)
    key_on_front(qtbot, page, "H1", Qt.Key.Key_Delete)
    assert stored(page).count()[Family.DRAWER] == 6


def test_alt_and_an_arrow_move_the_border_of_the_chosen(page: LayoutPage, qtbot: QtBot) -> None:
    key_on_front(qtbot, page, "H5", Qt.Key.Key_Return)
    key_on_front(qtbot, page, "H5", Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier)
    assert stored(page).front.columns[0] == pytest.approx(305)
    key_on_front(qtbot, page, "H5", Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert stored(page).front.rows == pytest.approx((200, 200, 200))
    key_on_front(qtbot, page, "H1", Qt.Key.Key_Return)
    key_on_front(qtbot, page, "H1", Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert stored(page).front.rows == pytest.approx((205, 195, 200))


def newest(page: LayoutPage) -> str:
    return history(page.shop, limit=1)[0].sentence


@pytest.mark.parametrize(
    ("kind", "one", "more"),
    [
        (OpeningKind.DRAWER, "made a drawer", "made drawers"),
        (OpeningKind.DOOR, "made a door", "made doors"),
        (OpeningKind.SHELF, "made an open shelf", "made open shelves"),
        (OpeningKind.FALSE_FRONT, "made a false front", "made false fronts"),
        (OpeningKind.EMPTY, "left empty", "left empty"),
    ],
)
def test_what_openings_became_reads_as_a_sentence(kind: OpeningKind, one: str, more: str) -> None:
    assert (made_words(kind, 1), made_words(kind, 3)) == (one, more)


@pytest.mark.parametrize(
    ("counts", "told"),
    [
        ([1], "1 drawer put behind G1"),
        ([2, 1], "3 drawers put behind G1"),
        ([], "the drawers behind G1 taken away"),
    ],
)
def test_what_was_put_behind_a_door_reads_as_a_sentence(counts: list[int], told: str) -> None:
    assert behind_words(counts, "G1") == told


def test_drawers_are_put_behind_a_door_and_shown(page: LayoutPage, qtbot: QtBot) -> None:
    click(qtbot, page, "H7")
    press(qtbot, page, "button-tool-door")
    assert newest(page) == "Heron: D7 made a door"
    assert page.shape.put_behind.isEnabled()
    page.shape.rows_behind.setText("1 1")
    press(qtbot, page, "put-behind")
    assert newest(page) == "Heron: 2 drawers put behind G1"
    now = stored(page)
    door = next(o for o in now.front.openings if o.kind is OpeningKind.DOOR)
    hidden = now.front.behind(door.number)
    assert len(hidden) == 2
    keys = {f"H{o.number}" for o in hidden}
    assert keys <= set(page.board.view.keys())
    page.shape.show_hidden.setChecked(False)
    assert keys.isdisjoint(page.board.view.keys())


def test_a_drawer_made_a_drawer_is_no_change(page: LayoutPage, qtbot: QtBot) -> None:
    click(qtbot, page, "H7")
    before = newest(page)
    press(qtbot, page, "button-tool-drawer")
    assert newest(page) == before
    assert page.tools.actions["drawer"].isChecked()
    press(qtbot, page, "button-tool-door")
    undo(page.shop)
    page.refresh()
    assert page.tools.actions["drawer"].isChecked()
    assert not page.tools.actions["door"].isChecked()


def test_rows_are_typed_to_start_over_until_labels_are_printed(
    page: LayoutPage, qtbot: QtBot, heard: list[object]
) -> None:
    qtbot.keyClicks(page.head.rows, "1 2")
    qtbot.keyClick(page.head.rows, Qt.Key.Key_Return)
    assert stored(page).count()[Family.DRAWER] == 3
    assert page.head.rows.text() == ""
    qtbot.keyClicks(page.head.rows, "2 x")
    qtbot.keyClick(page.head.rows, Qt.Key.Key_Return)
    assert isinstance(heard[-1], Refused)
    assert "“x”" in heard[-1].sentence
    assert page.head.rows.text() == "2 x"
    assert not page.fixed.isVisible()
    sheet = labels.make_sheet(page.shop, page.tag, only=["D1"])
    assert isinstance(sheet, Sheet)
    labels.hand_out(page.shop, sheet)
    page.refresh()
    assert page.fixed.isVisible()
    assert not page.head.rows.isEnabled()
    assert not page.whole.order.isEnabled()


def test_the_whole_is_sized_in_inches_too(page: LayoutPage, qtbot: QtBot) -> None:
    page.head.measures.setCurrentIndex(1)
    page.head.measures.activated.emit(1)
    assert page.head.width_field.text() == '35-7/16"'
    page.head.width_field.selectAll()
    qtbot.keyClicks(page.head.width_field, "36 1/2")
    qtbot.keyClick(page.head.width_field, Qt.Key.Key_Return)
    assert stored(page).front.width == pytest.approx(36.5 * 25.4)
    assert stored(page).front.height == pytest.approx(600)


def test_a_size_that_cannot_be_read_is_told_and_the_field_shows_the_old_one(
    page: LayoutPage, qtbot: QtBot, heard: list[object]
) -> None:
    click(qtbot, page, "H5")
    field = page.shape.width_field
    field.selectAll()
    qtbot.keyClicks(field, "a foot")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert isinstance(heard[-1], Refused)
    assert field.text() == "300 mm"


def test_a_path_is_brushed_on_by_clicks(page: LayoutPage, qtbot: QtBot) -> None:
    page.tabs.setCurrentWidget(page.finish)
    page.finish.take_path("stain")
    page.finish.brush.setChecked(True)
    click(qtbot, page, "H5")
    click(qtbot, page, "T1")
    part = stored(page).part("D5")
    assert {f.name for f in part.faces if f.path == "stain"} == {
        "front", "top edge", "bottom edge", "left edge", "right edge",
    }  # fmt: skip
    assert page.board.view.tile("H5").look.pattern is Pattern.HATCHED
    assert page.board.view.tile("H5").look.words == "stain"
    page.tabs.setCurrentWidget(page.shape)
    assert not page.finish.brush.isChecked()
    click(qtbot, page, "H6")
    assert stored(page).part("D6").face("front").path == "leave"


def test_escape_lays_the_brush_down(page: LayoutPage, qtbot: QtBot) -> None:
    page.tabs.setCurrentWidget(page.finish)
    page.finish.take_path("stain")
    page.finish.brush.setChecked(True)
    click(qtbot, page, "H5")
    qtbot.keyClick(page.board.view.tile("H5"), Qt.Key.Key_Escape)
    assert not page.finish.brush.isChecked()
    click(qtbot, page, "H6")
    assert stored(page).part("D6").face("front").path == "leave"


def test_a_stroke_over_the_front_brushes_what_it_crosses(page: LayoutPage, qtbot: QtBot) -> None:
    page.tabs.setCurrentWidget(page.finish)
    page.finish.take_path("paint")
    page.finish.brush.setChecked(True)
    view = page.board.view
    first, last = view.tile("H5"), view.tile("H7")
    qtbot.mousePress(first, LEFT)
    for key in ("H5", "H6", "H7"):
        where = first.mapFromGlobal(view.tile(key).mapToGlobal(view.tile(key).rect().center()))
        qtbot.mouseMove(first, where)
    qtbot.mouseRelease(first, LEFT, pos=first.mapFromGlobal(last.mapToGlobal(last.rect().center())))
    paths = [stored(page).part(s).face("front").path for s in ("D5", "D6", "D7")]
    assert paths == ["paint"] * 3


def test_all_fronts_and_all_wood_that_shows(page: LayoutPage, qtbot: QtBot) -> None:
    page.tabs.setCurrentWidget(page.finish)
    page.finish.take_path("clear")
    press(qtbot, page, "onto-fronts")
    now = stored(page)
    assert {now.part(f"D{n}").face("front").path for n in range(1, 8)} == {"clear"}
    assert now.part("D4").face("top edge").path == "leave"
    assert now.part("T1").face("top").path == "stain"
    press(qtbot, page, "onto-shown")
    now = stored(page)
    assert now.part("L1").face("outside").path == "clear"
    assert now.part("T1").face("top").path == "clear"
    assert now.part("P1").face("face").path == "leave"
    assert now.part("D1").face("sides").path == "raw"


def test_a_single_face_gets_its_own_path(page: LayoutPage, qtbot: QtBot) -> None:
    page.tabs.setCurrentWidget(page.finish)
    click(qtbot, page, "H1")
    box = page.finish.findChild(QComboBox, "face-sides")
    assert box.currentData() == "raw"
    box.setCurrentIndex(box.findData("clear"))
    box.activated.emit(box.currentIndex())
    assert stored(page).part("D1").face("sides").path == "clear"
    assert stored(page).part("D1").face("front").path == "paint"


def test_pulls_and_locks_go_to_the_chosen_drawers(page: LayoutPage, qtbot: QtBot) -> None:
    page.tabs.setCurrentWidget(page.whole)
    click(qtbot, page, "H5")
    click(qtbot, page, "H7", CTRL)
    assert page.whole.hosts.text() == "Each of D5, D7:"
    assert page.whole.count.value() == 1
    page.whole.count.setValue(2)
    press(qtbot, page, "fit")
    assert stored(page).count()[Family.PULL] == 9
    page.whole.fitting.setCurrentText("lock")
    assert page.whole.count.value() == 0
    page.whole.count.setValue(1)
    press(qtbot, page, "fit")
    assert [p.parent for p in stored(page).present if p.family is Family.LOCK] == ["D5", "D7"]


def test_legs_top_name_and_order_are_set(page: LayoutPage, qtbot: QtBot) -> None:
    page.tabs.setCurrentWidget(page.whole)
    page.whole.equal.click()
    assert {p.group for p in stored(page).present if p.family is Family.LEG} == {"leg"}
    page.whole.legs.setValue(6)
    assert stored(page).count()[Family.LEG] == 6
    page.whole.top.click()
    assert stored(page).count()[Family.TOP] == 0
    page.whole.title.selectAll()
    qtbot.keyClicks(page.whole.title, "writing desk")
    qtbot.keyClick(page.whole.title, Qt.Key.Key_Return)
    assert stored(page).title == "writing desk"
    page.whole.order.setCurrentIndex(2)
    page.whole.order.activated.emit(2)
    assert stored(page).part("D1").home.number == 1
    assert stored(page).front.opening(1).span.row == 2


def test_the_twin_is_made_by_a_button(page: LayoutPage, qtbot: QtBot, heard: list[object]) -> None:
    page.tabs.setCurrentWidget(page.whole)
    press(qtbot, page, "twin")
    twins = [p for p in pieces.pieces(page.shop) if p.tag != page.tag]
    assert len(twins) == 1
    assert twins[0].tag in heard[-1].sentence
    assert page.shop.piece(twins[0].tag).mirror_of == page.tag


def test_the_list_and_the_front_choose_together(page: LayoutPage, qtbot: QtBot) -> None:
    page.tabs.setCurrentWidget(page.list)
    click(qtbot, page, "H6")
    assert page.list.table.currentIndex().siblingAtColumn(0).data() == "D6"
    page.list.table.selectRow(page.list.sorted.rowCount() - 1)
    assert page.desk.part == "C1"
    assert page.board.view.selection() == ["C1"]


def test_old_marks_and_notes_are_typed_in_the_list_or_the_form(
    page: LayoutPage, qtbot: QtBot
) -> None:
    page.tabs.setCurrentWidget(page.list)
    click(qtbot, page, "H6")
    field = page.list.fields["old_mark"]
    qtbot.keyClicks(field, "4")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert stored(page).part("D6").old_mark == "4"
    cell = page.list.table.currentIndex().siblingAtColumn(4)
    assert page.list.sorted.setData(cell, "left runner worn")
    assert stored(page).part("D6").note == "left runner worn"
    page.list.fragile.click()
    page.list.secret.click()
    part = stored(page).part("D6")
    assert (part.fragile, part.hidden) == (True, True)
    assert page.list.table.currentIndex().siblingAtColumn(0).data() == "D6"


def test_a_drawn_part_is_not_taken_off_the_list_before_labels(
    page: LayoutPage, qtbot: QtBot
) -> None:
    page.tabs.setCurrentWidget(page.list)
    page.desk.choose_part("D6")
    assert not page.list.off.isEnabled()
    page.desk.choose_part("P6")
    press(qtbot, page, "part-off")
    assert stored(page).count()[Family.PULL] == 6


def test_a_scan_chooses_the_part_and_another_jobs_label_is_told(
    page: LayoutPage, piece: Piece, heard: list[object]
) -> None:
    other = quill(page.shop)
    page.scanned(code(piece, "P4"))
    assert (page.desk.part, page.board.view.selection()) == ("P4", ["H4"])
    page.scanned(code(piece, "H2"))
    assert page.board.view.selection() == ["H2"]
    page.scanned(code(other, "D5"))
    assert isinstance(heard[-1], Outcome)
    assert heard[-1].tone is Tone.FOREIGN
    assert page.board.view.selection() == ["H2"]


def test_a_half_made_entry_comes_back(page: LayoutPage, theme: Theme, qtbot: QtBot) -> None:
    page.head.rows.setText("2 2")
    page.tabs.setCurrentWidget(page.finish)
    page.finish.take_path("stain")
    page.desk.set_measures(Measures.US)
    page.desk.choose(["H3"])
    again = LayoutPage(page.shop)
    qtbot.addWidget(again)
    again.show_piece(page.tag)
    again.restore_state(page.saved_state())
    assert again.saved_state() == page.saved_state()
    assert again.head.rows.text() == "2 2"
    assert again.board.view.selection() == ["H3"]
    again.restore_state({"tab": "x", "measures": "cubits", "path": "varnish"})
    assert again.desk.measures is Measures.US


def test_without_a_piece_the_page_says_what_to_do(page: LayoutPage) -> None:
    page.show_piece("")
    assert page.empty.isVisible()
    assert not page.board.isVisible()
    assert not page.head.isEnabled()


def test_sixty_drawers_are_shown_and_changed(page: LayoutPage, qtbot: QtBot) -> None:
    chest = made(pieces.lay_out(page.shop, "Larch", " ".join(["6"] * 10)))
    page.show_piece(chest.tag)
    click(qtbot, page, "H60")
    key_on_front(qtbot, page, "H60", Qt.Key.Key_E)
    assert stored(page).count()[Family.DRAWER] == 59


def test_a_change_from_elsewhere_shows_after_a_refresh(page: LayoutPage) -> None:
    made(pieces.give_path(page.shop, page.tag, "stain", ["D7"]))
    page.refresh()
    assert page.board.view.tile("H7").look.words == "stain"


def test_every_control_has_a_name_for_a_screen_reader(page: LayoutPage, tmp_path: Path) -> None:
    page.show_piece(tall_chest(page.shop, tmp_path).tag)
    page.desk.choose(["H1"])
    for place in range(page.tabs.count()):
        page.tabs.setCurrentIndex(place)
        nameless = [
            w.objectName() or type(w).__name__
            for w in page.findChildren(QWidget)
            if w.isVisible()
            and w.focusPolicy() & Qt.FocusPolicy.TabFocus
            and not (w.accessibleName() or getattr(w, "text", str)() or w.toolTip())
            and not isinstance(w.parent(), QComboBox)
            and w is not page.tabs.tabBar()
        ]
        assert nameless == []


def test_no_dialog_is_left_when_the_page_asks_for_one(page: LayoutPage, qtbot: QtBot) -> None:
    page.tabs.setCurrentWidget(page.whole)
    for name in ("add-part", "client"):
        press(qtbot, page, name)
        dialog = next(d for d in page.findChildren(QDialog) if d.isVisible())
        with qtbot.waitSignal(dialog.destroyed):
            dialog.reject()
    assert page.findChildren(QDialog) == []


def test_labels_are_asked_for_the_chosen_parts_alone(page: LayoutPage, qtbot: QtBot) -> None:
    assert not page.head.labels.isEnabled()
    click(qtbot, page, "H5")
    click(qtbot, page, "H7", CTRL)
    press(qtbot, page, "layout-labels")
    dialog = page.findChild(LabelsDialog)
    assert dialog.labels.chosen.isChecked()
    assert dialog.labels.only == ["D5", "D7"]
    qtbot.waitUntil(dialog.save.isEnabled, timeout=20_000)
    assert dialog.told.text().startswith("2 labels on 1 page;")
    with qtbot.waitSignal(dialog.destroyed):
        dialog.reject()


def test_a_done_change_is_told(page: LayoutPage, qtbot: QtBot, heard: list[object]) -> None:
    click(qtbot, page, "H5")
    press(qtbot, page, "button-tool-empty")
    assert heard == [Done("Heron: D5 left empty.", page.tag)]
