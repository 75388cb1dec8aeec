"""A film in place of the camera: each picture waits until the last one was looked at."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from partsbench.ui.camera.camera import Camera
from partsbench.ui.camera.frames import Frames
from tests.support.clock import SetClock
from tests.support.film import Film, read_avi, write_avi


class FilmFrames(Frames):
    """Shows films from files when it is told to, if it was started."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.on = False
        self.at = 0.0

    def start(self) -> None:
        self.on = True

    def stop(self) -> None:
        self.on = False

    def play(self, film: Film, folder: Path, camera: Camera, qtbot: QtBot, clock: SetClock) -> None:
        """The film through a file; the clock of the shop goes with it."""
        file = folder / "film.avi"
        write_avi(film, file)
        begun, shown = self.at, clock.now
        for data, at in read_avi(file):
            self.at = begun + at
            clock.now = shown
            clock.pass_time(seconds=at)
            self.came.emit(QImage.fromData(data, "jpg"), self.at)
            qtbot.waitUntil(lambda: not camera.busy, timeout=30_000)
        self.at += 1 / 15
