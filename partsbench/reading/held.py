"""What is held before a camera: which label counts, and when a picture stands still unread.

A scanner speaks once for each pull of its trigger; a camera sees the same label in every picture.
So a label counts when it comes, and not again until it was away. Pure: time is an argument (s).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field

from partsbench.core.verbs import wall_code

GONE_S = 2.0
"""A label is away when it was not read for so long and the picture changed; a shaking hand blurs
it for a shorter time. Longer than a bounce of the bench, so that it counts when it is back."""
STALL_S = 1.0
"""Pictures that lie further apart say nothing of what was between them."""
MOST_AT_ONCE = 2
"""More labels than this in one picture are a sheet, not what is held up."""
WALL_LOOKS = 3
"""A code of the wall changes what all others do: it must be read alone, so many times."""

STILL_S = 0.8
AGAIN_S = 1.0
MOST_TRIES = 3
"""So often is the last resort tried on what stands still; then not until something moves."""
MOVED = 24
"""Steps of 255 by which the mean of a block changes when something moves; noise and a hand that
tries to be still stay below, measured with films."""


@dataclass(slots=True)
class _Entry:
    """A label before the camera. `lasts`: it was read by the last resort only, so that a plain
    look that does not see it says nothing."""

    looks: int = 0
    counted: bool = False
    lasts: bool = False
    moved: bool = False
    missed: float | None = None


@dataclass(slots=True)
class HeldUp:
    """The labels before the camera."""

    _entries: dict[str, _Entry] = field(default_factory=dict)
    _crowd: float | None = None
    _last: float | None = None

    def look(self, texts: Collection[str], at: float, moved: bool = True) -> list[str]:
        """The codes that count now, of those that a plain look reads at `at`; `moved` when the
        picture is not as it stood."""
        if self._last is not None and at - self._last > STALL_S:
            self._forget_absences()
        self._last = at
        if len(set(texts)) > MOST_AT_ONCE:
            self._crowd = at
        elif self._crowd is not None and at - self._crowd >= GONE_S:
            self._crowd = None
        self._miss(texts, at, moved)
        return [text for text in dict.fromkeys(texts) if self._counts(text, len(set(texts)))]

    def found(self, texts: Collection[str], asked: bool = False) -> list[str]:
        """Those of what the last resort read that are new; they count now, or are `asked` about
        and count when `took` says so."""
        new = [text for text in dict.fromkeys(texts) if text not in self._entries]
        for text in new:
            self._entries[text] = _Entry(counted=not asked, lasts=True)
        return new

    def took(self, text: str) -> None:
        """A person took what was asked about for a scan."""
        if text in self._entries:
            self._entries[text].counted = True

    def nothing_left(self) -> None:
        """The last resort finds nothing in a picture that stands still: what it read is away."""
        self._entries = {text: entry for text, entry in self._entries.items() if not entry.lasts}

    @property
    def crowded(self) -> bool:
        """Too many labels are, or just were, in the picture: none counts."""
        return self._crowd is not None

    def _counts(self, text: str, beside: int) -> bool:
        entry = self._entries.setdefault(text, _Entry())
        entry.looks += 1
        entry.lasts, entry.moved, entry.missed = False, False, None
        if entry.counted or self.crowded:
            return False
        if wall_code(text) is not None and (beside > 1 or entry.looks < WALL_LOOKS):
            return False
        entry.counted = True
        return True

    def _miss(self, texts: Collection[str], at: float, moved: bool) -> None:
        for text, entry in list(self._entries.items()):
            if text in texts or entry.lasts:
                continue
            entry.moved = entry.moved or moved
            if entry.moved and entry.missed is None:
                entry.missed = at
            if entry.missed is not None and at - entry.missed >= GONE_S:
                del self._entries[text]

    def _forget_absences(self) -> None:
        for entry in self._entries.values():
            entry.missed = None


@dataclass(slots=True)
class Stillness:
    """Whether the picture stands still, told from the mean grey of its blocks."""

    _blocks: bytes = b""
    _since: float = 0.0
    _tries: int = 0
    _tried: float = 0.0
    _settled: bool = False

    def look(self, blocks: bytes, at: float, read: bool) -> bool:
        """Take a picture's blocks; whether it moved. `read`: a label in it was read plainly."""
        steps = (abs(a - b) for a, b in zip(blocks, self._blocks, strict=False))
        moved = len(blocks) != len(self._blocks) or max(steps, default=0) > MOVED
        if moved:
            self._blocks, self._since = blocks, at
            self._tries, self._settled = 0, False
        self._settled = self._settled or read
        return moved

    def wants_more(self, at: float) -> bool:
        """Whether the last resort is to be tried on the picture now: this counts as a try."""
        rested = not self._tries or at - self._tried >= AGAIN_S
        if self._settled or at - self._since < STILL_S or self.worn_out or not rested:
            return False
        self._tries, self._tried = self._tries + 1, at
        return True

    @property
    def worn_out(self) -> bool:
        """It was tried often enough on what stands there."""
        return self._tries >= MOST_TRIES

    def settle(self) -> None:
        """It was read: no more tries until something moves."""
        self._settled = True
