from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.piece.front import (
    Front,
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
    assert isinstance(fault, Refused)
    assert names in fault.sentence


@pytest.mark.parametrize("counts", [[0], [41], [1] * 41, []])
def test_rows_that_cannot_be_drawn_are_refused(counts):
    assert isinstance(front_from_rows(counts), Refused)


def test_row_heights_must_be_as_many_as_rows():
    fault = front_from_rows([2, 2], heights=[200.0])
    assert fault == Refused("2 rows of drawers but 1 row heights.")


def test_drawers_and_doors_come_back_and_what_is_fixed_does_not():
    back = [kind for kind in OpeningKind if kind.expects_return]
    assert back == [OpeningKind.DRAWER, OpeningKind.DOOR]


def test_the_first_opening_of_a_bare_carcase_is_number_one():
    assert Front((300.0,), (200.0,)).next_number() == 1
    assert made([2, 3]).next_number() == 6


def test_the_smallest_and_the_largest_that_can_be_drawn():
    assert check(Front((0.5, 10_000.0), (0.5, 10_000.0))) == []
    assert len(check(Front((0.49, 10_000.1), (200.0,)))) == 2
    for width in (10.0, 10 - 5e-7):  # a sum of sizes may be off by that
        assert check(Front((300.0, width), (200.0,), (Opening(1, Span(1, 0)),))) == []
    assert len(check(Front((300.0, 9.99), (200.0,), (Opening(1, Span(1, 0)),)))) == 1


@pytest.mark.parametrize("span", [Span(0, 0, 0, 1), Span(0, 0, 1, 0), Span(1, 0), Span(-1, 0)])
def test_an_opening_of_no_cells_or_beyond_the_front_sticks_out(span):
    told = [f.sentence for f in check(Front((300.0,), (200.0,), (Opening(1, span),)))]
    assert told[0] == "Opening 1 sticks out of the front."


def test_an_overlap_lower_down_is_named_by_its_own_cell():
    tall = Opening(1, Span(0, 0, 1, 3))
    low = Opening(2, Span(0, 2, 2, 1))
    (fault,) = check(Front((300.0, 300.0), (200.0,) * 3, (tall, low)))
    assert fault.sentence == "Openings 1 and 2 overlap: both hold the cell in row 3, column 1."
    (fault,) = check(Front((300.0, 300.0), (200.0,) * 3, (low, tall)))
    assert fault.sentence == "Openings 2 and 1 overlap: both hold the cell in row 3, column 1."


def test_forty_rows_and_forty_drawers_in_a_row_are_the_most():
    assert len(made([40]).openings) == 40
    assert len(made([1] * 40).openings) == 40
    fault = front_from_rows([2, 41])
    assert fault == Refused("Row 2 has 41 drawers; 1 to 40 can be drawn.")


def test_lines_fall_on_tenths_of_a_millimetre():
    assert made([3], 1000.0).columns == (333.3, 333.4, 333.3)


def test_rows_share_a_line_wherever_their_drawers_end_together():
    """Thirds, sixths and ninths: 1/3 is 2/6 and 3/9, so twelve columns and not eighteen."""
    front = made([3, 6, 9], 900.0)
    assert len(front.columns) == 12
    assert front.openings[0].span.right == front.openings[4].span.right
    assert front.openings[0].span.right == front.openings[11].span.right
