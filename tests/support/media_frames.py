"""A film file played by QtMultimedia into the sink that the camera of the computer fills."""

from __future__ import annotations

import importlib
import os
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QObject, QUrl

from partsbench.ui.camera.frames import Frames


def multimedia() -> Any:
    """QtMultimedia; where it is not installed the test is skipped, but not in the build, which
    installs it."""
    if os.environ.get("PARTSBENCH_ALL_TESTS"):
        return importlib.import_module("PySide6.QtMultimedia")
    return pytest.importorskip("PySide6.QtMultimedia", exc_type=ImportError)


def media_frames(parent: QObject, file: Path) -> Frames:
    """What plays once, in its own time, when it is started."""
    player_of = multimedia().QMediaPlayer
    from partsbench.ui.camera.webcam import SinkFrames

    class MediaFrames(SinkFrames):
        def __init__(self) -> None:
            super().__init__(parent)
            self.player = player_of(self)
            self.player.setVideoSink(self.sink)
            self.player.setSource(QUrl.fromLocalFile(str(file)))
            self.ended = False
            self.player.mediaStatusChanged.connect(self.on_status)

        def start(self) -> None:
            super().start()
            self.player.play()

        def stop(self) -> None:
            super().stop()
            self.player.stop()

        def on_status(self, status: Any) -> None:
            self.ended = self.ended or status == player_of.MediaStatus.EndOfMedia

    return MediaFrames()
