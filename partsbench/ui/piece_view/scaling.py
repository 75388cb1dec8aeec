"""Millimetres of the drawing as pixels of a view, and back."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize

from partsbench.core.piece.drawing import Drawing, Shape, ShapeKind
from partsbench.core.piece.front import Front

MARGIN = 14
TAG, TAG_SHARE = 34.0, 0.08
"""Room beside a thin leg for its number: px, and at most this share of the view's width."""


EASY_ACROSS, EASY_DOWN = 112.0, 46.0
"""Px of an opening in which its number and its steps are easily read."""


@dataclass(frozen=True, slots=True)
class Scaling:
    """A drawing in the middle of a view of some size, as large as fits.

    `fills`: where openings would be too small to read, the drawing is drawn out one way, as far as
    there is room and they need it. A front of few openings stays true to scale.
    """

    drawing: Drawing
    size: QSize
    fills: bool = False

    @property
    def tag(self) -> float:
        """Px beside a thin leg for its number; 0 where there is no leg."""
        if not self.drawing.of_kind(ShapeKind.LEG):
            return 0.0
        return min(TAG, self.size.width() * TAG_SHARE)

    @property
    def scale(self) -> float:
        """Px for a mm; the smaller of the two ways where the drawing is drawn out."""
        return max(0.001, min(self._room()))

    @property
    def scales(self) -> tuple[float, float]:
        """Px for a mm across and down."""
        scale = self.scale
        openings = self.drawing.of_kind(ShapeKind.OPENING)
        if not self.fills or not openings:
            return scale, scale
        across, down = self._room()
        least = min(s.width for s in openings), min(s.height for s in openings)
        return (
            max(scale, min(across, EASY_ACROSS / least[0])),
            max(scale, min(down, EASY_DOWN / least[1])),
        )

    def _room(self) -> tuple[float, float]:
        """Px for a mm if the drawing took all of the width, all of the height."""
        return (
            (self.size.width() - 2 * max(MARGIN, self.tag)) / self.drawing.width,
            (self.size.height() - 2 * MARGIN) / self.drawing.height,
        )

    def to_view(self, x: float, y: float) -> QPointF:
        """Mm from the top left corner of the drawing → px of the view."""
        across, down = self.scales
        left = (self.size.width() - self.drawing.width * across) / 2
        top = (self.size.height() - self.drawing.height * down) / 2
        return QPointF(left + x * across, top + y * down)

    def rect(self, shape: Shape) -> QRectF:
        """A shape in px."""
        return self._box(shape.x, shape.y, shape.width, shape.height)

    def rect_of_all(self) -> QRectF:
        """The whole drawing in px."""
        return self._box(0, 0, self.drawing.width, self.drawing.height)

    def front_rect(self, front: Front) -> QRectF:
        """The grid of openings in px."""
        carcase = self.drawing.of_kind(ShapeKind.CARCASE)[0]
        inset = (carcase.width - front.width) / 2
        return self._box(carcase.x + inset, carcase.y + inset, front.width, front.height)

    def _box(self, x: float, y: float, width: float, height: float) -> QRectF:
        return QRectF(self.to_view(x, y), self.to_view(x + width, y + height))
