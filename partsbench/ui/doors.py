"""What opens over the window: each dialog is loaded when it is first asked for."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QDialog, QVBoxLayout, QWidget

from partsbench.core.outcomes import Refused
from partsbench.services.books import restart
from partsbench.services.shop import Shop
from partsbench.ui.actions import ActionEntry

NO_PIECE = Refused("No piece is at work; take one in or choose one first.")


class Doors(QObject):
    """Opens dialogs over a window, and the question after a window was cut off above its page."""

    answered = Signal(object)
    """What a dialog settled, or why there is none."""
    part_chosen = Signal(str, str)
    """A part was found: the tag of its piece, and its number."""
    get_back_asked = Signal(Path)
    """A copy is to be the book."""
    closed = Signal()
    bench_asked = Signal()

    def __init__(self, shop: Shop, window: QWidget) -> None:
        super().__init__(window)
        self._shop = shop
        self._window = window

    def open(self, entry: ActionEntry, tag: str) -> QDialog | None:
        """Open the dialog that an action names; None when it needs a piece and none is at work."""
        if entry.of_piece and not tag:
            self.answered.emit(NO_PIECE)
            return None
        module, name = entry.opens.split(":")
        made: QDialog = getattr(import_module(module), name)(self._shop, tag, self._window)
        for name, passed_on in (
            ("settled", self.answered),
            ("part_chosen", self.part_chosen),
            ("get_back_asked", self.get_back_asked),
        ):
            told = getattr(made, name, None)
            if told is not None:
                told.connect(passed_on)
        made.finished.connect(self.on_finished)
        made.open()
        return made

    def on_finished(self, _result: int) -> None:
        self.closed.emit()

    def ask_after_restart(self, above: QVBoxLayout) -> None:
        """A window that was never closed means that the power went, or the program: ask, on top of
        that layout, what was done since the last record; not when there is nothing to ask."""
        gap = restart.after_restart(self._shop)
        if gap is None:
            return
        from partsbench.ui.restart_bar import RestartBar

        bar = RestartBar(self._shop, gap, self._window)
        bar.answered.connect(self.answered)
        bar.bench_asked.connect(self.bench_asked)
        above.insertWidget(0, bar)
        bar.show()
