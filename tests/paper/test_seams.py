"""Renderers that smooth edges show light seams between modules drawn one by one; ours have none."""

from __future__ import annotations

import numpy as np
import pytest

from partsbench.paper.pen import Pen, polygons
from partsbench.paper.symbol import SIDE, modules, outlines
from tests.support.paper import Picture, pages

CODE = "K7Q4-D05AK"
CORNER = 5.1
LIGHTEST_INK = 16
"""Of 255; a pixel that lies wholly inside the dark parts may be no lighter."""


def drawn_whole(module: float) -> bytes:
    pen = Pen(60, 60, "Whole")
    pen.fill(polygons(outlines(CODE)), CORNER, CORNER, module)
    return pen.finish()


def drawn_in_pieces(module: float) -> bytes:
    """Every dark module as two triangles of their own (renderers fit lone boxes to pixels)."""
    pen = Pen(60, 60, "In pieces")
    halves = (((0, 0), (1, 0), (0, 1)), ((1, 0), (1, 1), (0, 1)))
    for y, row in enumerate(modules(CODE)):
        for x, dark in enumerate(row):
            for half in halves if dark else ():
                pen.fill(polygons([half]), CORNER + x * module, CORNER + y * module, module)
    return pen.finish()


def lightest_inside(page: Picture, module: float) -> int:
    """The lightest of the pixels that lie wholly inside the dark parts."""
    dark = np.array(modules(CODE))
    per_mm = page.shape[0] / 60
    margin = 0.02

    def columns(pixels: Picture) -> Picture:
        return np.floor((pixels / per_mm - CORNER) / module).astype(int)

    first, last = int(CORNER * per_mm) + 1, int((CORNER + SIDE * module) * per_mm)
    pixels = np.arange(first, last)
    near, far = columns(pixels + margin), columns(pixels + 1 - margin)
    inside = (
        dark[np.ix_(near, near)]
        & dark[np.ix_(near, far)]
        & dark[np.ix_(far, near)]
        & dark[np.ix_(far, far)]
    )
    assert inside.sum() > 400
    return int(page[first:last, first:last][inside].max())


@pytest.mark.parametrize("dpi", [100, 150, 200, 300])
@pytest.mark.parametrize("module", [0.515, 0.753, 0.841])
def test_no_light_shows_between_modules(dpi: int, module: float) -> None:
    (page,) = pages(drawn_whole(module), dpi)
    assert lightest_inside(page, module) <= LIGHTEST_INK


def test_the_measure_sees_the_seams_of_a_symbol_drawn_in_pieces() -> None:
    (page,) = pages(drawn_in_pieces(0.753), 150)
    assert lightest_inside(page, 0.753) > 2 * LIGHTEST_INK
