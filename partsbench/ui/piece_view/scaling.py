"""Millimetres of the drawing as pixels of a view, and back."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize

from partsbench.core.piece.drawing import Drawing, Shape, ShapeKind
from partsbench.core.piece.front import Front

MARGIN = 14
TAG, TAG_SHARE = 34.0, 0.08
"""Room beside a thin leg for its number: px, and at most this share of the view's width."""


@dataclass(frozen=True, slots=True)
class Scaling:
    """A drawing in the middle of a view of some size, as large as fits."""

    drawing: Drawing
    size: QSize

    @property
    def tag(self) -> float:
        """Px beside a thin leg for its number; 0 where there is no leg."""
        if not self.drawing.of_kind(ShapeKind.LEG):
            return 0.0
        return min(TAG, self.size.width() * TAG_SHARE)

    @property
    def scale(self) -> float:
        """Px for a mm."""
        across = (self.size.width() - 2 * max(MARGIN, self.tag)) / self.drawing.width
        down = (self.size.height() - 2 * MARGIN) / self.drawing.height
        return max(0.001, min(across, down))

    def to_view(self, x: float, y: float) -> QPointF:
        """Mm from the top left corner of the drawing → px of the view."""
        scale = self.scale
        left = (self.size.width() - self.drawing.width * scale) / 2
        top = (self.size.height() - self.drawing.height * scale) / 2
        return QPointF(left + x * scale, top + y * scale)

    def rect(self, shape: Shape) -> QRectF:
        """A shape in px."""
        corner, scale = self.to_view(shape.x, shape.y), self.scale
        return QRectF(corner.x(), corner.y(), shape.width * scale, shape.height * scale)

    def rect_of_all(self) -> QRectF:
        """The whole drawing in px."""
        corner, scale = self.to_view(0, 0), self.scale
        return QRectF(
            corner.x(), corner.y(), self.drawing.width * scale, self.drawing.height * scale
        )

    def front_rect(self, front: Front) -> QRectF:
        """The grid of openings in px."""
        carcase = self.drawing.of_kind(ShapeKind.CARCASE)[0]
        inset = (carcase.width - front.width) / 2
        corner = self.to_view(carcase.x + inset, carcase.y + inset)
        return QRectF(corner.x(), corner.y(), front.width * self.scale, front.height * self.scale)
