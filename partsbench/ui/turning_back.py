"""Undo and redo in the window: what they would do now, and doing it."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QAction

from partsbench.core.outcomes import Done, NotYours, Refused
from partsbench.services.shop import Shop
from partsbench.ui.actions import ActionEntry

KEYS = ("undo", "redo")


ONCE_MORE = "Undo once more takes it back."


class UndoTwice:
    """Undo where a change of somebody else is asked about first: pressed once more, it is meant."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._meant = 0

    def undo(self) -> Done | Refused:
        from partsbench.services.acts.history import last_change, undo

        top = last_change(self._shop)
        meant = self._meant if top and top.id == self._meant else 0
        said = undo(self._shop, meant)
        self._meant = said.record if isinstance(said, NotYours) else 0
        return Refused(f"{said.sentence} {ONCE_MORE}") if isinstance(said, NotYours) else said


class TurningBack(QObject):
    """The book's own history is what is turned back, so it works across restarts."""

    turned = Signal(object)
    """A Done, or Refused when there is nothing to turn back."""

    def __init__(self, shop: Shop, parent: QObject) -> None:
        super().__init__(parent)
        self._shop = shop
        self._undo = UndoTwice(shop)

    def on_undo_asked(self) -> None:
        self._turn(self._undo.undo())

    def on_redo_asked(self) -> None:
        from partsbench.services.acts.history import redo

        self._turn(redo(self._shop))

    def _turn(self, answer: Done | Refused) -> None:
        self.turned.emit(answer)

    def show_next(self, actions: Mapping[str, QAction], rows: Mapping[str, ActionEntry]) -> None:
        """Let both actions say what they would turn back; off when there is nothing."""
        from partsbench.services.acts.history import last_change, next_redo

        for key, entry in zip(KEYS, (last_change(self._shop), next_redo(self._shop)), strict=True):
            row, action = rows[key], actions[key]
            action.setEnabled(entry is not None)
            words = f"{row.text}: {entry.sentence}" if entry else row.tip
            action.setToolTip(f"{words} ({row.shortcut})")
