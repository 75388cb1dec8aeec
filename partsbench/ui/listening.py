"""What is loaded once the window stands: the scanner, pictures and files, tones."""

from __future__ import annotations

import time

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.codes import Code
from partsbench.reading.bursts import Scan
from partsbench.reading.repeats import Repeats
from partsbench.services.shop import Shop
from partsbench.ui.intake import Intake
from partsbench.ui.scan_filter import ScanFilter
from partsbench.ui.tones import Tones, tone_of


class Listening(QObject):
    """Codes come in here, by scanner or picture, and each answer is sounded."""

    code_scanned = Signal(str)

    def __init__(self, shop: Shop, window: QWidget, sound: bool) -> None:
        super().__init__(window)
        self._repeats = Repeats()
        self.tones = Tones(self)
        self.tones.on = sound
        self.intake = Intake(shop, window)
        self.scans = ScanFilter(self)
        self.scans.scanned.connect(self.on_scanned)
        app = QGuiApplication.instance()
        assert isinstance(app, QGuiApplication)
        self.scans.watch_all(app)
        if window.windowHandle():
            self.scans.watch(window.windowHandle())

    def stop(self) -> None:
        """Hear nothing more: the window is closed."""
        app = QGuiApplication.instance()
        assert isinstance(app, QGuiApplication)
        self.scans.stop(app)
        self.intake.looker.wait()

    def on_scanned(self, scan: Scan) -> None:
        text = str(scan.code) if isinstance(scan.code, Code) else scan.text
        if self._repeats.counts(text, time.monotonic()):
            self.code_scanned.emit(text)

    def sound(self, answer: Outcome | Done | Refused) -> None:
        self.tones.sound(tone_of(answer))

    def forget_repeats(self) -> None:
        """After an undo the same label may count again at once."""
        self._repeats.forget()
