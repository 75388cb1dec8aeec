"""The picture that a code was just read in, small, beside the answer; pressed, it opens large."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, QTimer
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import QToolButton, QWidget

if TYPE_CHECKING:
    from partsbench.ui.looking import FileLook

SHOWN_MS = 120_000
"""After that it is of yesterday's scan; the menu still opens it."""
SIZE = QSize(64, 48)
LEAST_ROOM = 600
"""In a narrower bar it would take the room of the answer; the menu still opens it."""


class Glimpse(QToolButton):
    """Hidden until a picture was looked at."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("glimpse")
        self.setIconSize(SIZE)
        self.setAutoRaise(True)
        self.setAccessibleName("The last picture")
        self.setToolTip("Where the code was read in the picture")
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(SHOWN_MS)
        self._timer.timeout.connect(self.on_time_was_up)
        self._fresh = False
        self._room = LEAST_ROOM
        self.hide()

    def show_look(self, look: FileLook) -> None:
        """Show the first page, or nothing when there is no picture of it."""
        from partsbench.ui.dialogs.seen_picture import image_of

        if look.views.pages:
            self.setIcon(QIcon(QPixmap.fromImage(image_of(look.views.pages[0]))))
            self._timer.start()
        self._fresh = bool(look.views.pages)
        self.give_room(self._room)

    def give_room(self, width: int) -> None:
        """Show only where the bar around it is wide enough."""
        self._room = width
        self.setVisible(self._fresh and width >= LEAST_ROOM)

    def on_time_was_up(self) -> None:
        self._fresh = False
        self.hide()
