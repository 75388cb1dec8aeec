"""The voice, a program of its own: `python -m partsbench.ui.voice` says each line that it is sent.

To start the system's speech takes seconds (6.7 and 7.3 s were measured), and one that is ill may
hang: neither shall hold the window up. A new line silences the one before.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from threading import Thread
from typing import Protocol

from PySide6.QtCore import QCoreApplication, QLocale, QObject, Signal

NO_SPEECH = "Speech needs an extra: pip install 'partsbench[tones]', then start again."
NO_ENGINE = "This system has no voice; on Linux, speech-dispatcher and espeak-ng give it one."
SILENT = "mock"
"""An engine of Qt's for its own tests; nothing is heard of it."""


class Voice(Protocol):
    """What takes a text."""

    def say(self, text: str) -> None: ...
    def stop(self) -> None: ...


class PipedLines(QObject):
    """PipedLines from a pipe, read beside the program's own loop."""

    came = Signal(str)
    ended = Signal()

    def read(self, pipe: Iterable[str]) -> None:
        for line in pipe:
            self.came.emit(line.strip())
        self.ended.emit()


def listen(voice: Voice, pipe: Iterable[str], app: QCoreApplication) -> None:
    """Say the lines of `pipe` until it ends, which ends the program."""
    lines = PipedLines()

    def on_came(text: str) -> None:
        voice.stop()
        if text:
            voice.say(text)

    lines.came.connect(on_came)
    lines.ended.connect(app.quit)
    Thread(target=lines.read, args=(pipe,), daemon=True).start()
    app.exec()


def of_the_system(app: QCoreApplication) -> Voice | str:
    """The system's own voice, in English where it knows that; else why there is none."""
    try:
        from PySide6.QtTextToSpeech import QTextToSpeech
    except ImportError:
        return NO_SPEECH
    if not set(QTextToSpeech.availableEngines()) - {SILENT}:
        return NO_ENGINE
    made = QTextToSpeech(app)
    if made.state() is QTextToSpeech.State.Error:
        return f"{NO_ENGINE} It says: {made.errorString()}"
    english = [at for at in made.availableLocales() if at.language() is QLocale.Language.English]
    if english and made.locale().language() is not QLocale.Language.English:
        made.setLocale(english[0])
    return made


def main() -> int:
    app = QCoreApplication.instance() or QCoreApplication(["partsbench-voice"])
    voice = of_the_system(app)
    if isinstance(voice, str):
        sys.stdout.write(f"{voice}\n")
        return 1
    listen(voice, sys.stdin, app)
    return 0


if __name__ == "__main__":
    sys.exit(main())
