"""What every page of the window is: it shows one piece, takes scans, and says what happened."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Outcome
from partsbench.services.shop import Shop

if TYPE_CHECKING:
    from partsbench.services.session import Session


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
    """Go to the page with that key (`labels` for the labels dialog), with the piece of that tag."""
    part_asked = Signal(str, str)
    """Go to the bench with the part of that tag and number, as if it had been scanned there."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shop = shop
        self.tag = ""
        self.keys: Mapping[int, Callable[[], None]] = {}
        """What plain keys do, those of the number pad too; Return stands for both Enters."""
        self.session: Session | None = None
        """What is in hand of a worker with a scanner: the cup, the load, what was said already."""

    def show_piece(self, tag: str) -> None:
        """Make `tag` the piece at work; the empty text when there is none."""
        self.tag = tag
        self.refresh()

    def refresh(self) -> None:
        """Show the piece as the book now has it."""

    def scanned(self, text: str) -> None:
        """Take a scan, a typed code or a code found in a dropped picture."""

    def asks_for(self, text: str) -> bool:
        """Whether a question of this page is answered by that scan, whatever verb is in force."""
        return False

    def take_answer(self, outcome: Outcome) -> None:
        """Show what a code of the wall, or a part under its verb, was answered with."""
        self.answered.emit(outcome)
        if outcome.recorded:
            self.changed.emit()

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
