"""What is held before a camera: which label counts, and when a picture stands still unread.

A scanner speaks once for each pull of its trigger; a camera sees the same label in every picture.
So a label counts when it comes, and not again until the picture showed that it was away. One that
was only not read may have been there all the time: it is told as seen again, which records nothing.
Pure: time is an argument (s).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field

from partsbench.core.verbs import wall_code
from partsbench.reading.bare import MOVED

GONE_S = 2.0
"""A label is away when for so long the picture shows that it is, or another one came and it was
not read. Longer than a bounce of the bench, so that it counts when it is back."""
FORGOTTEN_S = 60.0
"""After so long without being read it counts when it is read, whatever the picture shows: what the
bench armed is disarmed by then."""
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


@dataclass(frozen=True, slots=True)
class Counts:
    """What counts now. `new` came, like a scan; `again` may never have been away: it is shown,
    and nothing may be recorded by it."""

    new: tuple[str, ...] = ()
    again: tuple[str, ...] = ()


@dataclass(slots=True)
class _Entry:
    """A label before the camera. `lasts`: it was read by the last resort only, so that a plain
    look that does not see it says nothing.

    missed: since when it is not read in a picture that changed; bare: since when the picture shows
    it away; followed: another label came since it was read. `hidden`: not read for so long that it
    is to be shown again.
    """

    looks: int = 0
    counted: bool = False
    lasts: bool = False
    moved: bool = False
    missed: float | None = None
    bare: float | None = None
    followed: bool = False
    hidden: bool = False

    def is_read(self) -> bool:
        """It is there; whether it was hidden until now."""
        was, self.hidden = self.hidden, False
        self.lasts, self.moved, self.missed, self.bare = False, False, None, None
        self.followed = False
        return was


@dataclass(slots=True)
class HeldUp:
    """The labels before the camera."""

    _entries: dict[str, _Entry] = field(default_factory=dict)
    _crowd: float | None = None
    _last: float | None = None

    def look(self, texts: Collection[str], at: float, moved: bool = True,
             bare: Collection[str] = ()) -> Counts:  # fmt: skip
        """What counts now, of the codes that a plain look reads at `at`. `moved`: the picture is
        not as it stood; `bare`: the labels that it shows to be away."""
        if self._last is not None and at - self._last > STALL_S:
            self._nothing_was_seen_for(at - self._last)
        self._last = at
        if len(set(texts)) > MOST_AT_ONCE:
            self._crowd = at
        elif self._crowd is not None and at - self._crowd >= GONE_S:
            self._crowd = None
        self._miss(texts, at, moved, bare)
        each = {text: self._counts(text, len(set(texts))) for text in dict.fromkeys(texts)}
        new = tuple(text for text, how in each.items() if how == "new")
        if new:
            self._follow(texts)
        return Counts(new, tuple(text for text, how in each.items() if how == "again"))

    def found(self, texts: Collection[str], asked: bool = False) -> Counts:
        """Those of what the last resort read that are new; they count now, or are `asked` about
        and count when `took` says so."""
        each = dict.fromkeys(texts)
        new = tuple(text for text in each if text not in self._entries)
        for text in new:
            self._entries[text] = _Entry(counted=not asked, lasts=True)
        again = tuple(text for text in each if self._entries[text].hidden)
        for text in each:
            lasts = self._entries[text].lasts or text in again
            self._entries[text].is_read()
            self._entries[text].lasts = lasts
        return Counts((*new, *again)) if asked else Counts(new, again)

    def took(self, text: str) -> None:
        """A person took what was asked about for a scan."""
        if text in self._entries:
            self._entries[text].counted = True

    def nothing_left(self) -> None:
        """The last resort finds nothing in a picture that stands still: what it read is hidden."""
        for entry in self._entries.values():
            if entry.lasts:
                entry.lasts, entry.moved, entry.hidden = False, True, True

    @property
    def crowded(self) -> bool:
        """Too many labels are, or just were, in the picture: none counts."""
        return self._crowd is not None

    @property
    def known(self) -> frozenset[str]:
        """The labels that are before the camera, or may still be."""
        return frozenset(self._entries)

    def _counts(self, text: str, beside: int) -> str:
        """Whether it counts as `new` or `again`; "" when not."""
        entry = self._entries.setdefault(text, _Entry())
        entry.looks += 1
        was_hidden = entry.is_read()
        if self.crowded:
            return ""
        wall = wall_code(text) is not None
        if entry.counted:
            return "again" if was_hidden and not wall else ""
        if wall and (beside > 1 or entry.looks < WALL_LOOKS):
            return ""
        entry.counted = True
        return "new"

    def _miss(self, texts: Collection[str], at: float, moved: bool, bare: Collection[str]) -> None:
        for text, entry in list(self._entries.items()):
            if text in texts:
                continue
            entry.bare = (at if entry.bare is None else entry.bare) if text in bare else None
            if not entry.lasts:
                entry.moved = entry.moved or moved
            if entry.moved and entry.missed is None:
                entry.missed = at
            if _is_away(entry, at):
                del self._entries[text]
            elif _lasted(entry.missed, at, GONE_S):
                entry.hidden = True

    def _follow(self, texts: Collection[str]) -> None:
        for text, entry in self._entries.items():
            if text not in texts:
                entry.followed = True

    def _nothing_was_seen_for(self, seconds: float) -> None:
        """The camera stalled, or was off."""
        if seconds >= FORGOTTEN_S:
            self._entries.clear()
        for entry in self._entries.values():
            entry.missed = entry.bare = None
            entry.hidden = entry.hidden or seconds >= GONE_S


def _is_away(entry: _Entry, at: float) -> bool:
    return (
        _lasted(entry.bare, at, GONE_S)
        or (entry.followed and _lasted(entry.missed, at, GONE_S))
        or _lasted(entry.missed, at, FORGOTTEN_S)
        or (not entry.counted and _lasted(entry.missed, at, GONE_S))
    )


def _lasted(since: float | None, at: float, seconds: float) -> bool:
    return since is not None and at - since >= seconds


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
