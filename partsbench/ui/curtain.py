"""What stands in the window until its page is loaded: the piece at work, drawn at once."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QWidget

from partsbench.core.piece.piece import Piece
from partsbench.ui.piece_view import PieceView


class Curtain(PieceView):
    """Shows the front and tells when it has been painted, so that the rest may be loaded."""

    painted = Signal()

    def __init__(self, piece: Piece | None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("curtain")
        self._told = False
        if piece:
            self.show_piece(piece)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._told:
            self._told = True
            self.painted.emit()
