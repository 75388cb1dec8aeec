"""What opens over the window: each dialog is loaded when it is first asked for."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QDialog, QVBoxLayout

from partsbench.core.outcomes import Refused
from partsbench.services import restart
from partsbench.ui.actions import ActionEntry

if TYPE_CHECKING:
    from partsbench.ui.main_window import MainWindow
    from partsbench.ui.restart_bar import RestartBar

NO_PIECE = Refused("No piece is at work; take one in or choose one first.")


def open_door(window: MainWindow, entry: ActionEntry) -> QDialog | None:
    """Open the dialog that an action names; None when it needs a piece and none is at work.

    What the dialog `settled` is answered by the window, which shows the book anew at its end.
    """
    if entry.of_piece and not window.tag:
        window.on_answered(NO_PIECE)
        return None
    module, name = entry.opens.split(":")
    made: QDialog = getattr(import_module(module), name)(window.shop, window.tag, window)
    settled = getattr(made, "settled", None)
    if settled is not None:
        settled.connect(window.on_answered)
    made.finished.connect(window.on_dialog_finished)
    made.open()
    return made


def ask_after_restart(window: MainWindow) -> RestartBar | None:
    """A window that was never closed means that the power went, or the program: ask what was done
    since the last record. None when there is nothing to ask."""
    gap = restart.after_restart(window.shop)
    if gap is None:
        return None
    from partsbench.ui.restart_bar import RestartBar

    bar = RestartBar(window.shop, gap, window)
    bar.answered.connect(window.on_answered)
    bar.bench_asked.connect(window.on_bench_asked)
    layout = window.centralWidget().layout()
    assert isinstance(layout, QVBoxLayout)
    layout.insertWidget(0, bar)
    bar.show()
    return bar
