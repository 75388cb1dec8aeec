"""Pulls of the chosen drawers are made alike with one click."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
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
