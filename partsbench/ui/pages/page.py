"""What every page of the window is: it shows one piece, takes scans, and says what happened."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QWidget

from partsbench.core.bench.events import Act, Push, What
from partsbench.core.bench.state import Hand, Mode
from partsbench.core.outcomes import Outcome
from partsbench.services.shop import Shop

if TYPE_CHECKING:
    from partsbench.services.heard.session import Session
    from partsbench.ui.planner import ShopPlanner


class Page(QWidget):
    """A page. The window gives it the piece at work and every scan while it is in front.

    Nothing of the book is kept between two calls of `refresh`: another window may have changed it.
    Single letters as keys belong in `keys`, not in shortcuts: a scanner sends letters too.
    """

    answered = Signal(object)
    """An Outcome, Done or Refused: the window sounds its tone and shows its sentence."""
    changed = Signal()
    """The book was changed from this page; the window refreshes what it shows."""
    page_asked = Signal(str, str)
    """Go to the page with that key (`labels`: the labels dialog, `camera`: its switch), with that
    piece."""
    part_asked = Signal(str, str)
    """Go to the bench with the part of that tag and number, as if it had been scanned there."""

    mode = Mode.OTHER
    """Whose rules a scan follows on this page."""
    shows_plan = False
    """Whether it shows something of the plan of the shop."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shop = shop
        self.tag = ""
        self.keys: Mapping[int, Callable[[], None]] = {}
        """What plain keys do, those of the number pad too; Return stands for both Enters."""
        self.pushing = False
        """What the bench answers now was asked by a key or button of this page."""
        self.session: Session | None = None
        """The bench at work, which all pages of a window share."""
        self._planner: ShopPlanner | None = None

    @property
    def at_bench(self) -> Session:
        """The session of the window; one of its own for a page that stands alone."""
        if self.session is None:
            from partsbench.services.heard.session import Session

            self.session = Session(self.shop)
            self.session.turn(self.mode, self.tag)
        return self.session

    @property
    def planner(self) -> ShopPlanner:
        """The plan of the window; one of its own for a page that stands alone."""
        if self._planner is None:
            from partsbench.ui.planner import ShopPlanner

            self.plan_with(ShopPlanner(self.shop, self))
        assert self._planner is not None
        return self._planner

    def plan_with(self, planner: ShopPlanner) -> None:
        """Show what of the plan this one finds; a page that shows a plan connects to it here."""
        self._planner = planner

    def show_piece(self, tag: str) -> None:
        """Make `tag` the piece at work; the empty text when there is none."""
        self.tag = tag
        if self.session is not None:
            self.session.turn(self.mode, tag)
        self.refresh()

    def refresh(self) -> None:
        """Show the piece as the book now has it."""

    def scanned(self, text: str) -> None:
        """Take a scan, a typed code or a code found in a dropped picture."""

    @property
    def hand(self) -> Hand:
        """The label that was scanned last."""
        return self.at_bench.state.hand

    def push(self, push: Push, text: str = "", *, label: str = "", at: datetime | None = None
             ) -> None:  # fmt: skip
        """Let the bench hear of a key or button, and show what it answers."""
        self.pushing = True
        try:
            self.acted(self.at_bench.push(push, text, label=label, at=at))
        finally:
            self.pushing = False

    def acted(self, answers: Sequence[Outcome]) -> None:
        """Do what the bench wishes of the window, and show what it answered."""
        for wish in self.at_bench.take_wishes():
            if wish.what is What.CAMERA:
                self.page_asked.emit("camera", self.tag)
            else:
                self.fulfil(wish)
        for said in answers:
            self.take_answer(said)

    def fulfil(self, wish: Act) -> None:
        """Turn to a page, or open a dialog, as the bench wishes."""

    def shows(self, answer: object) -> bool:
        """This answer stands on the page already, large: the window need not say it again."""
        return False

    def asks_for(self, text: str) -> bool:
        """Whether a question of this page is answered by that scan, whatever verb is in force."""
        return False

    def take_answer(self, outcome: Outcome) -> None:
        """Show what a code of the wall, or a part under its verb, was answered with."""
        self.answered.emit(outcome)
        if outcome.recorded:
            self.changed.emit()

    def hideEvent(self, event: QHideEvent) -> None:
        if self._planner is not None and self._planner.parent() is self:
            self._planner.wait()
        super().hideEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key.Key_Return if event.key() == Qt.Key.Key_Enter else event.key()
        plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        act = self.keys.get(key) if plain else None
        if act and not event.isAutoRepeat():
            act()
        elif not act:
            super().keyPressEvent(event)

    def saved_state(self) -> dict[str, str]:
        """A half-made entry, to be given back after a crash; small texts only."""
        return {}

    def restore_state(self, state: dict[str, str]) -> None:
        """Take a half-made entry back."""
