from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.paper.layout import (
    HOME_HEAD,
    PAD,
    SMALL_DIGITS,
    SMALLEST_DIGITS,
    SMALLEST_MAP,
    Box,
    Layout,
    layout_for,
    small_layout_for,
)
from partsbench.paper.sheets import Stock, stocks
from partsbench.paper.symbol import SMALLEST_MODULE, WHOLE


@given(
    st.floats(30, 210),
    st.floats(15, 297),
    st.floats(1.0, 2.2),
    st.integers(3, 4),
    st.sampled_from([0.0, HOME_HEAD]),
    st.floats(0.05, 20),
)
@example(width=70, height=36, wide=2.1, rows=3, head=0.0, aspect=0.45)
@example(width=70, height=36, wide=2.1, rows=3, head=HOME_HEAD, aspect=0.45)
def test_nothing_on_a_label_meets_anything_else(
    width: float, height: float, wide: float, rows: int, head: float, aspect: float
) -> None:
    layout = layout_for(width, height, wide, rows, head, aspect)
    if isinstance(layout, Refused):
        assert f"{width:g} × {height:g} mm is too small" in layout.sentence
        return
    assert not [pair for pair in combinations(layout.boxes, 2) if pair[0].meets(pair[1])]
    for box in layout.boxes:
        assert min(box.x, box.y) >= PAD - 1e-9
        assert box.right <= width - PAD + 1e-9
        assert box.bottom <= height - PAD + 1e-9
        assert min(box.width, box.height) > 0
    assert layout.module >= SMALLEST_MODULE - 1e-9
    assert layout.digits >= SMALLEST_DIGITS
    assert layout.number.height >= layout.digits + head
    assert layout.map.width >= SMALLEST_MAP - 1e-9
    assert len(layout.lines) == rows
    for symbol in layout.symbols:
        assert symbol.width == pytest.approx(WHOLE * layout.module)


@pytest.mark.parametrize("stock", stocks().values(), ids=list(stocks()))
@pytest.mark.parametrize("wide", [1.1, 2.1])
def test_every_shipped_stock_has_room_for_all_numbers(stock: Stock, wide: float) -> None:
    size = (stock.label_width - stock.hole, stock.label_height)
    for rows, head in ((3, 0.0), (4, 0.0), (4, HOME_HEAD)):
        if stock.symbols == 1:
            small = small_layout_for(*size, wide, rows - 1, head if rows == 3 else 0.0)
            assert isinstance(small, Layout)
        else:
            assert isinstance(layout_for(*size, wide, rows, head), Layout)


@given(
    st.floats(20, 120),
    st.floats(10, 120),
    st.floats(1.0, 2.2),
    st.integers(2, 3),
    st.sampled_from([0.0, HOME_HEAD]),
)
@example(width=48.5, height=25.4, wide=2.1, rows=3, head=0.0)
def test_nothing_on_a_small_label_meets_anything_else(
    width: float, height: float, wide: float, rows: int, head: float
) -> None:
    layout = small_layout_for(width, height, wide, rows, head)
    if isinstance(layout, Refused):
        assert f"{width:g} × {height:g} mm is too small" in layout.sentence
        return
    assert not [pair for pair in combinations(layout.boxes, 2) if pair[0].meets(pair[1])]
    for box in layout.boxes:
        assert min(box.x, box.y) >= PAD - 1e-9
        assert box.right <= width - PAD + 1e-9
        assert box.bottom <= height - PAD + 1e-9
    assert len(layout.symbols) == 1
    assert layout.module >= SMALLEST_MODULE - 1e-9
    assert layout.digits >= SMALL_DIGITS
    assert layout.number.height >= layout.digits + head
    assert len(layout.lines) == rows


@pytest.mark.parametrize("size", [(48.5, 25.4), (66.7, 25.4), (50.0, 60.0), (97.0, 20.0)])
def test_a_label_too_small_for_its_work_is_refused(size: tuple[float, float]) -> None:
    assert isinstance(layout_for(*size), Refused)


def test_a_tall_piece_has_its_drawing_over_the_whole_height() -> None:
    usual, tall = layout_for(97, 34, aspect=1.3), layout_for(97, 34, aspect=0.45)
    assert isinstance(usual, Layout)
    assert isinstance(tall, Layout)
    assert tall.map.height > 1.5 * usual.map.height
    assert tall.lines[0].right <= tall.map.x


def test_boxes_that_only_touch_do_not_meet() -> None:
    assert not Box(0, 0, 1, 1).meets(Box(1, 0, 1, 1))
    assert Box(0, 0, 1, 1).meets(Box(0.9, 0.9, 1, 1))
