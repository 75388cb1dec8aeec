from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.piece.codes import Code, Family
from partsbench.reading.bursts import Scan
from partsbench.ui.scan_filter import ScanFilter
from tests.support.keyboard import SCANNER_MS, Keyboard

CODE = str(Code("K7Q4", Family.DRAWER, 5))


class Bench(QWidget):
    """A field and a button, and what the filter heard."""

    def __init__(self) -> None:
        super().__init__()
        self.field = QLineEdit()
        self.button = QPushButton("Yes")
        self.presses = 0
        self.heard: list[Scan] = []
        layout = QVBoxLayout(self)
        layout.addWidget(self.field)
        layout.addWidget(self.button)
        self.button.clicked.connect(self.on_clicked)
        self.filter = ScanFilter(self)
        self.filter.scanned.connect(self.on_scanned)

    def on_clicked(self) -> None:
        self.presses += 1

    def on_scanned(self, scan: Scan) -> None:
        self.heard.append(scan)


@pytest.fixture
def bench(qtbot: QtBot) -> Iterator[Bench]:
    made = Bench()
    qtbot.addWidget(made)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    handle = made.windowHandle()
    assert handle is not None
    made.filter.watch(handle)
    made.field.setFocus()
    qtbot.waitUntil(made.field.hasFocus)
    yield made
    made.close()


@pytest.fixture
def keyboard(bench: Bench) -> Keyboard:
    return Keyboard(bench)


def test_a_scan_is_heard_and_leaves_no_character_in_the_field(
    bench: Bench, keyboard: Keyboard
) -> None:
    keyboard.scan(CODE)
    assert [str(s.code) for s in bench.heard] == [CODE]
    assert bench.field.text() == ""


def test_a_scan_with_its_shift_keys_presses_no_button(bench: Bench, keyboard: Keyboard) -> None:
    bench.button.setFocus()
    keyboard.scan(CODE)
    assert [str(s.code) for s in bench.heard] == [CODE]
    assert bench.presses == 0


def test_typed_capitals_arrive_as_capitals(bench: Bench, keyboard: Keyboard, qtbot: QtBot) -> None:
    keyboard.type("Heron D5")
    qtbot.waitUntil(lambda: bench.field.text() == "Heron D5")
    assert bench.heard == []


def test_typing_arrives_whole_and_is_no_scan(
    bench: Bench, keyboard: Keyboard, qtbot: QtBot
) -> None:
    keyboard.type("rack 2 left")
    qtbot.waitUntil(lambda: bench.field.text() == "rack 2 left")
    assert bench.heard == []


def test_a_scan_in_the_middle_of_typing_leaves_the_typing_as_it_was(
    bench: Bench, keyboard: Keyboard, qtbot: QtBot
) -> None:
    keyboard.type("rack ")
    keyboard.scan(CODE)
    keyboard.type("2")
    qtbot.waitUntil(lambda: bench.field.text() == "rack 2")
    assert [str(s.code) for s in bench.heard] == [CODE]


def test_a_scanners_late_enter_presses_no_button(bench: Bench, keyboard: Keyboard) -> None:
    bench.button.setFocus()
    keyboard.scan(CODE, suffix="")
    bench.filter.on_time_was_up()
    keyboard.pause(60)
    keyboard.key(Qt.Key.Key_Return, "\r")
    assert len(bench.heard) == 1
    assert bench.presses == 0


def test_a_busy_window_does_not_take_the_start_of_a_code_for_typing(
    bench: Bench, keyboard: Keyboard
) -> None:
    """The wait after the first key ends while the other keys, struck in time, are still queued."""
    keyboard.scan(CODE[:1], suffix="")
    bench.filter.on_key_was_due()
    keyboard.keys(CODE[1:] + "\r", SCANNER_MS)
    QCoreApplication.processEvents()
    assert [str(s.code) for s in bench.heard] == [CODE]
    assert bench.field.text() == ""


def test_a_key_alone_is_typing_when_nothing_waits_behind_it(
    bench: Bench, keyboard: Keyboard, qtbot: QtBot
) -> None:
    keyboard.scan("r", suffix="")
    bench.filter.on_key_was_due()
    assert bench.field.text() == ""
    qtbot.waitUntil(lambda: bench.field.text() == "r")


def test_space_on_a_button_presses_it_once(bench: Bench, keyboard: Keyboard, qtbot: QtBot) -> None:
    bench.button.setFocus()
    keyboard.pause(400)
    keyboard.key(Qt.Key.Key_Space, " ")
    qtbot.waitUntil(lambda: bench.presses == 1)
    assert not bench.button.isDown()


def test_commands_and_arrows_pass_at_once_and_settle_what_is_held(
    bench: Bench, keyboard: Keyboard
) -> None:
    keyboard.type("ab")
    keyboard.key(Qt.Key.Key_Left)
    assert bench.field.text() == "ab"
    assert bench.field.cursorPosition() == 1
    keyboard.key(Qt.Key.Key_A, "\x01", Qt.KeyboardModifier.ControlModifier)
    assert bench.field.selectedText() == "ab"


def test_a_wrong_check_character_is_still_a_scan(bench: Bench, keyboard: Keyboard) -> None:
    wrong = CODE[:-1] + ("A" if CODE[-1] != "A" else "B")
    keyboard.scan(wrong)
    assert [s.text for s in bench.heard] == [wrong]
    assert not isinstance(bench.heard[0].code, Code)
    assert bench.field.text() == ""
