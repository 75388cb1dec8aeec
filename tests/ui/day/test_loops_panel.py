"""What was begun and not ended, with a button for each end."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from partsbench.core.finish.loops import Loop
from partsbench.core.finish.steps import Operation
from partsbench.ui.day.loops_panel import MOST, TAPE, LoopsPanel
from partsbench.ui.theme import Theme

NOW = datetime(2031, 3, 4, 9, tzinfo=UTC)


@pytest.fixture
def panel(theme: Theme, qtbot: QtBot) -> LoopsPanel:
    made = LoopsPanel()
    qtbot.addWidget(made)
    return made


def washed(number: int) -> Loop:
    since = NOW - timedelta(hours=number)
    return Loop(f"Heron D{number}", since, "washed but not rinsed", Operation.RINSE)


def lines(panel: LoopsPanel) -> list[str]:
    return [label.text() for label in panel.findChildren(QLabel) if not label.isHidden()]


def test_of_many_the_first_are_told_and_how_many_more(panel: LoopsPanel) -> None:
    panel.show_loops([washed(n) for n in range(1, MOST + 4)], NOW)
    said = lines(panel)
    assert said[0] == "Begun, not ended" and said[-1] == "and 3 more"
    assert len(said) == MOST + 2 and len(panel.buttons()) == MOST


def test_what_a_word_does_not_end_leads_to_the_seams(panel: LoopsPanel, qtbot: QtBot) -> None:
    over = Loop("Heron C1 top", NOW, "tape is over its rating", None)
    panel.show_loops([washed(1), over], NOW)
    rinsed, tape = panel.buttons()
    assert tape.text() == TAPE
    with qtbot.waitSignal(panel.masks_asked):
        tape.click()
    with qtbot.waitSignal(panel.ended) as told:
        rinsed.click()
    assert told.args[0] == washed(1) and told.args[1].operation is Operation.RINSE
