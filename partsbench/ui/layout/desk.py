"""The piece being laid out, what of it is chosen, and the one way to change it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.front import Front, Opening
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.sums.units import Measures
from partsbench.services.acts import masks
from partsbench.services.acts.masks import SeamLine
from partsbench.services.books import pieces
from partsbench.services.shop import Shop
from partsbench.ui.piece_view.keys import home_number, keys_of, part_of


@dataclass(frozen=True, slots=True)
class Chosen:
    """What was chosen in which state of the piece."""

    piece: Piece | None
    keys: tuple[str, ...]
    part: str

    @property
    def is_on_a_tile(self) -> bool:
        """Whether the current part is none of the tiles, but sits on one or in the piece."""
        own = part_of(self.piece, self.keys[-1]) if self.piece and self.keys else None
        return bool(self.part) and (own is None or own.short != self.part)


class Desk(QObject):
    """Shared by the board and the panels. `chosen` are keys of tiles, `part` a short number."""

    shown = Signal()
    """Another piece, another state of it, or other measures: show it anew."""
    chose = Signal()
    answered = Signal(object)
    changed = Signal()

    def __init__(self, shop: Shop, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.shop = shop
        self.tag = ""
        self.piece: Piece | None = None
        self.measures = Measures.METRIC
        self.chosen: tuple[str, ...] = ()
        self.part = ""
        self.seams: list[SeamLine] = []
        """Where two finish paths meet on one part, with the tape that is on them."""

    # What is on the desk

    def load(self, tag: str) -> None:
        """Put the piece `tag` on the desk as the book now has it."""
        other = tag != self.tag
        before = Chosen(self.piece, self.chosen, self.part)
        self.tag = tag
        self._take(self.shop.piece(tag) if tag else None)
        if other:
            self.choose(())
        elif before.piece != self.piece:
            self._choose_again(before)

    def set_measures(self, measures: Measures) -> None:
        """Read and show sizes in mm or in inches from now on."""
        if measures is not self.measures:
            self.measures = measures
            self.shown.emit()

    def openings(self) -> list[Opening]:
        """The chosen openings."""
        if self.piece is None:
            return []
        numbers = [home_number(key) for key in self.chosen]
        found = [self.piece.front.opening(n) for n in numbers if n]
        return [o for o in found if o]

    def parts(self) -> list[Part]:
        """The parts that live in the chosen tiles; the current part when no tile is chosen."""
        if self.piece is None:
            return []
        found = [part_of(self.piece, key) for key in self.chosen]
        parts = [p for p in found if p]
        if not parts and self.part:
            one = self.piece.part(self.part)
            parts = [one] if one else []
        return parts

    def current(self) -> Part | None:
        """The part whose words and faces are shown."""
        part = self.piece.part(self.part) if self.piece and self.part else None
        return part if part and not part.retired else None

    # Choosing

    def choose(self, keys: Iterable[str]) -> None:
        """Choose tiles; the part of the last one becomes the current part."""
        self.chosen = tuple(keys)
        part = part_of(self.piece, self.chosen[-1]) if self.piece and self.chosen else None
        self.part = part.short if part else ""
        self.chose.emit()

    def choose_part(self, short: str) -> None:
        """Choose a part by its number, and the tile where it lives or what it sits on."""
        key = tile_of(self.piece, short) if self.piece else ""
        self.chosen = (key,) if key else ()
        self.part = short
        self.chose.emit()

    # Changing

    def settle(self, answer: object, sentence: str) -> bool:
        """Take what a use case answered: show the piece it gave, or say why not."""
        if isinstance(answer, Refused):
            self.answered.emit(answer)
            self.shown.emit()
            return False
        if isinstance(answer, Piece):
            before = Chosen(self.piece, self.chosen, self.part)
            self._take(answer)
            self._choose_again(before)
        self.answered.emit(answer if isinstance(answer, Done) else Done(sentence, self.tag))
        self.changed.emit()
        return True

    def reshape(self, shape: Callable[[Front], Front | Refused], sentence: str) -> bool:
        """Change the shape of the front."""
        if self.piece is None:
            return False
        told = f"{self.piece.codename}: {sentence}"
        return self.settle(pieces.reshape(self.shop, self.tag, shape, told), f"{told}.")

    def _choose_again(self, before: Chosen) -> None:
        """What was chosen stays so where it stands, though its number may be another now."""
        if before.piece is None or self.piece is None:
            return
        self.choose(_same_places(before.piece, self.piece, before.keys))
        one = self.piece.part(before.part) if before.is_on_a_tile else None
        if one and not one.retired and tile_of(self.piece, one.short) in (*self.chosen, ""):
            self.part = one.short
            self.chose.emit()

    def _take(self, piece: Piece | None) -> None:
        self.piece = piece
        self.seams = masks.seams(self.shop, piece.tag) if piece else []
        keys = set(keys_of(piece)) if piece else set()
        self.chosen = tuple(k for k in self.chosen if k in keys)
        if self.current() is None:
            self.part = ""
        self.shown.emit()


def tile_of(piece: Piece | None, short: str) -> str:
    """The tile that shows a part, or what it sits on; empty when none does."""
    part = piece.part(short) if piece else None
    if piece is None or part is None:
        return ""
    if part.home.number:
        return short_number(Family.HOME, part.home.number)
    if part.parent:
        return tile_of(piece, part.parent)
    return short if short in keys_of(piece) else ""


def _same_places(before: Piece, after: Piece, keys: Iterable[str]) -> list[str]:
    """The tiles that now stand where the chosen ones stood: numbers may have been given anew."""
    found: list[str] = []
    for key in keys:
        number = home_number(key)
        if not number:
            found.append(key)
            continue
        old = before.front.opening(number)
        if old:
            now = [o for o in after.front.openings if _in_place(before.front, old, after.front, o)]
            found += [short_number(Family.HOME, o.number) for o in now]
            continue
        spots = [c.spot for c in before.corners if c.number == number]
        found += [short_number(Family.HOME, c.number) for c in after.corners if c.spot in spots]
    have = set(keys_of(after))
    return [key for key in dict.fromkeys(found) if key in have]


def _in_place(front: Front, old: Opening, now: Front, new: Opening) -> bool:
    """Whether one holds the middle of the other, as shares of the whole front."""
    if old.layer != new.layer:
        return False
    a, b = _share(front, old), _share(now, new)
    return _holds(a, b) or _holds(b, a)


def _share(front: Front, opening: Opening) -> tuple[float, float, float, float]:
    x, y, width, height = front.box(opening.span)
    w, h = front.width, front.height
    return x / w, y / h, (x + width) / w, (y + height) / h


def _holds(
    outer: tuple[float, float, float, float], inner: tuple[float, float, float, float]
) -> bool:
    x, y = (inner[0] + inner[2]) / 2, (inner[1] + inner[3]) / 2
    return outer[0] < x < outer[2] and outer[1] < y < outer[3]
