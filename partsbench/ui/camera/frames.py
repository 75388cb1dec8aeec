"""Where pictures come from, one after the other: a camera, or a film of labels."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

NO_MULTIMEDIA = "The camera needs an extra: pip install 'partsbench[tones]', then start again."


class Frames(QObject):
    """Pictures with their times. Nothing comes before `start` or after `stop`."""

    came = Signal(QImage, float)
    """A picture and its time in s, which only grows."""
    failed = Signal(str)
    """Why no more pictures come, in one sentence."""

    def start(self) -> None:
        """Let pictures come, or say why not; may be asked again after `stop`."""
        raise NotImplementedError

    def stop(self) -> None:
        """No more pictures; the camera is free for other programs."""
        raise NotImplementedError


class NoFrames(Frames):
    """Stands where no camera can be had: says why."""

    def __init__(self, why: str, parent: QObject) -> None:
        super().__init__(parent)
        self._why = why

    def start(self) -> None:
        self.failed.emit(self._why)

    def stop(self) -> None:
        """There was nothing."""
