"""The exception hook of the window: a fault is told, and the work goes on."""

from __future__ import annotations

from collections.abc import Callable
from types import TracebackType

from PySide6.QtWidgets import QWidget

Hook = Callable[[type[BaseException], BaseException, TracebackType | None], object]


class FaultTeller:
    """Shows one dialog at a time, and tells the console as well. Writes nothing to the book."""

    def __init__(
        self, parent: QWidget, before: Hook, damage: Callable[[], str] = lambda: ""
    ) -> None:
        """`damage` gives the sentence for a damaged book, and an empty one for a sound book."""
        self._parent = parent
        self._before = before
        self._damage = damage
        self._telling = False

    def __call__(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        self._before(kind, error, trace)
        if self._telling or issubclass(kind, KeyboardInterrupt):
            return
        from partsbench.ui.fault_dialog import FaultDialog, details_of

        self._telling = True
        try:
            FaultDialog(details_of(error), self._parent, self._damage()).exec()
        finally:
            self._telling = False
