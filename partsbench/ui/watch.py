"""Keeps an eye on the clocks, and speaks first when a window is about to close."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QObject, QTimer, Signal

from partsbench.core.outcomes import Outcome
from partsbench.services.acts.history import history
from partsbench.services.books.watching import book_version
from partsbench.services.heard.speaking import closing
from partsbench.services.shop import Shop

BEAT_MS = 5000
"""A scan puts the next look off by so long: nobody waits for an answer because of it."""


class Watch(QObject):
    """Each window is spoken of once."""

    spoke = Signal(Outcome)
    """Its tone is CLOSING."""

    def __init__(self, shop: Shop, parent: QObject) -> None:
        super().__init__(parent)
        self._shop = shop
        self._spoken: set[str] = set()
        self._again: datetime | None = None
        self._version = (0, 0)
        self._timer = QTimer(self)
        self._timer.setInterval(BEAT_MS)
        self._timer.timeout.connect(self.on_beat)
        self._timer.start()

    def on_beat(self) -> None:
        """Look at the clocks if a time has come or the book has changed."""
        newest = history(self._shop, limit=1)
        version = book_version(self._shop), newest[0].id if newest else 0
        due = self._again is None or self._shop.clock() >= self._again
        if not due and version == self._version:
            return
        self._version = version
        found = closing(self._shop)
        self._again = found.again
        for key, outcome in found.said:
            if key not in self._spoken:
                self._spoken.add(key)
                self.spoke.emit(outcome)

    def put_off(self) -> None:
        """Somebody is scanning: look a little later."""
        if self._timer.isActive():
            self._timer.start()

    def stop(self) -> None:
        self._timer.stop()
