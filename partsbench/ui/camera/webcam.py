"""The camera of the computer. Importing this fails where QtMultimedia is missing."""

from __future__ import annotations

import time

from PySide6.QtCore import QObject
from PySide6.QtMultimedia import (
    QCamera,
    QCameraFormat,
    QMediaCaptureSession,
    QMediaDevices,
    QVideoFrame,
    QVideoSink,
)

from partsbench.core.wording import within
from partsbench.ui.camera.frames import Frames

NO_CAMERA = "No camera was found: plug one in, then switch it on again."
LEAST_PAUSE_S = 0.05
"""Twenty pictures a second are enough; a camera may send sixty."""
WIDEST = 1280
"""Pixels across: finer pictures take longer and read no more at arm's length."""


class SinkFrames(Frames):
    """Whatever plays into its `sink`."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.sink = QVideoSink(self)
        self.sink.videoFrameChanged.connect(self.on_video_frame)
        self._last = 0.0
        self._on = False

    def start(self) -> None:
        self._on = True

    def stop(self) -> None:
        self._on = False

    def on_video_frame(self, frame: QVideoFrame) -> None:
        now = time.monotonic()
        if not self._on or not frame.isValid() or now - self._last < LEAST_PAUSE_S:
            return
        self._last = now
        image = frame.toImage()
        if not image.isNull():
            self.came.emit(image, now)


class Webcam(SinkFrames):
    """The camera that the system names first."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._session = QMediaCaptureSession(self)
        self._session.setVideoSink(self.sink)
        self._camera: QCamera | None = None

    def start(self) -> None:
        device = QMediaDevices.defaultVideoInput()
        if device.isNull():
            self.failed.emit(NO_CAMERA)
            return
        super().start()
        camera = QCamera(device, self)
        camera.errorOccurred.connect(self.on_error)
        finest = best_format(device.videoFormats())
        if finest is not None:
            camera.setCameraFormat(finest)
        self._session.setCamera(camera)
        self._camera = camera
        camera.start()

    def stop(self) -> None:
        super().stop()
        if self._camera is not None:
            camera, self._camera = self._camera, None
            camera.stop()
            camera.deleteLater()

    def on_error(self, _error: QCamera.Error, told: str) -> None:
        if self._on:
            self.failed.emit(f"The camera gives no pictures: {within(told)}.")


def best_format(formats: list[QCameraFormat]) -> QCameraFormat | None:
    """The widest that is not wider than WIDEST, then the quickest; None leaves it to the camera."""
    fit = [form for form in formats if form.resolution().width() <= WIDEST]
    if not fit:
        return None
    return max(fit, key=lambda form: (form.resolution().width(), form.maxFrameRate()))
