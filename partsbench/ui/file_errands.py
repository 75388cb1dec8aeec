"""Files that the menu asks for: pieces and pictures come in, a copy of the book goes out."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Refused
from partsbench.services.shop import Shop

if TYPE_CHECKING:
    from partsbench.ui.intake import Intake

SAMPLE = ("-m", "partsbench", "sample")
"""What starts the guided sample; a program without Python takes `-m` as Python does."""


class FileErrands(QObject):
    """`intake` gives what sorts the files; it is loaded when the first one comes."""

    answered = Signal(object)

    def __init__(self, shop: Shop, window: QWidget, intake: Callable[[], Intake]) -> None:
        super().__init__(window)
        self._shop = shop
        self._window = window
        self._intake = intake

    def on_take_in_asked(self) -> None:
        from partsbench.ui import asking

        files = asking.ask_pieces(self._window)
        if files:
            self._intake().take_files(files)

    def on_open_asked(self) -> None:
        from partsbench.ui import asking

        files = asking.ask_pictures(self._window)
        if files:
            self._intake().take_files(files)

    def on_sample_asked(self) -> None:
        """The sample has a window of its own, so that no scan goes into the wrong book."""
        from PySide6.QtCore import QProcess

        begun, _ = QProcess.startDetached(sys.executable, list(SAMPLE))
        self.answered.emit(
            "The sample opens in a window of its own." if begun
            else Refused("The sample could not be opened: run “partsbench sample”.")
        )  # fmt: skip

    def on_paste_asked(self) -> None:
        self._intake().take(QGuiApplication.clipboard().mimeData())

    def on_copy_asked(self) -> None:
        from partsbench.services.books.exchange import save_copy
        from partsbench.ui import asking

        target = asking.ask_new_file(self._window, "Save a copy of the book", "copy.partsbench")
        if target:
            self.answered.emit(save_copy(self._shop, target))
