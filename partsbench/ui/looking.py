"""Looks into pictures and PDF files off the window's thread, one after the other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

from partsbench.services.reading import Glance, glance_at, glance_at_picture


class Look(QRunnable):
    """One picture or file; whatever goes wrong is sent back, for a worker cannot raise."""

    def __init__(self, look: Callable[[], Glance], done: QObject) -> None:
        super().__init__()
        self._look = look
        self._done = done

    def run(self) -> None:
        try:
            found: Glance | Exception = self._look()
        except Exception as error:
            found = error
        assert isinstance(self._done, Looker)
        self._done.finished.emit(found)


class Looker(QObject):
    """Starts workers and gives back what they found, in the window's thread."""

    finished = Signal(object)
    looked = Signal(object)
    """A `services.reading.Glance`."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        # One at a time: the PDF reader is not made for two threads.
        self._pool.setMaxThreadCount(1)
        self._waiting = 0
        self.finished.connect(self.on_look_finished)

    @property
    def busy(self) -> bool:
        return self._waiting > 0

    def look_at_files(self, paths: Sequence[Path]) -> None:
        for path in paths:
            self._start(partial(glance_at, path))

    def look_at_picture(self, data: bytes, name: str) -> None:
        self._start(partial(glance_at_picture, data, name))

    def on_look_finished(self, found: object) -> None:
        self._waiting -= 1
        if isinstance(found, Exception):
            raise found
        self.looked.emit(found)

    def wait(self) -> None:
        """Until every worker is done; before the window goes."""
        self._pool.waitForDone()

    def _start(self, look: Callable[[], Glance]) -> None:
        self._waiting += 1
        self._pool.start(Look(look, self))
