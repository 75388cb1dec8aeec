"""The switch of the camera: in the menu, by key and by code of the wall."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from partsbench.services.shop import Shop

if TYPE_CHECKING:
    from partsbench.ui.camera.camera import Camera
    from partsbench.ui.camera.frames import Frames
    from partsbench.ui.intake import Intake


class CameraSwitch(QObject):
    """Loads the camera when it is first switched on; it is off again at the next start."""

    code_read = Signal(str)
    seen_again = Signal(str)
    answered = Signal(object)
    turned = Signal(bool)

    def __init__(self, shop: Shop, window: QWidget, intake: Callable[[], Intake]) -> None:
        super().__init__(window)
        self._shop, self._intake = shop, intake
        self.over = window
        """What the live picture stands on."""
        self.camera: Camera | None = None
        self.frames: Callable[[QObject], Frames] | None = None
        """Where pictures come from, in place of the camera of the computer."""

    def on_camera_toggled(self, on: bool) -> None:
        if on:
            self._made().start()
        elif self.camera is not None:
            self.camera.stop()
        if self.camera is not None and self.camera.on == on:
            self.turned.emit(on)
            words = "The camera is on: a label held before it is a scan."
            self.answered.emit(words if on else "The camera is off.")

    def on_went_off(self) -> None:
        self.turned.emit(False)

    def stop(self) -> None:
        """The window is closed."""
        if self.camera is not None:
            self.camera.stop()
            self.camera.wait()

    def _made(self) -> Camera:
        if self.camera is None:
            from partsbench.ui.camera.camera import Camera

            frames = (self.frames or of_the_webcam)(self)
            self.camera = Camera(self._shop, frames, self._intake(), self.over)
            self.camera.counted.connect(self.code_read)
            self.camera.seen_again.connect(self.seen_again)
            self.camera.told.connect(self.answered)
            self.camera.went_off.connect(self.on_went_off)
        return self.camera


def of_the_webcam(parent: QObject) -> Frames:
    """The camera of the computer, by QtMultimedia, which is not always there."""
    from partsbench.ui.camera.frames import NO_MULTIMEDIA, NoFrames

    try:
        from partsbench.ui.camera.webcam import Webcam
    except ImportError:
        return NoFrames(NO_MULTIMEDIA, parent)
    return Webcam(parent)
