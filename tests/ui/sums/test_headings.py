"""The headings of the list of sums are read as well as its lines."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QListView, QWidget
from pytestqt.qtbot import QtBot

from partsbench.ui.sums.table import AT_THE_BENCH, OF_THE_PIECE
from partsbench.ui.sums.told_model import DecisionModel
from partsbench.ui.theme import Theme
from tests.ui.test_theme import contrast

GROUPS = (("THE PIECE AT WORK", OF_THE_PIECE), ("AT THE BENCH", AT_THE_BENCH))


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_headings_have_a_contrast_of_at_least_4_5(theme: Theme, qtbot: QtBot) -> None:
    """W3C WCAG 2.2, success criterion 1.4.3, on the picture of each heading."""
    holder = QWidget()
    qtbot.addWidget(holder)
    view = QListView(holder)
    model = DecisionModel(GROUPS, holder)
    view.setModel(model)
    view.resize(280, 900)
    holder.resize(300, 920)
    holder.show()
    qtbot.waitExposed(holder)
    picture = view.viewport().grab().toImage()
    headings = [row for row in range(model.rowCount()) if model.decision(row) is None]
    assert len(headings) == len(GROUPS)
    for row in headings:
        room = view.visualRect(model.index(row))
        inks = [
            picture.pixelColor(x, y)
            for x in range(room.left(), min(room.right(), 200))
            for y in range(room.top(), room.bottom())
        ]
        best = max(contrast(ink, theme.color("raised")) for ink in inks)
        assert best >= 4.5, (model.lines[row], best)
