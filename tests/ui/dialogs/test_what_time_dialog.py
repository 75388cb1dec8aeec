"""What time it was, said in the window."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from partsbench.services.acts import bench
from partsbench.services.known.clock_doubt import time_questions
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.what_time_dialog import NOTHING, WhatTimeDialog
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import heron

DEAD = datetime(2000, 1, 1, 0, 5, tzinfo=UTC)


def in_doubt(shop: Shop, clock: SetClock) -> str:
    """Heron, of whose D1 two steps were recorded while the clock stood at 2000."""
    tag = heron(shop).tag
    right = clock.now
    clock.now = DEAD
    for _ in range(2):
        record(shop, "D1", here=tag)
        clock.pass_time(minutes=15)
    clock.now = right + timedelta(hours=2)
    return tag


def test_the_time_is_said_and_the_wait_counts_from_it(
    shop: Shop, clock: SetClock, qtbot: QtBot
) -> None:
    tag = in_doubt(shop, clock)
    dialog = WhatTimeDialog(shop, tag)
    qtbot.addWidget(dialog)
    assert len(dialog.questions.lines()) == 1
    assert "These 2 records are in doubt" in dialog.questions.lines()[0]
    QTest.mouseClick(dialog.said, Qt.MouseButton.LeftButton)
    assert dialog.told.text() == "Write the time first."
    QTest.keyClicks(dialog.time, "1 h ago")
    QTest.keyClick(dialog.time, Qt.Key.Key_Return)
    assert dialog.questions.lines() == [] and not dialog.said.isEnabled()
    assert time_questions(shop) == []
    assert bench.look(shop, "D1", here=tag).until == clock.now + timedelta(hours=11)


def test_what_is_no_time_is_told_and_nothing_changes(
    shop: Shop, clock: SetClock, qtbot: QtBot
) -> None:
    tag = in_doubt(shop, clock)
    dialog = WhatTimeDialog(shop, tag)
    qtbot.addWidget(dialog)
    dialog.time.setText("noon")
    QTest.mouseClick(dialog.said, Qt.MouseButton.LeftButton)
    assert "is no time" in dialog.told.text()
    assert len(time_questions(shop)) == 1
    QTest.mouseClick(dialog.right, Qt.MouseButton.LeftButton)
    assert "before this program was made" in dialog.told.text()
    assert len(time_questions(shop)) == 1


def test_without_doubt_there_is_nothing_to_say(shop: Shop, qtbot: QtBot) -> None:
    dialog = WhatTimeDialog(shop, heron(shop).tag)
    qtbot.addWidget(dialog)
    assert not dialog.said.isEnabled() and not dialog.right.isEnabled()
    assert not dialog.clock.isVisibleTo(dialog)
    assert NOTHING == "No time is in doubt."


def test_a_clock_that_stands_wrong_is_told_at_the_top(
    shop: Shop, clock: SetClock, qtbot: QtBot
) -> None:
    tag = heron(shop).tag
    clock.now = DEAD
    dialog = WhatTimeDialog(shop, tag)
    qtbot.addWidget(dialog)
    assert "before this program was made" in dialog.clock.text()
    assert dialog.clock.isVisibleTo(dialog)
