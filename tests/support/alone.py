"""The bench without a window, on a book of its own: what the window is compared with."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt

from partsbench.core.bench.events import Push
from partsbench.core.bench.state import Mode, Waits
from partsbench.services.acts.history import history, last_change, undo
from partsbench.services.heard.session import Session
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from tests.support.finishing import two_finishes
from tests.support.shops import code, quill
from tests.support.wall import verb_named

PAGES = {"bench": Mode.BENCH, "teardown": Mode.TEARDOWN, "return": Mode.RETURN}
KEYS = {Qt.Key.Key_Return: Push.ENTER, Qt.Key.Key_Escape: Push.LEAVE}
VERBS = ("DONE", "WASHED", "SANDED", "OUT", "HOME", "INSIST", "SENT BACK", "UNDO", "VERB OFF")
VERBS_ON = tuple(name for name in VERBS if name != "UNDO")
PARTS = ("D1", "D2", "D3", "H1", "H2")
Heard = tuple[str, str] | None
"""The large word and the part that it is about; None where nothing was answered."""


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

    def scan(self, text: str) -> None:
        self.session.answers.clear()
        self.session.scan(text)
        self.follow()

    def push(self, push: Push) -> None:
        self.session.answers.clear()
        self.session.push(push)
        self.follow()

    def turn(self, page: str) -> None:
        self.session.answers.clear()
        self.mode = PAGES[page]
        self.session.turn(self.mode, self.ours.tag)

    def undo(self, *, by_the_wall: bool) -> None:
        if by_the_wall:
            self.scan(verb_named("UNDO").code)
        else:
            self.session.answers.clear()
            undo(self.shop)
            self.session.undone()

    def follow(self) -> None:
        """What the window does itself when the bench wishes it, done for the bench alone."""
        for wish in self.session.take_wishes():
            if wish.what.value == "go to its piece" and not wish.text:
                self.mode = Mode.BENCH
                self.session.turn(self.mode, self.ours.tag)

    def may_undo(self) -> bool:
        """Something of the run is the latest change, and not the pieces themselves."""
        latest = last_change(self.shop)
        return latest is not None and latest.sentence not in self.before

    def told(self) -> list[str]:
        return told(self.shop)

    def stands(self) -> object:
        return stands(self.shop, self.ours.tag)

    @property
    def waits(self) -> Waits:
        """What the label in hand waits for."""
        return self.session.state.hand.waits

    @property
    def heard(self) -> Heard:
        return heard(self.session)


def heard(session: Session) -> Heard:
    """The last answer since the answers were last cleared."""
    said = session.answers[-1] if session.answers else None
    return (said.answer.value, said.part) if said else None


def told(shop: Shop) -> list[str]:
    """Every sentence of the history, the oldest first, without what differs from book to book."""
    return [without_codes(e.sentence) for e in reversed(history(shop, limit=1000))]


def without_codes(sentence: str) -> str:
    return re.sub(r"\b[0-9A-Z]{4}\b(-\w+)?", "TAG", sentence)


def stands(shop: Shop, tag: str) -> object:
    """How every part of a piece stands in the book: where it is, and the marks on each face."""
    piece = shop.piece(tag)
    assert piece is not None
    return {
        short: (own.where, own.place, {f.name: [(m.step, m.at, m.kind, m.note) for m in f.marks]
                                       for f in own.faces})
        for short, own in piece_state(shop, piece).parts.items()
    }  # fmt: skip
