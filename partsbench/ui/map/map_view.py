"""The progress map as a widget: the front, what is beside it, and what the signs mean."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QBoxLayout, QFrame, QScrollArea, QVBoxLayout, QWidget

from partsbench.services.shown.progress_map import ProgressMap
from partsbench.ui.bench.looks import tile_part
from partsbench.ui.map.legend import Legend
from partsbench.ui.map.looks import map_looks
from partsbench.ui.map.loose_tiles import LooseTiles
from partsbench.ui.piece_view import PieceView

SIDE = 268
LOW = 84
"""So high is what stands below the front of the small map, at most."""


class MapView(QWidget):
    """Shows a ProgressMap. `small` stands beside a page: no legend, the rest below the front; with
    `only_front` without the rest."""

    part_chosen = Signal(str)
    """A part was clicked, or Enter or Space pressed on it: its short number."""

    def __init__(
        self, parent: QWidget | None = None, *, small: bool = False, only_front: bool = False
    ) -> None:
        super().__init__(parent)
        self.setObjectName("progress-map")
        self.setAccessibleName("Progress map")
        self.found: ProgressMap | None = None
        self.front = PieceView()
        self.front.setObjectName("map-front")
        self.front.setAccessibleName("Progress of every part, from the front")
        self.loose = LooseTiles(small=small)
        self.legend = Legend()
        self._build(small, only_front)
        if small:
            self.legend.hide()
        self.front.pressed.connect(self.on_tile_pressed)
        self.loose.pressed.connect(self.part_chosen)

    def show_map(self, found: ProgressMap | None) -> None:
        """Show how a piece stands; None clears it."""
        self.found = found
        if found is None:
            self.front.clear()
            self.loose.hide()
            return
        self.front.show_piece(found.piece, map_looks(found))
        self.loose.show_map(found)
        self.legend.show_map(found)

    def choose(self, short: str) -> None:
        """Outline the tile of a part, without a signal; none when it has no tile."""
        keys = self.front.keys()
        key = next((k for k in keys if self._part_of(k) == short), "")
        self.front.select([key] if key else [])
        for tile in self.loose.tiles:
            tile.setChecked(tile.key == short)

    def on_tile_pressed(self, key: str) -> None:
        short = self._part_of(key)
        if short:
            self.part_chosen.emit(short)

    def _part_of(self, key: str) -> str:
        return tile_part(self.found.piece, key) if self.found else ""

    def _build(self, small: bool, only_front: bool) -> None:
        down = QBoxLayout.Direction.TopToBottom
        whole = QBoxLayout(down if small else QBoxLayout.Direction.LeftToRight, self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(8 if small else 18)
        whole.addWidget(self.front, 1)
        side = QWidget()
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(16)
        column.addWidget(self.loose)
        column.addWidget(self.legend)
        column.addStretch(1)
        frame = QScrollArea()
        frame.setWidget(side)
        frame.setWidgetResizable(True)
        frame.setFrameShape(QFrame.Shape.NoFrame)
        frame.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        frame.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        if small:
            frame.setMaximumHeight(LOW)
        else:
            frame.setFixedWidth(SIDE)
        whole.addWidget(frame)
        frame.setVisible(not only_front)

    def sizeHint(self) -> QSize:
        return QSize(420, 460)
