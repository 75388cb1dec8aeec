"""The voice as a program of its own; what takes a text stands in for the system's engine."""

from __future__ import annotations

import subprocess
import sys

from PySide6.QtCore import QEventLoop
from PySide6.QtWidgets import QApplication

from partsbench.ui import voice


class Heard:
    """A thing that takes text."""

    def __init__(self) -> None:
        self.told: list[str] = []

    def say(self, text: str) -> None:
        self.told.append(text)

    def stop(self) -> None:
        self.told.append("")


class Loop:
    """The voice's own loop, beside that of the tests."""

    def __init__(self) -> None:
        self._loop = QEventLoop()
        self.exec, self.quit = self._loop.exec, self._loop.quit


def test_each_line_is_said_in_place_of_the_one_before_until_no_more_come(
    qapp: QApplication,
) -> None:
    heard = Heard()
    voice.listen(heard, ["D3. Go. Sand 150.\n", "\n", "D4. Wait. Until 17:40.\n"], Loop())  # type: ignore[arg-type]
    assert heard.told == ["", "D3. Go. Sand 150.", "", "", "D4. Wait. Until 17:40."]


def test_the_program_ends_with_its_pipe_or_says_in_one_line_why_it_cannot_speak() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "partsbench.ui.voice"], input="", capture_output=True, text=True,
        timeout=120, check=False,
    )  # fmt: skip
    if done.returncode == 0:
        assert done.stdout == "", "there is a voice here"
    else:
        assert done.returncode == 1
        (line,) = done.stdout.splitlines()
        assert line.startswith((voice.NO_SPEECH, voice.NO_ENGINE))
