"""Splitting, sizes and what a door hides, typed and pressed in the panel."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.piece.front import Front, OpeningKind
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.shape_panel import ShapePanel
from partsbench.ui.layout.tools import CHOOSE_FIRST, Tools
from tests.ui.layout.conftest import Heard


@pytest.fixture
def panel(desk: Desk, qtbot: QtBot) -> Iterator[ShapePanel]:
    place = QWidget()
    qtbot.addWidget(place)
    made = ShapePanel(desk, Tools(desk, place), place)
    place.resize(500, 700)
    made.resize(500, 700)
    place.show()
    qtbot.waitExposed(place)
    desk.shown.emit()
    yield made


def type_in(qtbot: QtBot, field: QLineEdit, text: str) -> None:
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def front(desk: Desk) -> Front:
    assert desk.piece is not None
    return desk.piece.front


def test_an_opening_is_split_one_above_another_into_as_many_as_are_asked_for(
    panel: ShapePanel, desk: Desk, heard: Heard
) -> None:
    desk.choose(["H1"])
    panel.into.setValue(3)
    panel.tools.actions["down"].trigger()
    assert "one above another" in heard.done()
    assert len(front(desk).openings) == 9
    assert [front(desk).box(o.span)[0] for o in desk.openings()] == [0, 0, 0], "one column"


@pytest.mark.parametrize("key", ["across", "down", "join", "remove", "door"])
def test_with_nothing_chosen_each_tool_says_to_choose_first(
    panel: ShapePanel, desk: Desk, heard: Heard, key: str
) -> None:
    before = desk.piece
    panel.tools.actions[key].trigger()
    assert heard.answers == [CHOOSE_FIRST]
    assert desk.piece is before


def test_what_was_taken_out_is_filled_with_a_drawer_again(
    panel: ShapePanel, desk: Desk, heard: Heard
) -> None:
    desk.choose(["H4"])
    panel.tools.actions["remove"].trigger()
    assert len(front(desk).openings) == 6
    panel.tools.actions["fill"].trigger()
    assert "solid places filled with drawers" in heard.done()
    assert len(front(desk).openings) == 7
    assert {o.kind for o in front(desk).openings} == {OpeningKind.DRAWER}


def test_an_opening_is_given_its_width_and_its_height(
    panel: ShapePanel, desk: Desk, qtbot: QtBot, heard: Heard
) -> None:
    assert not panel.width_field.isEnabled(), "nothing is chosen"
    desk.choose(["H5"])
    type_in(qtbot, panel.width_field, "320")
    assert heard.done() == "Heron: H5 is 320 mm wide."
    type_in(qtbot, panel.height_field, "10 in")
    assert "H5 is 254 mm high" in heard.done()
    opening = front(desk).opening(5)
    assert opening is not None
    assert front(desk).box(opening.span)[2:] == pytest.approx((320, 254))
    type_in(qtbot, panel.width_field, "wide")
    assert "Width of the opening" in heard.refusal()
    assert panel.width_field.text() == "320 mm", "what it is, is shown again"


def test_what_cannot_be_behind_a_door_is_told(
    panel: ShapePanel, desk: Desk, qtbot: QtBot, heard: Heard
) -> None:
    desk.choose(["H1"])
    panel.tools.actions["door"].trigger()
    before = desk.piece
    panel.rows_behind.setText("1 x")
    panel.put_behind.click()
    assert "x" in heard.refusal()
    assert desk.piece == before
    panel.rows_behind.setText("1 1")
    panel.put_behind.click()
    assert len([o for o in front(desk).openings if o.behind is not None]) == 2
    assert panel.show_hidden.isChecked()
