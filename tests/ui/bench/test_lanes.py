from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QToolButton
from pytestqt.qtbot import QtBot

from partsbench.services.known.state import PartState, part_state
from partsbench.services.shop import Shop
from partsbench.ui.bench.lanes import Lanes, lanes_of
from partsbench.ui.theme import Theme
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron


@pytest.fixture
def d1(shop: Shop, clock: SetClock) -> PartState:
    piece = heron(shop)
    for _ in range(2):
        record(shop, "D1", here=piece.tag)
    clock.pass_time(hours=13)
    record(shop, "D1", here=piece.tag, step="fill", skip=True, face="front")
    record(shop, "D1", here=piece.tag, face="front")
    part = piece.part("D1")
    assert part is not None
    return part_state(shop, piece, part)


def test_faces_at_one_step_share_a_lane_and_the_one_due_is_first(d1: PartState) -> None:
    lanes = lanes_of(d1)
    assert [lane.names for lane in lanes] == [
        ("top edge", "bottom edge", "left edge", "right edge"),
        ("front",),
    ]
    assert lanes[1].where == "Colour coat 1, thin, step 4 of 11"


def test_a_lane_tells_done_skipped_next_due_and_optional(d1: PartState) -> None:
    signs = lanes_of(d1)[1].signs
    assert signs[:4] == ("done", "done", "skipped", "done")
    assert signs.count("next") == 1
    assert "may" in signs and "due" in signs


def test_a_face_is_chosen_and_let_go(d1: PartState, theme: Theme, qtbot: QtBot) -> None:
    lanes = Lanes()
    qtbot.addWidget(lanes)
    lanes.show_part(d1)
    chip = lanes.findChild(QToolButton, "face-front")
    assert chip is not None
    with qtbot.waitSignal(lanes.face_chosen) as chosen:
        qtbot.mouseClick(chip, Qt.MouseButton.LeftButton)
    assert chosen.args == ["front"]
    with qtbot.waitSignal(lanes.face_chosen) as chosen:
        qtbot.mouseClick(chip, Qt.MouseButton.LeftButton)
    assert chosen.args == [""]


def test_only_faces_that_get_a_finish_are_shown(d1: PartState, theme: Theme, qtbot: QtBot) -> None:
    lanes = Lanes()
    qtbot.addWidget(lanes)
    lanes.show_part(d1)
    assert "sides" not in lanes.faces()
    lanes.show_part(None)
    assert lanes.faces() == []
