"""Whether a picture shows that a label is away, told from the mean grey of its blocks.

That a label is not read says little: a hand that shakes, glare, and a lens that seeks its focus
hide one that is still there. It is away when the whole picture is as it was before any label came.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from partsbench.reading.found import Corners

ACROSS, DOWN = 16, 12
"""Blocks of a picture."""
MOVED = 24
"""Steps of 255 by which the mean of a block changes when something moves; noise and a hand that
tries to be still stay below, measured with films."""
BEFORE_S = 1.0
"""The picture without a label is one so long before a label is read: it comes in as a blur."""
AROUND = 0.5
"""Of a symbol's side: the paper round it, which belongs to its place."""
SHARE = 4
"""Besides its place, one part in so many of its blocks may differ: someone moves behind it."""


@dataclass(frozen=True, slots=True)
class _Last:
    """Where a label was read last, as numbers of blocks, and the picture in which it was."""

    place: tuple[int, ...]
    blocks: bytes


@dataclass(slots=True)
class BarePlaces:
    """The places of the labels before the camera, and the picture without any."""

    _lasts: dict[str, _Last] = field(default_factory=dict)
    _free: deque[tuple[float, bytes]] = field(default_factory=deque)

    def look(self, blocks: bytes, at: float, read: Mapping[str, tuple[int, ...]],
             known: Collection[str], free: bool) -> frozenset[str]:  # fmt: skip
        """Take a picture's blocks, with the places of the labels that are `read` in it; those of
        the `known` labels that it shows to be away. `free`: none was there, nor is now."""
        self._lasts = {text: last for text, last in self._lasts.items() if text in known}
        self._lasts |= {text: _Last(place, blocks) for text, place in read.items()}
        if free:
            self._free.append((at, blocks))
        while len(self._free) > 1 and self._free[1][0] <= self._newest_free - BEFORE_S:
            self._free.popleft()
        before = self._free[0] if self._free else None
        if before is None or before[0] > self._newest_free - BEFORE_S:
            return frozenset()
        return frozenset(
            text for text, last in self._lasts.items() if _is_bare(last, blocks, before[1])
        )

    @property
    def _newest_free(self) -> float:
        return self._free[-1][0]


def _is_bare(last: _Last, blocks: bytes, before: bytes) -> bool:
    """As before any label came, and not as when it was read; elsewhere next to nothing is new."""
    if not len(blocks) == len(before) == len(last.blocks):
        return False
    new = {
        n for n, (now, then) in enumerate(zip(blocks, before, strict=True)) if _differ(now, then)
    }
    gone = any(_differ(blocks[n], last.blocks[n]) for n in last.place)
    return gone and new.isdisjoint(last.place) and len(new) <= len(last.place) // SHARE


def _differ(grey: int, other: int) -> bool:
    return abs(grey - other) > MOVED


def place_of(corners: Corners, width: int, height: int) -> tuple[int, ...]:
    """The numbers of the blocks on which a symbol and the paper round it lie; `width` and `height`
    of the picture in pixels."""
    columns = _reach([x for x, _ in corners], width, ACROSS)
    rows = _reach([y for _, y in corners], height, DOWN)
    return tuple(row * ACROSS + column for row in rows for column in columns)


def _reach(along: list[float], size: int, count: int) -> range:
    more = AROUND * (max(along) - min(along))
    first, last = ((edge * count) // size for edge in (min(along) - more, max(along) + more))
    return range(max(0, int(first)), min(count - 1, int(last)) + 1)
