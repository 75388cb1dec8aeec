from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtGui import QAction, QFontMetrics
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from partsbench.ui.rail import LOW, STEP, WIDTH, Rail
from partsbench.ui.theme import Theme, sized

PAGES = 11
LEFT_OF_720 = 510
"""What menu, tools, a question, and the answer leave of a window of 720 for the rail."""


@pytest.fixture
def rail(theme: Theme, qtbot: QtBot) -> Iterator[Rail]:
    holder = QWidget()
    qtbot.addWidget(holder)
    made = Rail([QAction(f"Page {n}", holder) for n in range(PAGES)], holder)
    holder.show()
    qtbot.waitExposed(holder)
    yield made


def test_all_pages_stand_without_scrolling_in_a_low_window(rail: Rail, qtbot: QtBot) -> None:
    rail.resize(WIDTH, LEFT_OF_720)
    qtbot.waitUntil(lambda: not rail.verticalScrollBar().isVisible())
    assert rail.width() == WIDTH
    assert rail.buttons[-1].geometry().bottom() < LEFT_OF_720


def test_a_still_lower_window_scrolls_and_cuts_no_button(rail: Rail, qtbot: QtBot) -> None:
    rail.resize(WIDTH, 300)
    qtbot.waitUntil(lambda: rail.width() > WIDTH)
    assert all(button.height() >= LOW for button in rail.buttons)


def test_a_longer_title_makes_the_whole_rail_wider_and_stays_whole(
    theme: Theme, qtbot: QtBot
) -> None:
    holder = QWidget()
    qtbot.addWidget(holder)
    titles = ("Bench", "A title of thirty letters")
    made = Rail([QAction(title, holder) for title in titles], holder)
    short, long = made.buttons
    bold = QFontMetrics(sized(STEP, bold=True))
    assert made.width() == short.width() == long.width() > WIDTH
    assert long.width() >= bold.horizontalAdvance(long.text())
    assert long.minimumSizeHint().width() == long.width()
    assert short.minimumSizeHint().width() == WIDTH
