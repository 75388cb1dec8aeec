"""The front beside the bench: every part's state, so that who is behind is seen at a glance."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.services.shown.progress_map import progress_map
from partsbench.ui.bench.looks import bench_looks
from partsbench.ui.map.map_view import MapView

SOON_MS = 40
"""The answer to a scan is painted first."""


class BenchMap(QWidget):
    """Shows the piece at once, and the progress of its parts a moment later."""

    def __init__(self, shop: Shop) -> None:
        super().__init__()
        self._shop = shop
        self._piece: Piece | None = None
        self._short = ""
        self._map = MapView(small=True, only_front=True)
        self.view = self._map.front
        self.view.setMinimumSize(200, 130)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._map)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(SOON_MS)
        self._soon.timeout.connect(self.on_soon)

    def show_part(self, piece: Piece | None, short: str) -> None:
        """The piece at work, with one part outlined; None and "" for none."""
        self._short = short
        if piece is None:
            self._map.show_map(None)
        elif self._piece is None or piece.tag != self._piece.tag:
            self.view.show_piece(piece, bench_looks(piece, piece.part(short) if short else None))
        self._piece = piece
        if piece is not None:
            self._map.choose(short)
            self._soon.start()

    def on_soon(self) -> None:
        """Read how far each part is; the part at work stays outlined."""
        if self._piece is not None and self.isVisible():
            self._map.show_map(progress_map(self._shop, self._piece.tag))
            self._map.choose(self._short)

    def hideEvent(self, event: QHideEvent) -> None:
        self._soon.stop()
        super().hideEvent(event)
