from __future__ import annotations

from array import array
from itertools import combinations, pairwise

import pytest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.ui.tones import RATE, TONES, Note, Tones, samples, tone_of


def test_every_tone_has_a_pattern_unlike_every_other() -> None:
    assert set(TONES) == set(Tone)
    for a, b in combinations(Tone, 2):
        assert TONES[a] != TONES[b], (a, b)


def test_no_tone_keeps_a_hand_waiting() -> None:
    for tone, notes in TONES.items():
        assert sum(note.ms for note in notes) <= 1000, tone


def test_answers_name_their_tone() -> None:
    assert tone_of(Outcome(Answer.STOP, Tone.MISREAD, "x")) is Tone.MISREAD
    assert tone_of(Done("x")) is Tone.RECORDED
    assert tone_of(Refused("x")) is Tone.REFUSED


def test_a_note_has_its_length_and_its_pitch_and_begins_and_ends_in_silence() -> None:
    wave = array("h", samples((Note(440, 500),)))
    assert len(wave) == RATE // 2
    rises = sum(1 for a, b in pairwise(wave) if a < 0 <= b)
    assert rises == pytest.approx(220, abs=2)
    assert abs(wave[0]) < 200
    assert abs(wave[-1]) < 1500
    assert max(wave) < 32767


def test_without_multimedia_each_tone_beeps_its_rhythm(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    tones = Tones(over)
    tones._looked = True
    beeps: list[int] = []
    with monkeypatch.context() as patch:
        patch.setattr(QApplication, "beep", staticmethod(lambda: beeps.append(1)))
        tones.sound(Tone.UNKNOWN)
        qtbot.waitUntil(lambda: len(beeps) == 3, timeout=3000)
        tones.on = False
        tones.sound(Tone.UNKNOWN)
        assert len(beeps) == 3
