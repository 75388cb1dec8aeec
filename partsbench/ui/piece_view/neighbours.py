"""Which rectangle an arrow key leads to."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum

from PySide6.QtCore import QRect


class Way(Enum):
    """A direction as a unit step."""

    LEFT = (-1, 0)
    RIGHT = (1, 0)
    UP = (0, -1)
    DOWN = (0, 1)


ASIDE = 3.0
"""A px to the side counts as much as so many px ahead: the eye prefers what is in line."""


def neighbour(start: str, way: Way, places: Mapping[str, QRect]) -> str | None:
    """The nearest place in that direction from `start`; None at the edge."""
    here = places[start].center()
    dx, dy = way.value
    best: tuple[float, str] | None = None
    for key, rect in places.items():
        there = rect.center()
        ahead = (there.x() - here.x()) * dx + (there.y() - here.y()) * dy
        aside = _gap(places[start], rect, way)
        if key == start or ahead <= 0 or (aside and _overlaps_ahead(places[start], rect, way)):
            continue
        # Sideways only the gap between the two counts, so that a wide tile is in line with all
        # that stand under it; the distance of the middles decides between equals.
        middle = abs((there.x() - here.x()) * dy + (there.y() - here.y()) * dx)
        cost = ahead + ASIDE * aside + 0.01 * middle
        if best is None or cost < best[0]:
            best = (cost, key)
    return best[1] if best else None


def _gap(a: QRect, b: QRect, way: Way) -> float:
    """How far two rectangles are apart across the direction; 0 when they overlap."""
    if way in (Way.LEFT, Way.RIGHT):
        return max(0, a.top() - b.bottom(), b.top() - a.bottom())
    return max(0, a.left() - b.right(), b.left() - a.right())


def _overlaps_ahead(a: QRect, b: QRect, way: Way) -> bool:
    """Whether two rectangles share part of the direction: then neither lies ahead of the other."""
    across = Way.UP if way in (Way.LEFT, Way.RIGHT) else Way.LEFT
    return _gap(a, b, across) == 0
