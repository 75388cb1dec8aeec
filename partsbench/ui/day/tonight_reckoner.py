"""What to begin tonight, reckoned piece by piece, so that no scan waits for it."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from partsbench.services.shown.day import Tonight, in_hand, tonight

PAUSE_MS = 150
HOLDS_MINUTES = 15
"""An answer stands so long while nothing is recorded."""


class TonightReckoner(QObject):
    """One piece at each beat; the answer comes when all were looked at."""

    found = Signal(object)
    """A Tonight, or None when nothing saves anything."""

    def __init__(self, shop: Shop, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self._left: list[str] = []
        self._best: Tonight | None = None
        self._for: tuple[int, int] = (0, 0)
        self._timer = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self._timer.timeout.connect(self.on_beat)

    def ask(self) -> None:
        """Begin anew if the book has changed or the answer is old; say again what stands."""
        asked = self._version()
        if asked != self._for:
            self._for = asked
            self._left = in_hand(self._shop, self._shop.clock())
            self._best = None
        if self._left:
            self._timer.start()
        else:
            self.found.emit(self._best)

    def stop(self) -> None:
        """Nobody looks; what is left is done when asked again."""
        self._timer.stop()

    def on_beat(self) -> None:
        if not self._left:
            self.found.emit(self._best)
            return
        one = tonight(self._shop, tags=[self._left.pop(0)])
        if one and (self._best is None or one.saves > self._best.saves):
            self._best = one
        self._timer.start()

    def _version(self) -> tuple[int, int]:
        newest = history(self._shop, limit=1)
        minute = int(self._shop.clock().timestamp() // 60)
        return (newest[0].id if newest else 0, minute // HOLDS_MINUTES)
