"""Seams: the edges where faces with different finish paths meet on one carcase.

Faces are rectangles in mm on one flat sheet: the front, or the carcase unfolded like a box, so
that a side lies beside the front it folds onto.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from partsbench.core.finish.steps import NO_STEP_PATHS
from partsbench.core.piece.spot import Spot

TOUCH_MM = 4.0


@dataclass(frozen=True, slots=True)
class FaceRect:
    """One face on the sheet, the key of its path, and where it lies, in mm."""

    face: Spot
    path: str
    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height


@dataclass(frozen=True, slots=True)
class Seam:
    """The line between two faces, end to end in mm."""

    a: Spot
    b: Spot
    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def length(self) -> float:
        """mm; the line is upright or level."""
        return abs(self.x1 - self.x0) + abs(self.y1 - self.y0)


def seams(faces: Sequence[FaceRect], touch: float = TOUCH_MM) -> list[Seam]:
    """Every seam. Edges nearer than `touch` mm meet: the gap round a drawer is no gap of paint.

    Two faces that get no finish at all have no seam. A face inside another (a drawer front in the
    front of the carcase) meets it all round, but for what lies on its outline.
    """
    found: list[Seam] = []
    for a, b in combinations(faces, 2):
        if a.path == b.path or (a.path in NO_STEP_PATHS and b.path in NO_STEP_PATHS):
            continue
        if _holds(a, b, touch):
            found += _round(a, b, touch)
        elif _holds(b, a, touch):
            found += _round(b, a, touch)
        else:
            found += _beside(a, b, touch)
    return found


def of_face(found: Sequence[Seam], face: Spot) -> tuple[Spot, ...]:
    """The faces that `face` meets at a seam, each once."""
    others = (s.b if s.a == face else s.a for s in found if face in (s.a, s.b))
    return tuple(dict.fromkeys(others))


def _holds(outer: FaceRect, inner: FaceRect, touch: float) -> bool:
    return (
        outer.x - touch <= inner.x
        and inner.right <= outer.right + touch
        and outer.y - touch <= inner.y
        and inner.bottom <= outer.bottom + touch
    )


def _round(outer: FaceRect, inner: FaceRect, touch: float) -> Iterator[Seam]:
    a, b, i = outer.face, inner.face, inner
    if i.x - outer.x > touch:
        yield Seam(a, b, i.x, i.y, i.x, i.bottom)
    if outer.right - i.right > touch:
        yield Seam(a, b, i.right, i.y, i.right, i.bottom)
    if i.y - outer.y > touch:
        yield Seam(a, b, i.x, i.y, i.right, i.y)
    if outer.bottom - i.bottom > touch:
        yield Seam(a, b, i.x, i.bottom, i.right, i.bottom)


def _beside(a: FaceRect, b: FaceRect, touch: float) -> Iterator[Seam]:
    top, low = max(a.y, b.y), min(a.bottom, b.bottom)
    left, right = max(a.x, b.x), min(a.right, b.right)
    for one, other in ((a, b), (b, a)):
        if abs(one.right - other.x) <= touch and low - top > touch:
            yield Seam(a.face, b.face, one.right, top, one.right, low)
        if abs(one.bottom - other.y) <= touch and right - left > touch:
            yield Seam(a.face, b.face, left, one.bottom, right, one.bottom)
