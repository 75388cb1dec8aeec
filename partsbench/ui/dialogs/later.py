"""Work that takes a while, off the window's thread: one at a time, the newest wish wins."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

LongWork = Callable[[], object]
"""A plain function of values. It never touches the book, which belongs to the window's thread."""


class _Voice(QObject):
    said = Signal(object, object)
    """What came of the work, and the exception that ended it, if any."""


class _Job(QRunnable):
    def __init__(self, work: LongWork, voice: _Voice) -> None:
        super().__init__()
        self._work = work
        self._voice = voice

    def run(self) -> None:
        try:
            self._voice.said.emit(self._work(), None)
        except Exception as error:
            self._voice.said.emit(None, error)


class Later(QObject):
    """Runs one function after another. While one runs, only the newest of the next ones is kept."""

    began = Signal()
    ended = Signal(object)
    """What the newest work gave; what older work gave is dropped."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._voice = _Voice(self)
        self._voice.said.connect(self.on_said)
        self._waiting: LongWork | None = None
        self._unwanted = False
        self.busy = False

    def start(self, work: LongWork) -> None:
        """Run `work` now, or after what runs now."""
        self._unwanted = False
        if self.busy:
            self._waiting = work
            return
        self.busy = True
        self.began.emit()
        self._pool.start(_Job(work, self._voice))

    def forget(self) -> None:
        """What runs or waits is no longer wanted: its result is dropped."""
        self._waiting = None
        self._unwanted = self.busy

    def wait(self) -> None:
        """Drop what waits, and let what runs come to its end: before a window goes away."""
        self._waiting = None
        self._pool.waitForDone()

    def on_said(self, value: object, error: object) -> None:
        self.busy = False
        if self._waiting is not None:
            work, self._waiting = self._waiting, None
            self.start(work)
            return
        if self._unwanted:
            self._unwanted = False
            return
        if isinstance(error, Exception):
            raise error
        self.ended.emit(value)
