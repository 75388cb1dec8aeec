"""Labels held before a camera: each picture becomes the codes that count, each once.

The window brings the pictures, runs `look` and `look_hard` in workers, and gives what counts to
the bench like any scan. A guess never counts: it is asked about.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from io import BytesIO
from typing import TYPE_CHECKING

from partsbench.reading.bare import ACROSS, DOWN, BarePlaces, place_of
from partsbench.reading.held import Counts, HeldUp, Stillness
from partsbench.services.heard.reading import Glance, Seen, Symbol, counts_at_once, symbols_of

if TYPE_CHECKING:
    from PIL.Image import Image

BEFORE_CAMERA = "what is before the camera"
CROWDED = "Several labels: hold up one alone."
AGAIN = "Seen again: nothing is recorded by that. Take it away first, or press Enter."


@dataclass(frozen=True, slots=True)
class Frame:
    """One picture of a camera: `width` × `height` grey bytes, and its time in s."""

    width: int
    height: int
    grey: bytes
    at: float


@dataclass(frozen=True, slots=True)
class FrameSight:
    """What a plain look at a frame shows, and the mean grey of its blocks."""

    frame: Frame
    symbols: tuple[Symbol, ...]
    blocks: bytes

    @property
    def texts(self) -> tuple[str, ...]:
        """Each code once, from the left."""
        placed = sorted(self.symbols, key=lambda symbol: symbol.corners[0][0])
        return tuple(dict.fromkeys(symbol.text for symbol in placed))

    @property
    def places(self) -> dict[str, tuple[int, ...]]:
        """The blocks on which each label lies."""
        size = self.frame.width, self.frame.height
        found: dict[str, tuple[int, ...]] = {}
        for symbol in self.symbols:
            found[symbol.text] = (*found.get(symbol.text, ()), *place_of(symbol.corners, *size))
        return {text: tuple(dict.fromkeys(place)) for text, place in found.items()}


def look(frame: Frame) -> FrameSight:
    """A plain look, quick enough for every picture; asks no book: for a worker."""
    from PIL.Image import Resampling

    from partsbench.reading.found import How
    from partsbench.reading.pictures import decode

    grey = _image(frame)
    found = symbols_of(decode(grey, 1, How.PLAIN))
    return FrameSight(frame, found, grey.resize((ACROSS, DOWN), Resampling.BOX).tobytes())


def look_hard(frame: Frame, book: Collection[str] = ()) -> Glance:
    """By every means, down to a comparison with the codes of `book`: a second's work or more."""
    from partsbench.reading.pictures import read_grey

    grey = _image(frame)
    found = symbols_of(read_grey(grey, book))
    if not found:
        return Glance(BEFORE_CAMERA)
    kept = BytesIO()
    grey.save(kept, "PNG", compress_level=1)
    return Glance(BEFORE_CAMERA, found, data=kept.getvalue())


def _image(frame: Frame) -> Image:
    from PIL import Image

    return Image.frombytes("L", (frame.width, frame.height), frame.grey)


@dataclass(slots=True)
class Watched:
    """What is before the camera, from one look to the next."""

    held: HeldUp = field(default_factory=HeldUp)
    still: Stillness = field(default_factory=Stillness)
    bare: BarePlaces = field(default_factory=BarePlaces)
    _seen_again: bool = False

    def take(self, sight: FrameSight) -> Counts:
        """What counts now."""
        at, known = sight.frame.at, self.held.known
        moved = self.still.look(sight.blocks, at, bool(sight.symbols))
        free = not known and not sight.symbols and not self.held.crowded
        away = self.bare.look(sight.blocks, at, sight.places, known, free)
        counts = self.held.look(sight.texts, at, moved, away)
        if counts.again or counts.new or not sight.symbols:
            self._seen_again = bool(counts.again)
        return counts

    def wants_more(self, at: float) -> bool:
        """Whether something stands there that is to be looked at hard now."""
        return self.still.wants_more(at)

    def take_hard(self, glance: Glance, seen: Seen) -> tuple[Counts, bool]:
        """After a hard look: what counts now, and whether a person must confirm it.

        One label that a decoder read after some treatment counts; all else is asked about.
        """
        codes = [*seen.codes, *(guess.code for guess in seen.probable)]
        if not codes:
            if self.still.worn_out:
                self.held.nothing_left()
            return Counts(), False
        self.still.settle()
        sure = counts_at_once(glance, seen)
        return self.held.found(codes, asked=not sure), not sure

    @property
    def hint(self) -> str:
        """What the person at the camera is told; "" when all is well."""
        if self.held.crowded:
            return CROWDED
        return AGAIN if self._seen_again else ""
