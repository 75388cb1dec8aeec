"""Keep recording: chosen once, it records each part scanned after it, until it is left idle."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

USUAL_MINUTES = 5
MOST_MINUTES = 120


class KeepRecording(QObject):
    """Whether the verb is on, for which step, and the time after which it goes off by itself."""

    ran_out = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.on = False
        self.step = ""
        self.words = ""
        self._done: set[str] = set()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self.set_minutes(USUAL_MINUTES)
        self._timer.timeout.connect(self.on_idle)

    @property
    def minutes(self) -> float:
        return self._timer.interval() / 60_000

    def set_minutes(self, minutes: float) -> None:
        """How long it stays on with nothing scanned."""
        self._timer.setInterval(round(min(minutes, MOST_MINUTES) * 60_000))
        if self.on:
            self._timer.start()

    def start(self, step: str, words: str) -> None:
        """Record `step` (the next one when empty) of each part that comes; `words` name it."""
        self.on, self.step, self.words = True, step, words
        self._done = set()
        self._timer.start()

    def stop(self) -> None:
        self.on = False
        self._timer.stop()

    def counts(self, code: str) -> bool:
        """True for a part that was not recorded in this run; the idle time begins again."""
        self._timer.start()
        return code not in self._done

    def recorded(self, code: str) -> None:
        """This part is done for this run."""
        self._done.add(code)

    def on_idle(self) -> None:
        if self.on:
            self.stop()
            self.ran_out.emit()
