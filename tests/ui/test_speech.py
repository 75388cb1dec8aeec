"""Answers said aloud, by a voice in a process of its own that here writes down what it is sent."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui import speech as speaking
from partsbench.ui.main_window import MainWindow
from partsbench.ui.speech import WENT_OFF, Speech, spoken
from tests.support.shops import lay_out

WRITES = """
import sys
with open(sys.argv[1], "a", encoding="utf-8") as heard:
    for line in sys.stdin.buffer:
        heard.write(line.decode("utf-8"))
        heard.flush()
"""


def voice(heard: Path) -> tuple[str, ...]:
    heard.write_text("")
    return (sys.executable, "-c", WRITES, str(heard))


@pytest.fixture
def heard(tmp_path: Path) -> Path:
    return tmp_path / "heard.txt"


@pytest.fixture
def speech(heard: Path, qapp: object) -> Iterator[Speech]:
    parent = QObject()
    made = Speech(parent, voice(heard))
    yield made
    made.stop()


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (
            Outcome(Answer.GO, Tone.ASK, "Heron D3: Sand 150 (front, left edge) now.", part="D3",
                    beside="Sand 150 now."),
            "D3. Go. Sand 150 now.",
        ),
        (
            Outcome(Answer.GO, Tone.RECORDED, "Heron D3 sanded 150.", part="D3", recorded=True),
            "D3. Done. Heron D3 sanded 150.",
        ),
        (Outcome(Answer.OTHER_JOB, Tone.FOREIGN, "This is Quill D5.", part="D5"),
         "D5. Other job. This is Quill D5."),
        (Outcome(Answer.STOP, Tone.MISREAD, "A wrong character."), "Stop. A wrong character."),
        (Done("Copied\nthe book."), "Done. Copied the book."),
        (Refused("No piece is at work"), "Not done. No piece is at work."),
    ],
)  # fmt: skip
def test_number_word_and_sentence_are_said_in_one_line(
    answer: Outcome | Done | Refused, said: str
) -> None:
    assert spoken(answer) == said


def test_nothing_is_said_until_it_is_switched_on(speech: Speech, heard: Path, qtbot: QtBot) -> None:
    speech.speak(Done("One."))
    speech.turn(True)
    speech.speak(Done("Two: ü."))
    qtbot.waitUntil(lambda: heard.read_text("utf-8") == "Done. Two: ü.\n")
    speech.turn(False)
    speech.speak(Done("Three."))
    speech.turn(True)
    speech.speak(Done("Four."))
    qtbot.waitUntil(lambda: heard.read_text("utf-8").endswith("Four.\n"))
    assert "Three" not in heard.read_text("utf-8")
    assert "One" not in heard.read_text("utf-8")


@pytest.mark.parametrize(
    ("does", "told"),
    [
        ("print('This system has no voice.'); raise SystemExit(1)", "This system has no voice."),
        ("raise SystemExit(0)", WENT_OFF),
    ],
)
def test_a_voice_that_is_not_there_is_told_once_and_speech_is_off(
    qapp: object, qtbot: QtBot, does: str, told: str
) -> None:
    parent = QObject()
    speech = Speech(parent, (sys.executable, "-c", does))
    with qtbot.waitSignal(speech.told, timeout=20_000) as caught:
        speech.turn(True)
    assert caught.args == [Refused(told)]
    assert not speech.on
    speech.speak(Done("x"))


def test_a_program_that_cannot_be_started_is_told_too(qapp: object, qtbot: QtBot) -> None:
    parent = QObject()
    speech = Speech(parent, ("/nowhere/at/all",))
    with qtbot.waitSignal(speech.told, timeout=20_000):
        speech.turn(True)
    assert not speech.on


def test_the_window_says_what_it_shows_and_remembers_that_it_speaks(
    window: MainWindow, shop: Shop, heard: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    piece = lay_out(shop, "Heron", "2 2")
    assert isinstance(piece, Piece)
    window.show_page("teardown", piece.tag)
    window.speech()._command = voice(heard)
    assert not window.actions_by_key["speech"].isChecked()
    window.actions_by_key["speech"].trigger()
    window.take_code("D2")
    qtbot.waitUntil(lambda: heard.read_text("utf-8").startswith("D2. Done. "))
    assert window.settings.flag("view/speech")


def test_the_window_unticks_a_speech_that_is_not_to_be_had(
    window: MainWindow, qtbot: QtBot
) -> None:
    window.page()
    window.speech()._command = ("/nowhere/at/all",)
    with qtbot.waitSignal(window.speech().told, timeout=20_000):
        window.actions_by_key["speech"].trigger()
    assert not window.actions_by_key["speech"].isChecked()
    assert not window.settings.flag("view/speech")
    assert WENT_OFF in window.answer_bar.showing()
    assert speaking.VOICE[1:] == ("-m", "partsbench.ui.voice")
