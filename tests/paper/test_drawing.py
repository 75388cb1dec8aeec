from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from partsbench.core.piece.drawing import Shape, ShapeKind, elevation
from partsbench.core.piece.piece import Piece
from partsbench.paper.drawing import (
    SMALLEST_MARK,
    DrawnMark,
    ShapeLook,
    as_it_is,
    draw_lines,
    draw_marks,
    placed,
)
from partsbench.paper.layout import Box
from partsbench.paper.pen import Pen
from tests.support.paper import Picture, heron, pages, with_a_door
from tests.support.some_pieces import pieces


@given(pieces(), st.floats(5, 100), st.floats(5, 100))
@settings(max_examples=40)
def test_every_shape_of_any_piece_lies_in_the_box(
    piece: Piece, width: float, height: float
) -> None:
    drawing = elevation(piece)
    box = Box(3, 4, width, height)
    at = placed(drawing, box)
    for shape in drawing.shapes:
        own = at.box(shape)
        assert own.x >= box.x - 1e-6
        assert own.y >= box.y - 1e-6
        assert own.right <= box.right + 1e-6
        assert own.bottom <= box.bottom + 1e-6
    fills_width = drawing.width * at.scale == pytest.approx(width)
    fills_height = drawing.height * at.scale == pytest.approx(height)
    assert fills_width or fills_height


def test_a_mark_too_small_to_see_is_drawn_larger_about_its_middle() -> None:
    tiny = Shape(ShapeKind.PULL, 10, 10, 0.2, 0.1)
    box = as_it_is().box(tiny, SMALLEST_MARK)
    assert (box.width, box.height) == (SMALLEST_MARK, SMALLEST_MARK)
    assert box.x + box.width / 2 == pytest.approx(tiny.middle[0])


def marked(look: ShapeLook, words: str = "") -> Picture:
    pen = Pen(40, 30, "A mark")
    draw_marks(pen, [DrawnMark(Shape(ShapeKind.OPENING, 10, 10, 20, 10), look, words)], as_it_is())
    return pages(pen.finish(), 254)[0]


def test_each_look_is_told_from_the_others_without_colour() -> None:
    ink = {look: float((marked(look) < 128)[105:195, 105:295].mean()) for look in ShapeLook}
    assert ink[ShapeLook.FILLED] == 1.0
    assert ink[ShapeLook.OUTLINED] < 0.02
    assert 0.05 < ink[ShapeLook.HATCHED] < 0.5
    pictures = [marked(look) for look in ShapeLook]
    for one, picture in enumerate(pictures):
        for other in pictures[:one]:
            assert (picture != other).mean() > 0.005


def test_nothing_is_hatched_outside_its_shape() -> None:
    page = marked(ShapeLook.HATCHED) < 128
    page[97:204, 97:304] = False
    assert not page.any()


def test_words_on_black_are_white() -> None:
    assert (marked(ShapeLook.FILLED, "D5")[105:195, 105:295] > 200).any()


def test_words_that_would_be_too_small_are_left_out() -> None:
    pen = Pen(40, 30, "Small")
    small = Shape(ShapeKind.OPENING, 10, 10, 2, 2)
    draw_marks(pen, [DrawnMark(small, ShapeLook.OUTLINED, "D59")], as_it_is())
    assert b"/Length" in pen.finish()
    assert (pages(_alone(small, "D59"), 254)[0] == pages(_alone(small, ""), 254)[0]).all()


def _alone(shape: Shape, words: str) -> bytes:
    pen = Pen(40, 30, "Small")
    draw_marks(pen, [DrawnMark(shape, ShapeLook.OUTLINED, words)], as_it_is())
    return pen.finish()


def test_what_a_door_hides_is_drawn_dashed_inside_it() -> None:
    """Along the upper side of a hidden opening ink and paper take turns."""
    drawing = elevation(with_a_door())
    pen = Pen(100, 100, "A door")
    at = placed(drawing, Box(5, 5, 90, 90))
    draw_lines(pen, drawing, at, 0.3)
    (page,) = pages(pen.finish(), 508)
    hidden = at.box(drawing.of_kind(ShapeKind.HIDDEN)[0])
    plain = at.box(drawing.of_kind(ShapeKind.OPENING)[0])

    def turns(box: Box) -> int:
        row = page[round(box.y * 20), round((box.x + 1) * 20) : round((box.right - 1) * 20)] < 128
        return int((row[1:] != row[:-1]).sum())

    assert turns(hidden) > 10
    assert turns(plain) == 0


def test_a_piece_is_drawn_with_top_legs_and_pulls() -> None:
    drawing = elevation(heron())
    pen = Pen(100, 100, "Heron")
    at = placed(drawing, Box(5, 5, 90, 90))
    draw_lines(pen, drawing, at, 0.3)
    (page,) = pages(pen.finish(), 254)
    for kind in (ShapeKind.TOP, ShapeKind.LEG, ShapeKind.PULL, ShapeKind.OPENING):
        box = at.box(drawing.of_kind(kind)[0])
        x, y = round(box.x * 10), round((box.y + box.height / 2) * 10)
        assert (page[y - 1 : y + 2, x - 3 : x + 4] < 128).any(), kind
