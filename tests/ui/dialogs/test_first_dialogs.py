"""Wood and hardware asked at intake: one question a dialog."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done
from partsbench.core.piece.piece import Piece
from partsbench.services.books.pieces import lay_out
from partsbench.services.shop import Shop
from partsbench.services.shown.first_things import counted_now, first_things
from partsbench.ui.dialogs.first_dialogs import HardwareDialog, WoodDialog
from partsbench.ui.theme import Theme


@pytest.fixture
def tag(shop: Shop, theme: Theme) -> str:
    made = lay_out(shop, "Heron", "2 1", pulls=2)
    assert isinstance(made, Piece)
    return made.tag


def test_the_wood_of_all_of_it_is_noted_and_the_dialog_closes(
    shop: Shop, tag: str, qtbot: QtBot
) -> None:
    dialog = WoodDialog(shop, tag)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.wood.setCurrentText("walnut, black")
    dialog.note.click()
    assert not dialog.isVisible()
    assert first_things(shop, tag)[1].says == "C1 walnut, black"


def test_some_parts_may_be_of_another_wood_and_what_is_none_is_told(
    shop: Shop, tag: str, qtbot: QtBot
) -> None:
    dialog = WoodDialog(shop, tag)
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.wood.setCurrentText("marzipan")
    dialog.note.click()
    assert "marzipan" in dialog.told.text()
    assert not first_things(shop, tag)[1].answered
    dialog.of.setText("D1, D2")
    dialog.wood.setCurrentText("MDF")
    dialog.note.click()
    assert dialog.isVisible(), "the rest of the piece is still to be said"
    assert "D1 MDF" in first_things(shop, tag)[1].says


def test_all_are_there_in_two_presses(shop: Shop, tag: str, qtbot: QtBot) -> None:
    dialog = HardwareDialog(shop, tag)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.show()
    settled: list[object] = []
    dialog.settled.connect(settled.append)
    dialog.all_there.click()
    dialog.boxes["D2", "pull"].setValue(1)
    dialog.note.click()
    assert settled == [Done("Heron: 5 pulls, knobs and plates counted as good.", tag)]
    assert counted_now(shop, tag)["D2", "pull"] == (2, 1)
    again = HardwareDialog(shop, tag)
    qtbot.addWidget(again)
    assert again.boxes["D2", "pull"].value() == 1


def test_a_piece_without_hardware_says_so(shop: Shop, theme: Theme, qtbot: QtBot) -> None:
    made = lay_out(shop, "Quill", "1")
    assert isinstance(made, Piece)
    dialog = HardwareDialog(shop, made.tag)
    qtbot.addWidget(dialog)
    assert dialog.boxes == {}
    assert not dialog.note.isEnabled()
