"""What has no place of its own in the front: the body, pulls, shelves, what a door hides."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.core.piece.drawing import ShapeKind
from partsbench.core.piece.piece import Piece
from partsbench.services.shown.progress_map import PartProgress, ProgressMap, alike
from partsbench.ui.bench.flow import Flow
from partsbench.ui.bench.looks import is_tile_of_its_own
from partsbench.ui.map.looks import loose_look
from partsbench.ui.piece_view.keys import tile_key
from partsbench.ui.piece_view.neighbours import Way
from partsbench.ui.piece_view.tile import Tile

LARGE, SMALL = QSize(124, 58), QSize(80, 34)


class LooseTile(Tile):
    """A tile that fills its own rectangle."""

    def __init__(self, short: str, size: QSize, parent: QWidget) -> None:
        super().__init__(short, ShapeKind.OPENING, None, parent)
        self.setObjectName(f"loose-{short}")
        self.setFixedSize(size)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.box = QRectF(self.rect()).adjusted(0.7, 0.7, -0.7, -0.7)


class LooseTiles(QWidget):
    """One tile for parts of one sort that stand alike. Arrows go from one to the next.

    Small, it leaves out what gets no finish.
    """

    pressed = Signal(str)
    """The short number of the part that a tile stands for, the first where it stands for more."""

    def __init__(self, parent: QWidget | None = None, *, small: bool = False) -> None:
        super().__init__(parent)
        self.setObjectName("map-loose")
        self.setAccessibleName("Body, pulls and what else has no place in the front")
        self._small = small
        self._flow = Flow(self, 6)
        self.tiles: list[LooseTile] = []
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_map(self, found: ProgressMap) -> None:
        """The parts of a map that its front does not show."""
        loose = [each for each in found.parts.values() if is_loose(found.piece, each)]
        if self._small:
            loose = [each for each in loose if each.of]
        groups = sorted(alike(loose), key=_without_steps)
        while len(self.tiles) < len(groups):
            self._add()
        while len(self.tiles) > len(groups):
            gone = self.tiles.pop()
            self._flow.removeWidget(gone)
            gone.hide()
            gone.deleteLater()
        for tile, group in zip(self.tiles, groups, strict=True):
            tile.key = group[0].part.short
            tile.setObjectName(f"loose-{tile.key}")
            tile.show_look(loose_look(found, group))
        self.setVisible(bool(groups))

    def on_tile_chosen(self, key: str, _modifiers: object) -> None:
        self.pressed.emit(key)

    def on_arrow_pressed(self, way: Way, _grow: bool) -> None:
        here = self.tiles.index(self.sender())  # type: ignore[arg-type]
        there = here + (1 if way in (Way.RIGHT, Way.DOWN) else -1)
        if 0 <= there < len(self.tiles):
            self.tiles[there].setFocus(Qt.FocusReason.OtherFocusReason)

    def _add(self) -> None:
        tile = LooseTile("", SMALL if self._small else LARGE, self)
        tile.chosen.connect(self.on_tile_chosen)
        tile.space_pressed.connect(self.pressed)
        tile.arrow_pressed.connect(self.on_arrow_pressed)
        self._flow.addWidget(tile)
        tile.show()
        self.tiles.append(tile)


def is_loose(piece: Piece, each: PartProgress) -> bool:
    """Whether a part is told beside the front: it has no tile there, or one too thin to be read."""
    if not is_tile_of_its_own(each.part):
        return True
    opening = piece.front.opening(each.part.home.number)
    hidden = opening is not None and opening.behind is not None
    return hidden or tile_key(piece, each.part) == each.part.short


def _without_steps(group: Sequence[PartProgress]) -> bool:
    return not group[0].of
