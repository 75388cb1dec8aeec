"""Fields of the dialogs: in an open list no word lies under the ring of the keyboard."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from partsbench.ui.dialogs.lines import typed_or_chosen
from partsbench.ui.focus_ring import INNER, OUTER
from partsbench.ui.theme import Theme


@pytest.mark.qt_log_ignore("This plugin does not support")
def test_what_is_offered_stands_clear_of_the_ring(theme: Theme, qtbot: QtBot) -> None:
    box = typed_or_chosen("how", "How it was tested", ("", "test kit", "laboratory"))
    qtbot.addWidget(box)
    box.resize(220, 30)
    box.show()
    qtbot.waitExposed(box)
    box.showPopup()
    QApplication.processEvents()
    view = box.view()
    rows = [view.visualRect(box.model().index(row, 0)) for row in range(box.count())]
    clear = OUTER + INNER
    room = view.viewport().rect()
    assert rows[0].top() >= clear
    assert room.bottom() - rows[-1].bottom() >= clear
    assert all(a.bottom() < b.top() for a, b in pairwise(rows))
    assert view.verticalScrollBar().maximum() == 0, "all of them are in sight"
    box.hidePopup()
