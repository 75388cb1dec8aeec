"""What counts of the labels before a phone's camera: as before the camera of the computer."""

from __future__ import annotations

from collections import deque
from collections.abc import Collection
from dataclasses import dataclass, field
from secrets import token_hex
from typing import Any

from partsbench.reading.held import HeldUp

TOLD_FOR = 1.4
"""Seconds for which a count is told with each frame: an answer may be lost on its way. Shorter than
a bounce of the bench, so that a page that was loaded anew meanwhile scans nothing twice."""


@dataclass(slots=True)
class BeforePhone:
    """The labels before the camera of one device. That camera moves, so that its pictures never
    show that a label is away: one comes anew after another one, or after a minute."""

    _held: HeldUp = field(default_factory=HeldUp)
    _told: deque[tuple[float, dict[str, Any]]] = field(default_factory=deque)

    def look(self, texts: Collection[str], at: float) -> list[dict[str, Any]]:
        """What counted just now, of the codes read in frames up to `at` (s); each with a mark of
        its own by which the page knows what it heard already."""
        counts = self._held.look(texts, at)
        for text in (*counts.new, *counts.again):
            said = {"mark": token_hex(8), "text": text, "again": text in counts.again}
            self._told.append((at, said))
        while self._told and at - self._told[0][0] > TOLD_FOR:
            self._told.popleft()
        return [said for _, said in self._told]

    @property
    def crowded(self) -> bool:
        """Too many labels at once: none counts."""
        return self._held.crowded
