"""Keeps where one was, and a half-made entry, so that a crash costs nothing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from partsbench.services.books.watching import book_version
from partsbench.services.shop import Shop
from partsbench.ui.settings import Settings

if TYPE_CHECKING:
    from partsbench.ui.pages.page import Page

BEAT_MS = 1000


class Keeper(QObject):
    """Once a second: is there something new to keep, and has another window changed the book?"""

    book_changed_elsewhere = Signal()

    def __init__(self, shop: Shop, settings: Settings, pages: Mapping[str, Page]) -> None:
        super().__init__()
        self._shop = shop
        self._settings = settings
        self._pages = pages
        self._kept: dict[str, dict[str, str]] = {}
        self._place = ("", "")
        self._version = book_version(shop)
        self._timer = QTimer(self)
        self._timer.setInterval(BEAT_MS)
        self._timer.timeout.connect(self.on_beat)
        self._timer.start()

    def at(self, page: str, tag: str) -> None:
        """Which page is in front, and with which piece."""
        self._place = (page, tag)

    def on_beat(self) -> None:
        self.keep()
        version = book_version(self._shop)
        if version != self._version:
            self._version = version
            self.book_changed_elsewhere.emit()

    def keep(self) -> None:
        """Write what is new to the disk; nothing is written when nothing is."""
        fresh = {
            k: s for k, p in self._pages.items() if (s := p.saved_state()) != self._kept.get(k)
        }
        page, tag = self._place
        moved = (self._settings.text("at/page"), self._settings.text("at/tag")) != self._place
        for key, state in fresh.items():
            self._settings.put_entry(key, state)
            self._kept[key] = dict(state)
        if moved:
            self._settings.put("at/page", page)
            self._settings.put("at/tag", tag)
        if fresh or moved:
            self._settings.write_now()

    def stop(self) -> None:
        """No more beats; the book is about to be closed."""
        self._timer.stop()
