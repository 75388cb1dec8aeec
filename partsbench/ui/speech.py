"""Each answer said aloud: number, word and sentence. Off until somebody switches it on.

It is said by a program of its own (`voice.py`), sent a line behind the answer that is shown: no
scan waits for it, and whatever becomes of a voice becomes of nothing else.
"""

from __future__ import annotations

import sys

from PySide6.QtCore import QObject, QProcess, Signal

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.wording import within
from partsbench.ui.answer_bar import manner_of

VOICE = (sys.executable, "-m", "partsbench.ui.voice")
ENDS_MS = 300
WENT_OFF = "The voice has stopped; the answers are shown as before."


def spoken(answer: Outcome | Done | Refused) -> str:
    """`D3. Go. Sand 150.`, in one line."""
    part, sentence = "", answer.sentence
    if isinstance(answer, Outcome):
        part, sentence = answer.part, answer.beside or answer.sentence
    said = (part, manner_of(answer).word.capitalize(), within(sentence))
    return ". ".join(" ".join(each.split()) for each in said if each) + "."


class Speech(QObject):
    """`on` while there is a voice."""

    told = Signal(object)
    """A `Refused`: there is no voice, or none any more."""

    def __init__(self, parent: QObject, voice: tuple[str, ...] = VOICE) -> None:
        super().__init__(parent)
        self.on = False
        self._command = voice
        self._voice: QProcess | None = None

    def turn(self, on: bool) -> None:
        if on == self.on:
            return
        self.on = on
        if on:
            self._begin()
        elif self._voice is not None:
            voice, self._voice = self._voice, None
            voice.kill()  # it keeps nothing, and may hang
            voice.waitForFinished(ENDS_MS)

    def speak(self, answer: Outcome | Done | Refused) -> None:
        """Say it, in place of what is still being said."""
        if self._voice is not None:
            self._voice.write(f"{spoken(answer)}\n".encode())

    def stop(self) -> None:
        """The window is closed: nothing more is said, and nothing is left behind."""
        self.turn(False)

    def _begin(self) -> None:
        made = self._voice = QProcess(self)
        made.finished.connect(self.on_finished)
        made.errorOccurred.connect(self.on_finished)
        made.start(self._command[0], list(self._command[1:]))

    def on_finished(self) -> None:
        """A voice that was sent away ends too; only one that was wanted is told."""
        gone = self.sender()
        if not isinstance(gone, QProcess):
            return
        gone.deleteLater()
        if gone is self._voice:
            self._voice, self.on = None, False
            why = bytes(gone.readAllStandardOutput().data()).decode(errors="replace").strip()
            self.told.emit(Refused(why or WENT_OFF))
