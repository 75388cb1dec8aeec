"""Pulls of the chosen drawers are made alike with one click."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import no_piece
from partsbench.services.acts.history import undo
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.piece_panel import PiecePanel
from tests.ui.layout.conftest import Heard


@pytest.fixture
def panel(desk: Desk, piece: Piece, qtbot: QtBot) -> PiecePanel:
    made = PiecePanel(desk)
    qtbot.addWidget(made)
    made.on_shown()
    return made


def groups(desk: Desk) -> dict[str, str]:
    assert desk.piece is not None
    return {p.short: p.group for p in desk.piece.present if p.short.startswith("P")}


def test_pulls_of_the_chosen_are_made_alike_and_parted_again(
    panel: PiecePanel, desk: Desk, heard: Heard
) -> None:
    assert not panel.alike.isEnabled(), "nothing is chosen"
    desk.choose(["H1", "H2", "H3"])
    assert panel.alike.isEnabled() and not panel.alike.isChecked()
    panel.alike.click()
    assert heard.done() == "P1–P3 are alike: any to any place."
    assert {s for s, group in groups(desk).items() if group} == {"P1", "P2", "P3"}
    assert panel.alike.isChecked()
    panel.alike.click()
    assert heard.done() == "P1–P3 have their own places."
    assert not any(groups(desk).values())


def test_locks_have_each_their_own_place(panel: PiecePanel, desk: Desk) -> None:
    desk.choose(["H1", "H2"])
    panel.count.setValue(1)
    panel.fitting.setCurrentText("lock")
    panel.give.click()
    desk.choose(["H1", "H2"])
    panel.on_shown()
    assert not panel.alike.isEnabled()


def test_one_leg_is_told_as_one(panel: PiecePanel, desk: Desk, heard: Heard) -> None:
    panel.legs.setValue(1)
    assert heard.done() == "1 leg with its own corner."
    panel.equal.click()
    assert heard.done() == "1 leg that fits any corner."
    panel.legs.setValue(0)
    assert heard.done() == "No legs."


def test_a_twin_of_a_piece_that_another_window_took_back_is_refused(
    panel: PiecePanel, desk: Desk, heard: Heard
) -> None:
    undo(desk.shop)
    panel.twin.click()
    assert heard.refusal() == no_piece(desk.tag)
    assert desk.shop.piece(desk.tag) is None


def test_what_is_typed_as_it_was_and_chosen_as_it_was_records_nothing(
    panel: PiecePanel, desk: Desk, qtbot: QtBot, heard: Heard
) -> None:
    before = desk.shop.book.newest()
    panel.title.selectAll()
    qtbot.keyClicks(panel.title, "tall chest")
    desk.shown.emit()
    assert panel.title.text() == "tall chest", "what is being typed stays"
    qtbot.keyClick(panel.title, Qt.Key.Key_Return)
    panel.order.activated.emit(panel.order.currentIndex())
    assert (desk.shop.book.newest(), heard.answers) == (before, [])
    panel.title.clear()
    qtbot.keyClicks(panel.title, "low chest")
    qtbot.keyClick(panel.title, Qt.Key.Key_Return)
    assert heard.done() == "Called low chest."
