"""A tone for each kind of answer, so that nobody need look at the screen.

With QtMultimedia (the extra `tones`) each is heard by pitch and rhythm; without it the system's
beep gives the rhythm. The screen says the same in words either way.
"""

from __future__ import annotations

import math
from array import array
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QObject, QTimer
from PySide6.QtWidgets import QApplication

from partsbench.core.outcomes import Done, Outcome, Refused, Tone

RATE = 22_050
LOUDNESS = 0.35
RAMP = 0.008


@dataclass(frozen=True, slots=True)
class Note:
    """A pitch in Hz (0 is silence) for so many ms."""

    hz: float
    ms: int


REST = Note(0, 70)
TONES: dict[Tone, tuple[Note, ...]] = {
    Tone.RECORDED: (Note(660, 90), Note(880, 140)),
    Tone.ASK: (Note(660, 120),),
    Tone.QUIET: (Note(440, 70),),
    Tone.REFUSED: (Note(220, 250), REST, Note(220, 250)),
    Tone.FOREIGN: (Note(330, 160), REST, Note(262, 160), REST, Note(208, 260)),
    Tone.UNKNOWN: (Note(294, 120), REST, Note(294, 120), REST, Note(294, 120)),
    Tone.MISREAD: (Note(180, 420),),
    Tone.REPLACED: (Note(523, 130), REST, Note(262, 320)),
    Tone.VERB_OFF: (Note(880, 90), Note(660, 140)),
    Tone.VERB_ON: (Note(880, 60), REST, Note(880, 60)),
    Tone.WAIT: (Note(392, 120), REST, Note(392, 240)),
    Tone.LATE: (Note(392, 160), Note(262, 160), Note(392, 160), Note(262, 240)),
    Tone.HOLD: (Note(220, 160), REST, Note(220, 160), REST, Note(220, 320)),
    Tone.CONFIRM: (Note(523, 120), REST, Note(523, 120), REST, Note(659, 240)),
    Tone.CLOSING: (Note(523, 110), Note(659, 110), Note(784, 110), REST, Note(784, 260)),
}
"""No two alike in rhythm and pitch together; bad news is low and longer."""


def tone_of(answer: Outcome | Done | Refused) -> Tone:
    """What is heard with an answer."""
    if isinstance(answer, Outcome):
        return answer.tone
    return Tone.RECORDED if isinstance(answer, Done) else Tone.REFUSED


def samples(notes: tuple[Note, ...]) -> bytes:
    """The notes as 16-bit mono samples, each faded in and out so that it does not click."""
    wave = array("h")
    for note in notes:
        count = RATE * note.ms // 1000
        for i in range(count):
            at = i / RATE
            edge = min(1.0, at / RAMP, (count - i) / RATE / RAMP)
            value = math.sin(2 * math.pi * note.hz * at) if note.hz else 0.0
            wave.append(int(32767 * LOUDNESS * edge * value))
    return wave.tobytes()


class Tones(QObject):
    """Sounds one tone at a time; `on` switches it all off."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.on = True
        self._sink: Any = None
        self._looked = False
        self._buffer = QBuffer(self)
        self._beeps = 0
        self._timer = QTimer(self)
        self._timer.setInterval(180)
        self._timer.timeout.connect(self.on_next_beep)

    def sound(self, tone: Tone) -> None:
        """Sound `tone`, in place of one that still sounds."""
        if not self.on:
            return
        if self._has_sink():
            self._play(samples(TONES[tone]))
            return
        self._beeps = sum(1 for note in TONES[tone] if note.hz)
        self._timer.start()
        self.on_next_beep()

    def on_next_beep(self) -> None:
        if self._beeps == 0:
            self._timer.stop()
            return
        self._beeps -= 1
        QApplication.beep()

    def _has_sink(self) -> bool:
        """Whether real tones can be made; looked up once, when the first one is wanted."""
        if not self._looked:
            self._looked = True
            self._sink = _made_sink(self)
        return self._sink is not None

    def _play(self, wave: bytes) -> None:
        self._sink.stop()
        self._buffer.close()
        self._buffer.setData(QByteArray(wave))
        self._buffer.open(QIODevice.OpenModeFlag.ReadOnly)
        self._sink.start(self._buffer)


def _made_sink(parent: QObject) -> Any:
    """An audio sink of Qt's; None where its module, its libraries or a loudspeaker are missing."""
    try:
        from PySide6.QtMultimedia import QAudioFormat, QAudioSink, QMediaDevices
    except ImportError:
        return None
    form = QAudioFormat()
    form.setSampleRate(RATE)
    form.setChannelCount(1)
    form.setSampleFormat(QAudioFormat.SampleFormat.Int16)
    device = QMediaDevices.defaultAudioOutput()
    return None if device.isNull() else QAudioSink(device, form, parent)
