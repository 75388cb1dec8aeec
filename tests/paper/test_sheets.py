from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.paper.layout import Box
from partsbench.paper.sheets import (
    Stock,
    cells,
    cut_positions,
    find_stock,
    read_stock,
    stock_fault,
    stocks,
)
from partsbench.trade import load

A4 = load("stocks")["plain-a4"]


@st.composite
def tables(draw: st.DrawFn) -> dict[str, object]:
    """Any stock somebody may write down, good or bad."""
    mm = st.floats(0, 320, allow_nan=False)
    return {
        "page_width": draw(st.sampled_from([210, 215.9, 100.0])),
        "page_height": draw(st.sampled_from([297, 279.4, 150.0])),
        "columns": draw(st.integers(0, 6)),
        "rows": draw(st.integers(0, 12)),
        "label_width": draw(mm),
        "label_height": draw(mm),
        "left": draw(st.floats(-5, 40)),
        "top": draw(st.floats(-5, 40)),
        "pitch_x": draw(mm),
        "pitch_y": draw(mm),
        "cut_lines": draw(st.booleans()),
    }


@given(tables(), st.data())
def test_cells_of_an_accepted_stock_lie_on_the_page_and_never_overlap(
    table: dict[str, object], data: st.DataObject
) -> None:
    stock = read_stock("any", table)
    if isinstance(stock, Refused):
        assert stock.sentence.startswith("Stock any: ")
        return
    start = data.draw(st.integers(1, stock.per_page))
    count = data.draw(st.integers(1, 2 * stock.per_page + 1))
    places = cells(stock, count, start)
    assert isinstance(places, list)
    assert len(places) == count
    slack = 0.011
    boxes: dict[int, list[Box]] = {}
    for place in places:
        box = Box(place.x, place.y, stock.label_width, stock.label_height)
        assert min(box.x, box.y) >= 0
        assert box.right <= stock.page_width + slack
        assert box.bottom <= stock.page_height + slack
        boxes.setdefault(place.page, []).append(box.inset(slack))
    for page in boxes.values():
        assert not any(a.meets(b) for a, b in combinations(page, 2))
    assert sorted(boxes) == list(range(1, max(boxes) + 1))


@pytest.mark.parametrize("stock", stocks().values(), ids=list(stocks()))
def test_every_shipped_stock_is_good(stock: Stock) -> None:
    assert stock_fault(stock) is None


def test_labels_start_where_told_and_run_on_to_the_next_page() -> None:
    stock = stocks()["plain-a4"]
    places = cells(stock, 3, start=15)
    assert isinstance(places, list)
    assert [(p.page, round(p.x), round(p.y)) for p in places] == [
        (1, 8, 248),
        (1, 105, 248),
        (2, 8, 10),
    ]


def test_the_printer_offset_moves_every_label() -> None:
    stock = stocks()["a4-2x7"]
    plain, moved = cells(stock, 15), cells(stock, 15, offset=(1.5, -2.0))
    assert isinstance(plain, list)
    assert isinstance(moved, list)
    assert {
        (round(b.x - a.x, 6), round(b.y - a.y, 6)) for a, b in zip(plain, moved, strict=True)
    } == {(1.5, -2.0)}


@pytest.mark.parametrize("start", [0, -1, 17])
def test_a_label_that_the_sheet_does_not_have_is_refused(start: int) -> None:
    fault = cells(stocks()["plain-a4"], 1, start)
    assert fault == Refused(f"A sheet of plain-a4 has labels 1 to 16; {start} is none of them.")


@pytest.mark.parametrize("offset", [(10.5, 0.0), (0.0, -11.0), (float("nan"), 0.0)])
def test_a_wild_offset_is_refused(offset: tuple[float, float]) -> None:
    fault = cells(stocks()["plain-a4"], 1, offset=offset)
    assert isinstance(fault, Refused)
    assert "-10 to 10 mm" in fault.sentence


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"pitch_x": 90}, "labels 97 mm wide overlap every 90 mm"),
        ({"pitch_y": 30}, "labels 34 mm high overlap every 30 mm"),
        ({"left": 20}, "the last column ends at 214 of 210 mm"),
        ({"rows": 9}, "the last row ends at 316 of 297 mm"),
        ({"columns": 0}, "1 to 20 columns"),
        ({"columns": "two"}, "columns must be a whole number"),
        ({"columns": True}, "columns must be a whole number"),
        ({"top": None}, "top must be a number of millimetres"),
        ({"top": float("inf")}, "top must be a number of millimetres"),
        ({"top": -1}, "a margin is below it"),
        ({"label_width": 0}, "a size is not above 0"),
        ({"cut_lines": 1}, "cut_lines must be true or false"),
        ({"colour": "white"}, "“colour” is not a word of a stock"),
        ({"page_width": 5000}, "more than 1200 mm"),
    ],
)
def test_a_bad_stock_is_refused_with_its_reason(change: dict[str, object], reason: str) -> None:
    fault = read_stock("mine", A4 | change)
    assert isinstance(fault, Refused)
    assert reason in fault.sentence


def test_an_unknown_stock_is_refused_by_naming_those_that_there_are() -> None:
    fault = find_stock("gold")
    assert isinstance(fault, Refused)
    assert "plain-a4, plain-letter" in fault.sentence
    assert find_stock("plain-a4") is stocks()["plain-a4"]


def test_labels_that_touch_share_one_cut() -> None:
    across, down = cut_positions(stocks()["plain-a4"])
    assert across == (8, 105, 202)
    assert len(down) == 9


def test_labels_apart_have_a_cut_on_each_side() -> None:
    apart = replace(stocks()["a4-2x7"], cut_lines=True)
    assert cut_positions(apart)[0] == (4.65, 103.75, 106.25, 205.35)
