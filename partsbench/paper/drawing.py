"""Draws a piece into a box of a page, with the same lines on labels and on the proof sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from partsbench.core.piece.drawing import Drawing, Shape, ShapeKind
from partsbench.paper.layout import Box
from partsbench.paper.pen import Pen, PenPoint, text_width


class ShapeLook(StrEnum):
    """How a shape of the drawing is told from the others, in black only."""

    FILLED = "filled"
    OUTLINED = "outlined"
    HATCHED = "hatched"
    TICKED = "ticked"
    DOUBTED = "ticked in a dashed frame"
    CROSSED = "crossed"


@dataclass(frozen=True, slots=True)
class DrawnMark:
    """A shape and its look; `words` are written into it where they fit."""

    shape: Shape
    look: ShapeLook
    words: str = ""


@dataclass(frozen=True, slots=True)
class Placed:
    """A drawing laid into a box: mm of the page = corner + scale × mm of the piece."""

    x: float
    y: float
    scale: float

    def box(self, shape: Shape, least: float = 0.0) -> Box:
        """The shape on the page, grown about its middle to `least` mm each way."""
        width = max(shape.width * self.scale, least)
        height = max(shape.height * self.scale, least)
        middle_x, middle_y = shape.middle
        return Box(
            self.x + middle_x * self.scale - width / 2,
            self.y + middle_y * self.scale - height / 2,
            width,
            height,
        )


def as_it_is() -> Placed:
    """For shapes whose sizes are mm of the page already."""
    return Placed(0.0, 0.0, 1.0)


SMALLEST_MARK = 1.2
"""mm; a pull that is filled on a label is drawn no smaller than that."""


def placed(drawing: Drawing, box: Box) -> Placed:
    """The drawing as large as it fits, in the middle of the box."""
    scale = min(box.width / drawing.width, box.height / drawing.height)
    x = box.x + (box.width - drawing.width * scale) / 2
    y = box.y + (box.height - drawing.height * scale) / 2
    return Placed(x, y, scale)


def draw_lines(pen: Pen, drawing: Drawing, at: Placed, thick: float = 0.15) -> None:
    """The piece in outline: what a door hides is dashed, rear legs and pulls are thin."""

    def boxes(*kinds: ShapeKind) -> Iterable[tuple[float, float, float, float]]:
        found = (at.box(s) for s in drawing.of_kind(*kinds))
        return ((b.x, b.y, b.width, b.height) for b in found)

    pen.boxes(boxes(ShapeKind.REAR_LEG), thick=thick * 0.6)
    pen.boxes(boxes(ShapeKind.LEG), thick=thick, fill=1.0)
    pen.boxes(boxes(ShapeKind.CARCASE, ShapeKind.TOP), thick=thick * 1.6, fill=1.0)
    pen.boxes(boxes(ShapeKind.OPENING), thick=thick)
    pen.boxes(boxes(ShapeKind.PULL), thick=thick * 0.6)
    pen.boxes(boxes(ShapeKind.HIDDEN), thick=thick * 0.8, dash=thick * 4)


def draw_marks(pen: Pen, marks: Iterable[DrawnMark], at: Placed, thick: float = 0.15) -> None:
    """The marked shapes over the lines."""
    for mark in marks:
        box = at.box(mark.shape, SMALLEST_MARK)
        _LOOKS[mark.look](pen, box, thick)
        if mark.words:
            _words(pen, box, mark)


def _filled(pen: Pen, box: Box, thick: float) -> None:
    pen.boxes([(box.x, box.y, box.width, box.height)], thick=0, fill=0.0)


def _outlined(pen: Pen, box: Box, thick: float) -> None:
    heavy = min(thick * 4, 0.6)
    pen.boxes([(box.x, box.y, box.width, box.height)], thick=heavy)


def _hatched(pen: Pen, box: Box, thick: float) -> None:
    pen.boxes([(box.x, box.y, box.width, box.height)], thick=thick, fill=1.0)
    step = 1.3
    with pen.clipped((box.x, box.y, box.width, box.height)):
        reach = box.x - box.height
        while reach < box.right:
            reach += step
            pen.line((reach, box.bottom), (reach + box.height, box.y), thick)


def _ticked(pen: Pen, box: Box, thick: float) -> None:
    size = min(box.width, box.height, 8.0) * 0.5
    x, y = box.right - size * 1.25, box.bottom - size * 0.35
    corners: list[PenPoint] = [
        (x, y - size * 0.4),
        (x + size * 0.35, y),
        (x + size, y - size * 0.9),
    ]
    for start, end in pairwise(corners):
        pen.line(start, end, max(size * 0.14, 0.3))


def _doubted(pen: Pen, box: Box, thick: float) -> None:
    frame = box.inset(min(box.width, box.height) * 0.08)
    heavy = max(thick * 1.5, 0.3)
    pen.boxes([(frame.x, frame.y, frame.width, frame.height)], thick=heavy, dash=heavy * 3)
    _ticked(pen, frame, thick)


def _crossed(pen: Pen, box: Box, thick: float) -> None:
    heavy = min(thick * 3, 0.5)
    pen.boxes([(box.x, box.y, box.width, box.height)], thick=heavy)
    pen.line((box.x, box.y), (box.right, box.bottom), heavy)
    pen.line((box.x, box.bottom), (box.right, box.y), heavy)


_LOOKS = {
    ShapeLook.FILLED: _filled,
    ShapeLook.OUTLINED: _outlined,
    ShapeLook.HATCHED: _hatched,
    ShapeLook.TICKED: _ticked,
    ShapeLook.DOUBTED: _doubted,
    ShapeLook.CROSSED: _crossed,
}


def _words(pen: Pen, box: Box, mark: DrawnMark) -> None:
    """The words in the upper left of the shape, as large as they fit; none when too small."""
    wide = text_width(mark.words, 1.0, bold=True)
    size = min(box.height * 0.42, (box.width - 1) * 0.62 / wide, 5.0)
    if size < 1.6:
        return
    white = mark.look is ShapeLook.FILLED
    pen.text(box.x + size * 0.25, box.y + size * 0.95, mark.words, size, bold=True, white=white)
