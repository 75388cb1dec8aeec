from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.acts.places import put
from partsbench.services.books.pieces import edit_part
from partsbench.services.shop import Shop
from partsbench.ui.find_dialog import FindDialog
from partsbench.ui.theme import Theme
from tests.support.shops import lay_out


@pytest.fixture
def heron(shop: Shop) -> Piece:
    made = lay_out(shop, "Heron", "2 2 3")
    assert isinstance(made, Piece)
    lay_out(shop, "Larch", "2 2 3")
    edit_part(shop, made.tag, "D5", old_mark="IV")
    put(shop, "rack 2", ["D6"], here=made.tag)
    return made


@pytest.fixture
def dialog(qtbot: QtBot, shop: Shop, heron: Piece, theme: Theme) -> FindDialog:
    made = FindDialog(shop, heron.tag)
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(made)
    made.show()
    return made


def lines(dialog: FindDialog) -> list[str]:
    model = dialog.list.model()
    return [model.index(row, 0).data() for row in range(model.rowCount())]


def test_a_number_names_the_place_and_the_time_the_piece_at_work_first(dialog: FindDialog) -> None:
    QTest.keyClicks(dialog.field, "d6")
    found = lines(dialog)
    assert len(found) == 2
    assert found[0].startswith("Heron D6: at rack 2, last seen")
    assert found[1].startswith("Larch D6: not taken out")


def test_an_old_mark_finds_its_part(dialog: FindDialog) -> None:
    QTest.keyClicks(dialog.field, "IV")
    assert any("Heron D5 (old mark IV)" in line for line in lines(dialog))


def test_enter_goes_to_the_part(dialog: FindDialog, heron: Piece) -> None:
    chosen: list[tuple[str, str]] = []
    dialog.part_chosen.connect(lambda tag, short: chosen.append((tag, short)))
    QTest.keyClicks(dialog.field, "D6")
    QTest.keyClick(dialog.field, Qt.Key.Key_Return)
    assert chosen == [(heron.tag, "D6")]


def test_nothing_found_is_said_and_enter_does_nothing(dialog: FindDialog) -> None:
    chosen: list[str] = []
    dialog.part_chosen.connect(lambda tag, short: chosen.append(short))
    QTest.keyClicks(dialog.field, "D99")
    assert "No part" in dialog.said.text()
    QTest.keyClick(dialog.field, Qt.Key.Key_Return)
    assert chosen == []
    assert dialog.isVisible()


def test_a_scan_is_a_question_too(dialog: FindDialog, heron: Piece) -> None:
    part = heron.part("D6")
    assert part is not None
    dialog.scanned(str(heron.code(part)))
    assert lines(dialog)[0].startswith("Heron D6: at rack 2")


def test_the_place_of_the_one_in_hand_is_told_largest(dialog: FindDialog) -> None:
    assert not dialog.place.isVisible()
    assert dialog.height() < 200
    QTest.keyClicks(dialog.field, "d6")
    assert dialog.place.isVisible()
    assert dialog.whose.text() == "Heron D6"
    assert dialog.place.text() == "at rack 2"
    assert dialog.seen.text().startswith("last seen")
    QTest.keyClick(dialog.field, Qt.Key.Key_Down)
    QTest.keyClick(dialog.list, Qt.Key.Key_Down)
    assert dialog.whose.text() == "Larch D6"
    assert dialog.place.text().startswith("not taken out")
    assert dialog.seen.text() == "never scanned"


def test_one_find_needs_no_list(dialog: FindDialog) -> None:
    QTest.keyClicks(dialog.field, "IV")
    assert dialog.whose.text() == "Heron D5  (old mark IV)"
    assert not dialog.list.isVisible()
    assert dialog.said.text() == "Enter shows it."
    dialog.field.clear()
    assert not dialog.answer.isVisible()


def test_grown_by_an_answer_it_stays_on_the_screen(dialog: FindDialog) -> None:
    room = dialog.screen().availableGeometry()
    dialog.move(room.left() + 40, room.bottom() - 160)
    QTest.keyClicks(dialog.field, "d6")
    assert dialog.height() >= 300
    assert room.contains(dialog.geometry())


def test_a_double_click_goes_to_the_part(dialog: FindDialog, heron: Piece, qtbot: QtBot) -> None:
    QTest.keyClicks(dialog.field, "d6")
    line = dialog.list.visualRect(dialog.list.model().index(0, 0)).center()
    QTest.mouseClick(dialog.list.viewport(), Qt.MouseButton.LeftButton, pos=line)
    with qtbot.waitSignal(dialog.part_chosen) as told:
        QTest.mouseDClick(dialog.list.viewport(), Qt.MouseButton.LeftButton, pos=line)
    assert told.args == [heron.tag, "D6"]
