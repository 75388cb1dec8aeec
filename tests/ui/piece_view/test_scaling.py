"""A front of many openings fills its space; one of few stays true to scale."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSize

from partsbench.core.piece.drawing import ShapeKind, elevation
from partsbench.core.piece.front import front_from_rows
from partsbench.core.piece.furnish import furnish
from partsbench.core.piece.piece import Piece
from partsbench.ui.piece_view.scaling import EASY_ACROSS, EASY_DOWN, Scaling


def scaled(rows: tuple[int, ...], size: QSize, *, fills: bool = True) -> Scaling:
    front = front_from_rows(rows)
    piece = furnish("K7Q4", "Heron", front, legs=4)  # type: ignore[arg-type]
    assert isinstance(piece, Piece)
    return Scaling(elevation(piece), size, fills)


def test_sixty_drawers_are_drawn_out_across() -> None:
    size = QSize(1100, 460)
    wide = scaled((6,) * 10, size)
    openings = [wide.rect(s) for s in wide.drawing.of_kind(ShapeKind.OPENING)]
    assert min(r.width() for r in openings) == pytest.approx(EASY_ACROSS, rel=0.01)
    assert wide.scales[0] > 3 * wide.scales[1]
    narrow = scaled((6,) * 10, size, fills=False)
    assert narrow.scales == (narrow.scale, narrow.scale)


def test_three_rows_of_twenty_are_drawn_out_down() -> None:
    tall = scaled((20,) * 3, QSize(240, 460))
    high = min(tall.rect(s).height() for s in tall.drawing.of_kind(ShapeKind.OPENING))
    assert high == pytest.approx(EASY_DOWN, rel=0.01)


def test_a_usual_chest_stays_true_to_scale() -> None:
    chest = scaled((2, 2, 3), QSize(860, 460))
    assert chest.scales[0] == chest.scales[1] == chest.scale


@pytest.mark.parametrize("rows", [(6,) * 10, (20,), (2, 2, 3), (1,) * 20])
@pytest.mark.parametrize("size", [QSize(300, 240), QSize(860, 460), QSize(240, 900)])
def test_all_of_it_stays_within_the_view(rows: tuple[int, ...], size: QSize) -> None:
    scaling = scaled(rows, size)
    whole = scaling.rect_of_all()
    assert whole.left() >= 0 and whole.top() >= 0
    assert whole.right() <= size.width() and whole.bottom() <= size.height()
    for shape in scaling.drawing.shapes:
        assert whole.adjusted(-1, -1, 1, 1).contains(scaling.rect(shape)), shape
