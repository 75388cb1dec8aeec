"""Somebody before the real window: scans, keys of the page in front, and its menu."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtTest import QTest

from partsbench.core.bench.events import Push
from partsbench.core.bench.state import Mode, Waits
from partsbench.services.shop import Shop
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.bench_page import BenchPage
from partsbench.ui.settings import Settings
from tests.support.alone import KEYS, Heard, heard, stands, told
from tests.support.finishing import two_finishes
from tests.support.shops import code, quill
from tests.support.wall import verb_named

_STANDS_FOR = {"DONE": "GO", "FINISHED": "GO", "SURE?": "STOP"}
"""Words of the screen for an answer that is a record, has nothing after it, or asks."""


class ByWindow:
    """The window on a book of its own with the same pieces as the others."""

    def __init__(self, shop: Shop, settings: Path) -> None:
        self.shop = shop
        self.ours, self.other = two_finishes(shop), quill(shop)
        self.window = MainWindow(shop, Settings(settings))
        self.window.resize(1280, 720)
        self.window.show()
        self.turn("bench")

    def label(self, short: str, *, foreign: bool = False) -> str:
        return code(self.other if foreign else self.ours, short)

    def scan(self, text: str) -> None:
        self.window.page().at_bench.answers.clear()
        self.window.take_code(text, trigger=True)

    def push(self, push: Push) -> None:
        self.window.page().at_bench.answers.clear()
        QTest.keyClick(self.window.page(), next(k for k, p in KEYS.items() if p is push))

    def turn(self, page: str) -> None:
        self.window.show_page(page, self.ours.tag)
        self.window.page().at_bench.answers.clear()

    def undo(self, *, by_the_wall: bool) -> None:
        if by_the_wall:
            self.scan(verb_named("UNDO").code)
        else:
            self.window.page().at_bench.answers.clear()
            self.window.actions_by_key["undo"].trigger()

    def told(self) -> list[str]:
        return told(self.shop)

    def stands(self) -> object:
        return stands(self.shop, self.ours.tag)

    @property
    def waits(self) -> Waits:
        return self.window.page().hand.waits

    @property
    def mode(self) -> Mode:
        """The page in front."""
        return self.window.page().mode

    @property
    def rules(self) -> Mode:
        """Whose rules a label follows now."""
        return self.window.page().at_bench.state.rules

    @property
    def heard(self) -> Heard:
        """What the bench answered; at the bench as it stands there, large."""
        page = self.window.page()
        said = heard(page.at_bench)
        if said is None or not isinstance(page, BenchPage):
            return said
        if page.loud.isVisible():
            return _STANDS_FOR.get(page.loud.word, page.loud.word), page.loud.about
        if self.rules is not Mode.BENCH:
            return said
        word, number = page.board.shout.word, page.board.number.text()
        # A home is shown by its number, and is no part.
        part = "" if number.startswith(("?", "H")) else number
        return (_STANDS_FOR.get(word, word), part) if word else said

    def close(self) -> None:
        self.window.close()
        self.window.deleteLater()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        self.shop.close()
