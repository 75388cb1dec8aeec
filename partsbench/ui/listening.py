"""What is loaded once the window stands: the scanner, pictures and files, tones, the clocks."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.codes import Code
from partsbench.reading.bursts import Scan
from partsbench.services.shop import Shop
from partsbench.ui.band import Band
from partsbench.ui.intake import Intake
from partsbench.ui.pages.page import Page
from partsbench.ui.scan_filter import ScanFilter
from partsbench.ui.settings import Settings
from partsbench.ui.speech import Speech
from partsbench.ui.tones import Tones, tone_of

if TYPE_CHECKING:
    from partsbench.ui.evening import Evening
    from partsbench.ui.page_stack import PageStack
    from partsbench.ui.watch import Watch


class Listening(QObject):
    """Codes come in here, by scanner or picture, and each answer is sounded, and said."""

    code_scanned = Signal(str)
    spoke = Signal(Outcome)
    """The program spoke first: a window is about to close."""
    refused = Signal(Refused)
    """A code that nothing could take."""
    went_off = Signal(Outcome)
    """A verb went off by itself."""

    def __init__(
        self, shop: Shop, window: QWidget, settings: Settings, band: Band, stack: PageStack
    ) -> None:
        super().__init__(window)
        self._shop = shop
        self._stack = stack
        self._settings = settings
        self._band = band
        self.tones = Tones(self)
        self.speech = Speech(self)
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

        made = Evening(self._stack.session, self._settings, self._band)
        made.went_off.connect(self.went_off)
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
        self.speech.stop()

    def on_scanned(self, scan: Scan) -> None:
        self.code_scanned.emit(str(scan.code) if isinstance(scan.code, Code) else scan.text)

    def give(self, text: str, page: Page, *, trigger: bool) -> str:
        """Give a code to the dialog over the window, a question of the page, the bench, or the
        page; the tag of the piece at work after it.

        Nothing is done behind a dialog: what was recorded there would not be seen.
        """
        self.watch.put_off()
        modal = QApplication.activeModalWidget()
        if modal is not None:
            self._give_to(modal, text)
        elif page.asks_for(text) or not self.evening.takes(text):
            self.evening.session.touched()
            page.scanned(text)
        else:
            page.acted(self.evening.session.scan(text, trigger=trigger))
            return self.evening.session.here
        return page.tag

    def see_again(self, text: str, page: Page) -> None:
        """A camera sees a label that it may have seen all the time: nothing is recorded by it."""
        if QApplication.activeModalWidget() is None and self.evening.takes(text):
            page.acted(self.evening.session.see_again(text))

    def _give_to(self, dialog: QWidget, text: str) -> None:
        scanned = getattr(dialog, "scanned", None)
        if scanned:
            scanned(text)
        else:
            self.refused.emit(Refused(f"{text}: close the dialog first, then scan again."))

    def sound(self, answer: Outcome | Done | Refused) -> None:
        self.tones.sound(tone_of(answer))
        self.speech.speak(answer)

    def undone(self) -> None:
        """What was recorded was taken back: the same label may count again at once."""
        self.evening.session.undone()
