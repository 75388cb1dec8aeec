"""A film file in place of the camera, for the demo and wherever there is none."""

from __future__ import annotations

import time
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtGui import QMovie

from partsbench.ui.camera.frames import Frames


class FilmOfFile(Frames):
    """Plays an animated picture over and over, from its beginning at each start."""

    def __init__(self, file: Path, parent: QObject) -> None:
        super().__init__(parent)
        self._file = file
        self._movie = QMovie(str(file), parent=self)
        self._movie.frameChanged.connect(self.on_frame)

    def start(self) -> None:
        if not self._movie.isValid():
            self.failed.emit(f"{self._file} is no film that can be shown.")
            return
        self._movie.start()

    def stop(self) -> None:
        self._movie.stop()

    def on_frame(self) -> None:
        self.came.emit(self._movie.currentImage(), time.monotonic())
