"""Looks into pictures and PDF files off the window's thread, one after the other."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QObject, QRunnable, QThreadPool, Signal
from PySide6.QtGui import QImage, QImageWriter

from partsbench.reading.views import Views
from partsbench.services.heard.reading import Glance, Seen, glance_at, glance_at_picture, views_of


@dataclass(frozen=True, slots=True)
class FileLook:
    """What was seen in one file or picture, with pictures of it.

    `given` when its code has gone to the page in front without a question.
    """

    glance: Glance
    seen: Seen
    views: Views = field(default_factory=Views)
    given: bool = False


class _Job(QRunnable):
    """One piece of work; whatever goes wrong is sent back, for a worker cannot raise."""

    def __init__(self, work: Callable[[], Glance | FileLook], looker: Looker) -> None:
        super().__init__()
        self._work = work
        self._looker = looker

    def run(self) -> None:
        try:
            found: Glance | FileLook | Exception = self._work()
        except Exception as error:
            found = error
        self._looker.finished.emit(found)


class Looker(QObject):
    """Starts workers and gives back what they found, in the window's thread."""

    finished = Signal(object)
    looked = Signal(Glance)
    pictured = Signal(FileLook)
    """The same with its pictures."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        # One at a time: the PDF reader is not made for two threads.
        self._pool.setMaxThreadCount(1)
        self._waiting = 0
        self.finished.connect(self.on_job_finished)

    @property
    def busy(self) -> bool:
        return self._waiting > 0

    def look_at_files(self, paths: Sequence[Path], book: Collection[str] = ()) -> None:
        """Look into each; what no decoder reads is compared with the codes of `book`."""
        for path in paths:
            self._start(partial(glance_at, path, book))

    def look_at_picture(self, image: QImage, name: str, book: Collection[str] = ()) -> None:
        self._start(partial(_glance_at_image, image, name, book))

    def picture(self, glance: Glance, seen: Seen, given: bool) -> None:
        """Make pictures of what was looked at."""
        self._start(partial(_look, glance, seen, given))

    def on_job_finished(self, found: object) -> None:
        self._waiting -= 1
        if isinstance(found, Exception):
            raise found
        (self.pictured if isinstance(found, FileLook) else self.looked).emit(found)

    def wait(self) -> None:
        """Until every worker is done; before the window goes."""
        self._pool.waitForDone()

    def _start(self, work: Callable[[], Glance | FileLook]) -> None:
        self._waiting += 1
        self._pool.start(_Job(work, self))


def _glance_at_image(image: QImage, name: str, book: Collection[str]) -> Glance:
    """A large picture takes a while to write: that too is done here, with little packing."""
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QImageWriter(buffer, QByteArray(b"png"))
    writer.setCompression(1)
    writer.write(image)
    return glance_at_picture(bytes(data.data()), name, book)


def _look(glance: Glance, seen: Seen, given: bool) -> FileLook:
    return FileLook(glance, seen, views_of(glance), given)
