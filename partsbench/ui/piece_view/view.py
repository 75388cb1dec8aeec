"""The piece to scale as a set of real buttons; the one picture that every page shares."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, QTimerEvent, Signal
from PySide6.QtGui import QFocusEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.core.piece.drawing import Drawing, Shape, ShapeKind, elevation
from partsbench.core.piece.piece import Piece
from partsbench.ui.piece_view.arrows import Arrows
from partsbench.ui.piece_view.looks import Pattern, TileLook
from partsbench.ui.piece_view.neighbours import Way, neighbour
from partsbench.ui.piece_view.numbers import even_numbers
from partsbench.ui.piece_view.scaling import Scaling
from partsbench.ui.piece_view.shapes import key_of, outer, plain_look, pulls_of, reading_order
from partsbench.ui.piece_view.tile import Tile

PULSE_MS = 700
NO_LOOKS: Mapping[str, TileLook] = {}


class PieceView(QWidget):
    """Shows one piece. Arrows move between its tiles, Enter presses, Space chooses."""

    pressed = Signal(str)
    """A tile was clicked, or Enter was pressed on it: its key."""
    selection_changed = Signal()
    swept = Signal(str)
    """The pointer moved onto another tile with its button down: that tile's key."""

    first_painted = Signal()
    """Once, when the view has been painted for the first time."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.multi_select = False
        self.true_to_scale = False
        """Whether a mm is as long across as down, whatever room the openings then have."""
        self._show_hidden = False
        self._piece: Piece | None = None
        self._drawing: Drawing | None = None
        self._looks: Mapping[str, TileLook] = NO_LOOKS
        self._tiles: dict[str, Tile] = {}
        self._chosen: list[str] = []
        self._anchor = ""
        self._current = ""
        self._under = ""
        self._pulse = 0
        self._painted = False
        self._arrows = Arrows(self)
        self.setObjectName("piece-view")
        self.setAccessibleName("The piece from the front")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(220, 180)

    # What is shown

    def show_piece(self, piece: Piece, looks: Mapping[str, TileLook] = NO_LOOKS) -> None:
        """Show `piece`; tiles without a look of their own show their number."""
        if piece != self._piece:
            self._piece = piece
            self._drawing = elevation(piece)
            self._remake()
        self._looks = looks
        self._dress()

    def clear(self) -> None:
        """Show no piece."""
        self._piece = self._drawing = None
        self._remake()

    @property
    def piece(self) -> Piece | None:
        return self._piece

    @property
    def show_hidden(self) -> bool:
        """Whether openings behind a door are shown over it."""
        return self._show_hidden

    @show_hidden.setter
    def show_hidden(self, shown: bool) -> None:
        self._show_hidden = shown
        self._place()
        self._dress()

    def show_arrows(self, pairs: Sequence[tuple[str, str]], labels: Sequence[str] = ()) -> None:
        """Draw an arrow from one tile to another for each pair of keys; [] takes them away."""
        self._arrows.show_pairs(pairs, labels)

    # Keys, tiles and places

    def keys(self) -> list[str]:
        """The keys of the tiles on show, in the order of Tab and of the screen reader."""
        return [key for key, tile in self._tiles.items() if not tile.isHidden()]

    def tile(self, key: str) -> Tile | None:
        return self._tiles.get(key)

    def tiles(self) -> list[Tile]:
        """The tiles on show, in the order of `keys`."""
        return [tile for tile in self._tiles.values() if not tile.isHidden()]

    def tile_rect(self, key: str) -> QRectF:
        """Where a tile's shape is drawn, in px of this widget; empty if nowhere."""
        tile = self._tiles.get(key)
        return tile.box.translated(QPointF(tile.pos())) if tile else QRectF()

    def scale(self) -> float:
        """Px for a mm."""
        scaling = self._scaling()
        return scaling.scale if scaling else 1.0

    def to_view(self, x: float, y: float) -> QPointF:
        """Mm from the top left corner of the drawing → px of this widget."""
        scaling = self._scaling()
        return scaling.to_view(x, y) if scaling else QPointF()

    def front_rect(self) -> QRectF:
        """The grid of openings in px of this widget: mm of the front are px from its corner."""
        scaling = self._scaling()
        return scaling.front_rect(self._piece.front) if scaling and self._piece else QRectF()

    def _scaling(self) -> Scaling | None:
        return (
            Scaling(self._drawing, self.size(), not self.true_to_scale) if self._drawing else None
        )

    # Choosing

    def selection(self) -> list[str]:
        """The keys of the chosen tiles, in the order they were chosen."""
        return list(self._chosen)

    def select(self, keys: Iterable[str]) -> None:
        """Choose these tiles and no others; unknown keys are left out."""
        chosen = [key for key in dict.fromkeys(keys) if key in self._tiles]
        if chosen == self._chosen:
            return
        self._chosen = chosen
        for key, tile in self._tiles.items():
            tile.setChecked(key in chosen)
        self.selection_changed.emit()

    def focus_tile(self, key: str) -> None:
        """Bring the keyboard to a tile."""
        if key in self._tiles and not self._tiles[key].isHidden():
            self._become_current(key)
            self._tiles[key].setFocus(Qt.FocusReason.OtherFocusReason)

    def current(self) -> str:
        """The tile that the keyboard is on or would come to; empty when there is none."""
        return self._current

    def on_tile_chosen(self, key: str, modifiers: object) -> None:
        held = modifiers if isinstance(modifiers, Qt.KeyboardModifier) else None
        self._become_current(key)
        if self.multi_select and held and held & Qt.KeyboardModifier.ControlModifier:
            self._toggle(key)
        elif self.multi_select and held and held & Qt.KeyboardModifier.ShiftModifier:
            self.select(self._within(self._anchor or key, key))
        else:
            self._anchor = key
            self.select([key])
            self.pressed.emit(key)

    def on_tile_space_pressed(self, key: str) -> None:
        if self.multi_select:
            self._toggle(key)
        else:
            self.select([key])
            self.pressed.emit(key)

    def on_tile_arrow_pressed(self, way: Way, grow: bool) -> None:
        places = {k: t.geometry() for k, t in self._tiles.items() if not t.isHidden()}
        carcase = self._carcase_key()
        rest = {k: r for k, r in places.items() if k != carcase}
        if self._current == carcase:
            found = next(iter(rest), None)
        else:
            found = neighbour(self._current, way, rest)
            if found is None and way in (Way.UP, Way.DOWN):
                found = carcase if carcase in places else None
        if found is None:
            return
        self.focus_tile(found)
        if grow and self.multi_select:
            self.select([*self._chosen, found])

    def on_tile_swept(self, _from: str, where: QPointF) -> None:
        under = self.childAt(self.mapFromGlobal(where).toPoint())
        key = under.key if isinstance(under, Tile) else ""
        if key and key != self._under:
            self.swept.emit(key)
        self._under = key

    def _toggle(self, key: str) -> None:
        self._anchor = key
        left = [k for k in self._chosen if k != key]
        self.select(left if key in self._chosen else [*self._chosen, key])

    def _within(self, first: str, last: str) -> list[str]:
        """All openings and legs inside the rectangle that two tiles span."""
        if first not in self._tiles:
            return [last]
        area = self._tiles[first].geometry().united(self._tiles[last].geometry())
        return [k for k in self.keys() if area.contains(self._tiles[k].geometry())]

    # Qt

    def sizeHint(self) -> QSize:
        return QSize(640, 480)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()
        even_numbers(self._tiles.values())

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        keys = self.keys()
        if keys:
            self.focus_tile(self._current if self._current in keys else keys[0])

    def timerEvent(self, event: QTimerEvent) -> None:
        for tile in self._tiles.values():
            if tile.look.pattern is Pattern.NEXT:
                tile.wide = not tile.wide
                tile.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            self.first_painted.emit()

    # Making the tiles

    def _remake(self) -> None:
        had_focus = any(tile.hasFocus() for tile in self._tiles.values())
        old, self._tiles = self._tiles, {}
        if self._drawing:
            for shape in reading_order(self._drawing):
                key = key_of(shape)
                if key:
                    self._tiles[key] = self._made(key, shape, old.pop(key, None))
        for tile in old.values():
            tile.hide()
            tile.setParent(None)
            tile.deleteLater()
        for shape in self._drawing.shapes if self._drawing else ():
            if key_of(shape) in self._tiles and shape.kind is not ShapeKind.PULL:
                self._tiles[key_of(shape)].raise_()
        self._arrows.raise_()
        if self._current not in self._tiles:
            self._current = ""
        keys = list(self._tiles)
        if keys and not self._current:
            self._become_current(keys[0])
        gone = [key for key in self._chosen if key not in self._tiles]
        if gone:
            self.select([key for key in self._chosen if key in self._tiles])
        self._place()
        if had_focus and self._current:
            self.focus_tile(self._current)

    def _made(self, key: str, shape: Shape, old: Tile | None) -> Tile:
        if old and old.kind is shape.kind:
            old.opening = shape.opening
            return old
        if old:
            old.hide()
            old.deleteLater()
        tile = Tile(key, shape.kind, shape.opening, self)
        tile.chosen.connect(self.on_tile_chosen)
        tile.space_pressed.connect(self.on_tile_space_pressed)
        tile.arrow_pressed.connect(self.on_tile_arrow_pressed)
        tile.swept.connect(self.on_tile_swept)
        return tile

    def _become_current(self, key: str) -> None:
        """One tile at a time is reached by Tab; the arrows lead on from there."""
        before = self._tiles.get(self._current)
        if before:
            before.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self._current = key
        self._tiles[key].setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def _carcase_key(self) -> str:
        return next((k for k, t in self._tiles.items() if t.kind is ShapeKind.CARCASE), "")

    def _place(self) -> None:
        """Give every tile its place for the present size."""
        scaling = self._scaling()
        for shape in scaling.drawing.shapes if scaling else ():
            tile = self._tiles.get(key_of(shape))
            if scaling is None or tile is None or shape.kind is ShapeKind.PULL:
                continue
            exact = scaling.rect(shape)
            whole = outer(exact, shape.kind, scaling.rect_of_all(), scaling.tag)
            tile.setGeometry(whole)
            tile.box = exact.translated(-QPointF(whole.topLeft()))
            tile.setVisible(shape.kind is not ShapeKind.HIDDEN or self._show_hidden)
            mine = pulls_of(self._piece, scaling, shape, exact) if self._piece else []
            tile.pulls = [pull.translated(-QPointF(whole.topLeft())) for pull in mine]
            tile.update()
        self._arrows.setGeometry(self.rect())

    def _dress(self) -> None:
        """Give every tile its look, and say on a door how many it hides."""
        if not self._piece or not self._drawing:
            return
        for shape in self._drawing.shapes:
            tile = self._tiles.get(key_of(shape))
            if tile is None or shape.kind is ShapeKind.PULL:
                continue
            inside = 0 if self._show_hidden else len(self._piece.front.behind(shape.home))
            tile.note = f"{inside} inside" if inside and shape.home else ""
            tile.show_look(self._looks.get(tile.key) or plain_look(self._piece, shape))
            tile.update()
        even_numbers(self._tiles.values())
        self._start_pulse(any(t.look.pattern is Pattern.NEXT for t in self._tiles.values()))

    def _start_pulse(self, wanted: bool) -> None:
        if wanted and not self._pulse:
            self._pulse = self.startTimer(PULSE_MS)
        elif not wanted and self._pulse:
            self.killTimer(self._pulse)
            self._pulse = 0
