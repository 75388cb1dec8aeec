"""The camera at work: pictures to workers, what counts to the bench, a guess to a person."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Code, parse_code
from partsbench.reading.found import Corners
from partsbench.reading.held import Counts
from partsbench.services.heard.camera import Frame, FrameSight, Watched, look, look_hard
from partsbench.services.heard.reading import Glance, codes_in_use, sort_out
from partsbench.services.shop import Shop
from partsbench.ui.camera.corner import LiveCorner
from partsbench.ui.camera.frames import Frames
from partsbench.ui.dialogs.seen_picture import Outline
from partsbench.ui.intake import Intake

LOOKING = "Camera on: hold a label before it."
LOOKING_HARD = "Looking closely…"


class _Look(QRunnable):
    """One look at a picture; whatever goes wrong is sent back, for a worker cannot raise."""

    def __init__(self, work: Callable[[], object], done: _Done) -> None:
        super().__init__()
        self._work, self._done = work, done

    def run(self) -> None:
        try:
            found = self._work()
        except Exception as error:
            found = error
        self._done.found.emit(found)


class _Done(QObject):
    """Brings what a worker found into the window's thread."""

    found = Signal(object)


class Camera(QObject):
    """Looks at the newest picture as soon as the last look is done; pictures between are only
    shown. The last resort has a worker of its own, so that no plain look waits for it."""

    counted = Signal(str)
    """A code that counts like a scan."""
    seen_again = Signal(str)
    """A code that may never have been away: nothing may be recorded by it."""
    told = Signal(object)
    """A Refused: why there are no pictures."""
    went_off = Signal()

    def __init__(self, shop: Shop, frames: Frames, intake: Intake, over: QWidget) -> None:
        super().__init__(over)
        self._shop, self._frames, self._intake = shop, frames, intake
        self.corner = LiveCorner(over)
        self.corner.hide()
        self.on = False
        self.watched = Watched()
        self._next: tuple[QImage, float] | None = None
        self._looking = self._looking_hard = False
        self._outlines: list[Outline] = []
        self._plain, self._hard = QThreadPool(self), QThreadPool(self)
        for pool in (self._plain, self._hard):
            pool.setMaxThreadCount(1)
        self._plainly, self._closely = _Done(self), _Done(self)
        self._plainly.found.connect(self.on_looked)
        self._closely.found.connect(self.on_looked_hard)
        frames.came.connect(self.on_frame)
        frames.failed.connect(self.on_failed)
        intake.code_read.connect(self.on_code_taken)

    @property
    def busy(self) -> bool:
        """A picture is being looked at, or waits for it."""
        return self._looking or self._looking_hard or self._next is not None

    def start(self) -> None:
        """Switch it on; a camera that is not there says so, and it is off again."""
        self.on = True
        self._outlines = []
        self.corner.show_words(LOOKING)
        self._frames.start()

    def stop(self) -> None:
        """Off: what workers still find counts no more."""
        if self.on:
            self.on = False
            self._next = None
            self.corner.hide()
            self._frames.stop()
            self.went_off.emit()

    def wait(self) -> None:
        """Until every worker is done; before the window goes."""
        for pool in (self._plain, self._hard):
            pool.waitForDone()

    def on_frame(self, image: QImage, at: float) -> None:
        if not self.on:
            return
        self.corner.show_frame(image, self._outlines)
        self.corner.setVisible(True)
        self._next = image, at
        self._look_at_next()

    def on_failed(self, why: str) -> None:
        self.stop()
        self.told.emit(Refused(why))

    def on_looked(self, found: object) -> None:
        self._looking = False
        sight = _worked(found)
        if self.on and isinstance(sight, FrameSight):
            self._take(sight)
        self._look_at_next()

    def on_looked_hard(self, found: object) -> None:
        self._looking_hard = False
        glance = _worked(found)
        if not self.on or not isinstance(glance, Glance):
            return
        seen = sort_out(self._shop, glance)
        counts, asks = self.watched.take_hard(glance, seen)
        self._outlines = [_outline(s.text, s.corners, s.certain) for s in glance.symbols]
        if counts.new and asks:
            self._intake.ask_about(glance, seen)
        else:
            self._count(counts)
        self.corner.show_words(self.watched.hint or LOOKING)

    def on_code_taken(self, text: str) -> None:
        """A person took a code of a picture for a scan; it may be what was asked about here."""
        self.watched.held.took(text)

    def _take(self, sight: FrameSight) -> None:
        self._outlines = [_outline(s.text, s.corners, True) for s in sight.symbols]
        counts = self.watched.take(sight)
        if not self._looking_hard:
            self.corner.show_words(self.watched.hint or LOOKING)
            if not self._intake.deciding and self.watched.wants_more(sight.frame.at):
                self._look_hard_at(sight.frame)
        self._count(counts)

    def _count(self, counts: Counts) -> None:
        for code in counts.new:
            self.counted.emit(code)
        for code in counts.again:
            self.seen_again.emit(code)

    def _look_hard_at(self, frame: Frame) -> None:
        self._looking_hard = True
        self.corner.show_words(LOOKING_HARD)
        work = partial(look_hard, frame, codes_in_use(self._shop))
        self._hard.start(_Look(work, self._closely))

    def _look_at_next(self) -> None:
        if self._next is None or self._looking:
            return
        image, at = self._next
        self._next, self._looking = None, True
        self._plain.start(_Look(partial(_look_at, image, at), self._plainly))


def _look_at(image: QImage, at: float) -> FrameSight:
    return look(frame_of(image, at))


def frame_of(image: QImage, at: float) -> Frame:
    """A picture as grey bytes, row by row without gaps."""
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    wide, step, whole = grey.width(), grey.bytesPerLine(), bytes(grey.constBits())
    rows = whole if step == wide else b"".join(
        whole[y * step : y * step + wide] for y in range(grey.height())
    )  # fmt: skip
    return Frame(wide, grey.height(), rows, at)


def _worked(found: object) -> object:
    if isinstance(found, Exception):
        raise found
    return found


def _outline(text: str, corners: Corners, certain: bool) -> Outline:
    code = parse_code(text)
    short = code.short if isinstance(code, Code) else text
    return Outline(1, corners, short if certain else f"{short}?", strong=True)
