"""What is loaded once the window stands: the scanner, pictures and files, tones, the clocks."""

from __future__ import annotations

import time
from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.codes import Code
from partsbench.reading.bursts import Scan
from partsbench.reading.repeats import Repeats
from partsbench.services.shop import Shop
from partsbench.ui.band import Band
from partsbench.ui.intake import Intake
from partsbench.ui.pages.page import Page
from partsbench.ui.scan_filter import ScanFilter
from partsbench.ui.settings import Settings
from partsbench.ui.tones import Tones, tone_of

if TYPE_CHECKING:
    from partsbench.ui.evening import Evening
    from partsbench.ui.watch import Watch


class Listening(QObject):
    """Codes come in here, by scanner or picture, and each answer is sounded."""

    code_scanned = Signal(str)
    said = Signal(object)
    """An answer to a code of the wall, or to a part under its verb."""
    spoke = Signal(object)
    """The program spoke first: a window is about to close."""
    refused = Signal(object)
    """A code that nothing could take."""
    session_begun = Signal(object)

    def __init__(self, shop: Shop, window: QWidget, settings: Settings, band: Band) -> None:
        super().__init__(window)
        self._shop = shop
        self._settings = settings
        self._band = band
        self._repeats = Repeats()
        self.tones = Tones(self)
        self.intake = Intake(shop, window)
        self.scans = ScanFilter(self)
        self.scans.scanned.connect(self.on_scanned)
        app = QGuiApplication.instance()
        assert isinstance(app, QGuiApplication)
        self.scans.watch_all(app)
        if window.windowHandle():
            self.scans.watch(window.windowHandle())

    @cached_property
    def evening(self) -> Evening:
        from partsbench.ui.evening import Evening

        made = Evening(self._shop, self._settings, self._band)
        made.said.connect(self.said)
        self.session_begun.emit(made.session)
        return made

    @cached_property
    def watch(self) -> Watch:
        from partsbench.ui.watch import Watch

        made = Watch(self._shop, self)
        made.spoke.connect(self.spoke)
        return made

    def begin(self) -> None:
        """Load what the first code of the wall would else wait for."""
        _ = self.evening, self.watch

    def stop(self) -> None:
        """Hear nothing more: the window is closed."""
        for part in ("evening", "watch"):
            if part in self.__dict__:
                getattr(self, part).stop()
        app = QGuiApplication.instance()
        assert isinstance(app, QGuiApplication)
        self.scans.stop(app)
        self.intake.looker.wait()

    def on_scanned(self, scan: Scan) -> None:
        text = str(scan.code) if isinstance(scan.code, Code) else scan.text
        if self._repeats.counts(text, time.monotonic()):
            self.code_scanned.emit(text)

    def give(self, text: str, page: Page, tag: str) -> str:
        """Give a code to the dialog over the window, a question of the page, the verb in force, or
        the page; the tag of the piece at work after it.

        Nothing is done behind a dialog: what was recorded there would not be seen.
        """
        self.watch.put_off()
        modal = QApplication.activeModalWidget()
        if modal is not None:
            self._give_to(modal, text)
        elif page.asks_for(text):
            self.evening.wait_on()
            page.scanned(text)
        elif self.evening.takes(text):
            return self.evening.scan(text, tag)
        else:
            page.scanned(text)
        return tag

    def _give_to(self, dialog: QWidget, text: str) -> None:
        scanned = getattr(dialog, "scanned", None)
        if scanned:
            scanned(text)
        else:
            self.refused.emit(Refused(f"{text}: close the dialog first, then scan again."))

    def sound(self, answer: Outcome | Done | Refused) -> None:
        self.tones.sound(tone_of(answer))

    def forget_repeats(self) -> None:
        """After an undo the same label may count again at once."""
        self._repeats.forget()
