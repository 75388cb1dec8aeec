from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from partsbench.ui.bench.ask import Ask
from partsbench.ui.theme import Theme


@pytest.fixture
def ask(theme: Theme, qtbot: QtBot) -> Ask:
    made = Ask()
    qtbot.addWidget(made)
    return made


def field_of(ask: Ask) -> QLineEdit:
    field = ask.findChild(QLineEdit, "ask-field")
    assert field is not None
    return field


def test_a_typed_answer_is_given_with_its_kind(ask: Ask, qtbot: QtBot) -> None:
    ask.ask("place", "Put D5 where?")
    qtbot.keyClicks(field_of(ask), " rack 2 ")
    with qtbot.waitSignal(ask.answered) as answer:
        qtbot.keyClick(field_of(ask), Qt.Key.Key_Return)
    assert answer.args == ["place", "rack 2"]


def test_a_choice_answers_with_one_press(ask: Ask, qtbot: QtBot) -> None:
    ask.ask("note", "Note on D5", ["runs tight", "broken"])
    button = next(b for b in ask.findChildren(QPushButton) if b.text() == "broken")
    with qtbot.waitSignal(ask.answered) as answer:
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert answer.args == ["note", "broken"]


def test_escape_takes_the_question_away(ask: Ask, qtbot: QtBot) -> None:
    ask.ask("note", "Note on D5")
    with qtbot.waitSignal(ask.closed):
        qtbot.keyClick(field_of(ask), Qt.Key.Key_Escape)
    assert ask.kind == ""
    assert ask.isHidden()


def test_a_fault_stays_until_one_types(ask: Ask, qtbot: QtBot) -> None:
    ask.ask("time", "When?")
    ask.show_fault("That is no time.")
    fault = ask.findChild(object, "ask-fault")
    assert fault is not None and not fault.isHidden()
    qtbot.keyClicks(field_of(ask), "1")
    assert fault.isHidden()


def test_the_field_bears_the_question_for_a_screen_reader(ask: Ask) -> None:
    ask.ask("time", "When was it done?", text="14:20")
    assert field_of(ask).accessibleName() == "When was it done?"
    assert ask.text == "14:20"


def test_a_number_key_gives_the_reason_of_that_number(ask: Ask, qtbot: QtBot) -> None:
    ask.ask("insist", "Why?", ["tried, it is ready", "the tin says so"])
    shown = [b.text() for b in ask.findChildren(QPushButton)]
    assert "the tin says so  (2)" in shown
    with qtbot.waitSignal(ask.answered) as answer:
        qtbot.keyClick(field_of(ask), Qt.Key.Key_2, Qt.KeyboardModifier.KeypadModifier)
    assert answer.args == ["insist", "the tin says so"]
    assert field_of(ask).text() == ""


def test_a_number_within_own_words_is_written(ask: Ask, qtbot: QtBot) -> None:
    ask.ask("insist", "Why?", ["tried, it is ready", "the tin says so"])
    qtbot.keyClicks(field_of(ask), "after 12 h")
    assert field_of(ask).text() == "after 12 h"
    qtbot.keyClick(field_of(ask), Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    ask.put_text("")
    qtbot.keyClicks(field_of(ask), "30")
    assert field_of(ask).text() == "30", "there is no third reason"


def test_elsewhere_a_number_is_an_answer(ask: Ask, qtbot: QtBot) -> None:
    ask.ask("place", "Put D5 where?", ["rack 1", "rack 2"])
    assert "rack 1" in [b.text() for b in ask.findChildren(QPushButton)]
    qtbot.keyClicks(field_of(ask), "2")
    assert field_of(ask).text() == "2"
    ask.ask("insist", "Why?")
    qtbot.keyClicks(field_of(ask), "1")
    assert field_of(ask).text() == "1"
