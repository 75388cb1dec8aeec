"""The clocks over a page that nobody is at: what waits, and until when, seen from the door."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget

from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from partsbench.ui.bench.clocks_board import ClocksBoard, clock_lines
from partsbench.ui.idle import Idle

CLOCKS_MS = 20_000
"""So often the clocks are counted anew while nobody is there."""


class IdleClocks(QObject):
    """Covers `page` with its `board` while nobody is at it; `busy` says when that must not be."""

    def __init__(self, shop: Shop, page: QWidget, busy: Callable[[], bool]) -> None:
        super().__init__(page)
        self._shop = shop
        self._page = page
        self._busy = busy
        self.board = ClocksBoard(page)
        self.idle = Idle(page)
        self.idle.went_idle.connect(self.on_went_idle)
        self.idle.came_back.connect(self.on_came_back)
        self._again = QTimer(self)
        self._again.setInterval(CLOCKS_MS)
        self._again.timeout.connect(self.on_clocks_grew_old)

    def begin(self) -> None:
        """The page is on show."""
        self.idle.begin()

    def end(self) -> None:
        """Another page is in front."""
        self.idle.end()

    def fit(self) -> None:
        """The page has another size."""
        self.board.setGeometry(self._page.rect())

    def touch(self) -> None:
        """Somebody did something that is no key and no move of the mouse."""
        self.idle.touch()

    def on_went_idle(self) -> None:
        if self._shop.is_closed or self._busy():
            return
        today = day(self._shop)
        self.board.show_clocks(clock_lines(today.clocks, today.at))
        self.fit()
        self.board.show()
        self.board.raise_()
        self._again.start()

    def on_clocks_grew_old(self) -> None:
        if self.board.isVisible():
            self.on_went_idle()

    def on_came_back(self) -> None:
        self._again.stop()
        self.board.hide()
