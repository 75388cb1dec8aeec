"""The bench without a window, on a book of its own: what the window is compared with."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt

from partsbench.core.bench.events import Push
from partsbench.core.bench.state import Mode
from partsbench.services.acts.history import history, last_change
from partsbench.services.heard.session import Session
from partsbench.services.shop import Shop
from tests.support.finishing import two_finishes
from tests.support.shops import code, quill

PAGES = {"bench": Mode.BENCH, "teardown": Mode.TEARDOWN, "return": Mode.RETURN}
KEYS = {Qt.Key.Key_Return: Push.ENTER, Qt.Key.Key_Escape: Push.LEAVE}
VERBS = ("DONE", "WASHED", "SANDED", "OUT", "HOME", "INSIST", "SENT BACK", "UNDO", "VERB OFF")
VERBS_ON = tuple(name for name in VERBS if name != "UNDO")
PARTS = ("D1", "D2", "D3", "H1", "H2")


class Alone:
    """The bench without a window, on a book of its own with the same pieces."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.ours, self.other = two_finishes(shop), quill(shop)
        self.session = Session(shop)
        self.mode = Mode.BENCH
        self.session.turn(self.mode, self.ours.tag)
        self.before = {e.sentence for e in history(shop, limit=1000)}

    def label(self, short: str, *, foreign: bool = False) -> str:
        return code(self.other if foreign else self.ours, short)

    def may_undo(self) -> bool:
        """Something of the run is the latest change, and not the pieces themselves."""
        latest = last_change(self.shop)
        return latest is not None and latest.sentence not in self.before

    def told(self) -> list[str]:
        return told(self.shop)


def told(shop: Shop) -> list[str]:
    """Every sentence of the history, the oldest first, without what differs from book to book."""
    return [without_codes(e.sentence) for e in reversed(history(shop, limit=1000))]


def without_codes(sentence: str) -> str:
    return re.sub(r"\b[0-9A-Z]{4}\b(-\w+)?", "TAG", sentence)
