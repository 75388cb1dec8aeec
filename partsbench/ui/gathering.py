"""What nobody holds any more is gathered in the window's own thread.

Python gathers in whichever thread happens to make the next object. A widget that is let go of in a
ring, and is gathered by a thread that reads pictures or serves phones, is taken down beside Qt,
and the program ends without a word.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

BEAT_MS = 250


class Gathering(QObject):
    """From its making to `stop` nothing is gathered but here, as often as Python would."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        gc.disable()
        self._timer = QTimer(self)
        self._timer.setInterval(BEAT_MS)
        self._timer.timeout.connect(self.on_beat)
        self._timer.start()

    def on_beat(self) -> None:
        """The oldest of the three generations that is due takes the younger ones along."""
        counts = zip(gc.get_count(), gc.get_threshold(), strict=True)
        due = [n for n, (has, may) in enumerate(counts) if has > may]
        if due:
            gc.collect(due[-1])

    def stop(self) -> None:
        """As Python has it by itself."""
        self._timer.stop()
        gc.enable()
