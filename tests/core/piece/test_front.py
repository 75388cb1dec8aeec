from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.piece.front import (
    Front,
    FrontFault,
    Opening,
    OpeningKind,
    Span,
    check,
    front_from_rows,
    parse_rows,
)


def made(counts: list[int], width: float = 900.0) -> Front:
    front = front_from_rows(counts, width)
    assert isinstance(front, Front)
    return front


def test_two_two_three_keeps_the_true_width_of_every_drawer():
    front = made([2, 2, 3])
    widths = [front.box(o.span)[2] for o in front.openings]
    assert widths == pytest.approx([450, 450, 450, 450, 300, 300, 300])
    assert front.columns == (300.0, 150.0, 150.0, 300.0)


@given(st.lists(st.integers(1, 9), min_size=1, max_size=8))
def test_drawers_of_a_row_share_the_width_equally_and_fill_it(counts):
    front = made(counts, 1200.0)
    for row, count in enumerate(counts):
        boxes = sorted(front.box(o.span) for o in front.openings if o.span.row == row)
        assert len(boxes) == count
        assert sum(box[2] for box in boxes) == pytest.approx(1200.0)
        for place, (x, _, width, _) in enumerate(boxes):
            # Grid lines are rounded to 0.1 mm.
            assert x == pytest.approx(float(Fraction(place, count)) * 1200, abs=0.051)
            assert width == pytest.approx(1200 / count, abs=0.11)


def test_a_chest_of_sixty_drawers_has_sixty_apart():
    front = made([6] * 10)
    assert len(front.openings) == 60
    assert check(front) == []
    assert not any(a.span.meets(b.span) for a, b in combinations(front.openings, 2))


def test_an_overlap_is_refused_naming_both_openings_and_the_cell():
    front = made([2, 2])
    wide = front.with_opening(Opening(1, Span(0, 0, 2, 1)))
    assert [f.sentence for f in check(wide)] == [
        "Openings 1 and 2 overlap: both hold the cell in row 1, column 2."
    ]


def test_what_a_door_hides_may_lie_under_it_but_not_stick_out():
    front = Front(
        (300.0, 300.0),
        (400.0,),
        (
            Opening(1, Span(0, 0), OpeningKind.DOOR),
            Opening(2, Span(1, 0)),
            Opening(3, Span(0, 0), behind=1),
        ),
    )
    assert check(front) == []
    out = front.with_opening(Opening(3, Span(0, 0, 2, 1), behind=1))
    assert [f.sentence for f in check(out)] == ["Opening 3 sticks out from behind door 1."]
    undone = front.with_opening(Opening(1, Span(0, 0), OpeningKind.DRAWER))
    assert [f.sentence for f in check(undone)] == ["Opening 3 is behind no door."]


@pytest.mark.parametrize(
    ("columns", "rows", "sentence"),
    [
        ((), (200.0,), "A front needs at least one column."),
        ((300.0, 0.2), (200.0,), "Column 2 is 0.2 mm; 0.5 to 10000 mm can be drawn."),
        ((300.0,), (float("nan"),), "Row 1 is nan mm; 0.5 to 10000 mm can be drawn."),
    ],
)
def test_sizes_that_cannot_be_drawn_are_told(columns, rows, sentence):
    assert [f.sentence for f in check(Front(columns, rows))] == [sentence]


def test_an_opening_too_small_to_draw_is_told_with_its_size():
    front = Front((300.0, 4.0), (200.0,), (Opening(1, Span(1, 0)),))
    assert [f.sentence for f in check(front)] == [
        "Opening 1 is 4.0 × 200.0 mm; 10 mm or more each way can be drawn."
    ]


@pytest.mark.parametrize("text", ["2 2 3", "2,2,3", "2/2/3", " 2; 2  3 "])
def test_rows_are_read_however_they_are_parted(text):
    assert parse_rows(text) == (2, 2, 3)


@pytest.mark.parametrize(
    ("text", "names"),
    [("", "how many drawers"), ("2 two", "Row 2 says “two”"), ("2 -1", "“-1”"), ("٣", "“٣”")],
)
def test_rows_that_are_no_numbers_are_told_by_place(text, names):
    fault = parse_rows(text)
    assert isinstance(fault, FrontFault)
    assert names in fault.sentence


@pytest.mark.parametrize("counts", [[0], [41], [1] * 41, []])
def test_rows_that_cannot_be_drawn_are_refused(counts):
    assert isinstance(front_from_rows(counts), FrontFault)


def test_row_heights_must_be_as_many_as_rows():
    fault = front_from_rows([2, 2], heights=[200.0])
    assert fault == FrontFault("2 rows of drawers but 1 row heights.")
