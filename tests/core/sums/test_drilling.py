from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.drilling import Holes, Scale, Tiling, centres, scale, tiling
from partsbench.core.sums.fronts import Point
from partsbench.core.sums.units import Measures
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


def test_one_pull_in_the_middle() -> None:
    answer = answered(Holes, centres(600, 180, 96))
    assert answer.centres == (Point(252, 90), Point(348, 90))
    assert answer.sentence == "2 holes, 90.0 mm from the top: 252.0 mm and 348.0 mm from the left."
    assert '3-17/32" from the top' in answer.say(Measures.US)


def test_two_pulls_and_a_knob() -> None:
    two = answered(Holes, centres(600, 180, 96, 2, from_top=70, from_side=110))
    assert [p.x for p in two.centres] == [62, 158, 442, 538]
    assert answered(Holes, centres(600, 180, 0)).centres == (Point(300, 90),)


@given(st.floats(250, 1200), st.floats(60, 400), st.floats(0, 90), st.integers(1, 2))
def test_holes_mirror_each_other_and_keep_the_spacing(
    width: float, height: float, spacing: float, count: int
) -> None:
    found = answered(Holes, centres(width, height, spacing, count))
    across = [p.x for p in found.centres]
    assert across == pytest.approx([width - x for x in reversed(across)])
    if spacing:
        assert across[1] - across[0] == pytest.approx(spacing)


@pytest.mark.parametrize("value", NONSENSE)
def test_fronts_that_cannot_be(value: Any) -> None:
    assert "width of the front" in refused(centres(value, 180, 96))
    assert "height of the front" in refused(centres(600, value, 96))
    assert "hole spacing" in refused(centres(600, 180, value))
    assert "bar across" in refused(scale(value))
    assert "page" in refused(tiling(600, 180, value, 277))
    assert "overlap" in refused(tiling(600, 180, 190, 277, value))


def test_holes_too_near_an_edge_or_each_other() -> None:
    assert "2.0 mm from an edge" in refused(centres(100, 180, 96))
    assert "8.0 mm from an edge" in refused(centres(600, 180, 96, from_top=8))
    assert "cross each other" in refused(centres(600, 180, 96, 2, from_side=290))


def test_the_printers_error_entered_once_corrects() -> None:
    answer = answered(Scale, scale(98.8))
    assert answer.sentence == "Your printer is 1.2 % small; corrected."
    assert answer.across == pytest.approx(100 / 98.8)
    assert answer.lacks == ("the bar that runs down the sheet",)
    assert "1.2 % large" in answered(Scale, scale(101.2, 101.2)).sentence
    assert "as far as a ruler can tell" in answered(Scale, scale(100.1, 100.0)).sentence


@given(st.floats(96, 104), st.floats(-0.4, 0.4), st.floats(10, 900), st.floats(10, 300))
def test_drawn_by_the_correction_a_hole_prints_where_it_belongs(
    across: float, uneven: float, x: float, y: float
) -> None:
    correction = answered(Scale, scale(across, across + uneven))
    assert x * correction.across * across / 100 == pytest.approx(x, abs=1e-9)
    assert y * correction.down * (across + uneven) / 100 == pytest.approx(y, abs=1e-9)


def test_a_sheet_fitted_to_the_page_is_refused() -> None:
    assert "-6.0% is too far off" in refused(scale(94)).replace(" %", "%")
    assert "stretches one way" in refused(scale(100, 101))


def test_a_front_larger_than_a_sheet_is_tiled() -> None:
    answer = answered(Tiling, tiling(600, 300, 190, 277))
    assert (answer.columns, answer.rows) == (4, 2)
    assert answer.sentence == "8 sheets, 4 across and 2 down; they overlap by 10 mm."
    assert [t.left for t in answer.tiles[:4]] == [0, 180, 360, 540]
    assert [t.width for t in answer.tiles[:4]] == [190, 190, 190, 60]
    assert answer.tiles[-1].top + answer.tiles[-1].height == 300
    assert answered(Tiling, tiling(180, 200, 190, 277)).sentence == "One sheet."


@given(
    st.floats(20, 2000), st.floats(20, 900), st.floats(100, 300), st.floats(0, 40),
    st.floats(0, 1), st.floats(0, 1),
)  # fmt: skip
def test_every_point_is_on_a_sheet_and_no_sheet_is_needless(
    width: float, height: float, page: float, overlap: float, fx: float, fy: float
) -> None:
    answer = answered(Tiling, tiling(width, height, page, page, overlap))
    assert any(tile.shows(Point(width * fx, height * fy)) for tile in answer.tiles)
    last = max(tile.left for tile in answer.tiles if tile.row == 0)
    assert last == 0 or last + overlap < width + 1e-6


def test_of_two_bars_the_one_that_is_further_off_is_told() -> None:
    assert answered(Scale, scale(100.4, 100)).sentence == "Your printer is 0.4 % large; corrected."
    assert answered(Scale, scale(100, 99.6)).sentence == "Your printer is 0.4 % small; corrected."
    assert answered(Scale, scale(100.3, 99.9)).sentence == "Your printer is 0.3 % large; corrected."


def test_two_tenths_of_a_millimetre_on_the_bar_are_not_seen() -> None:
    assert "as far as a ruler can tell" in answered(Scale, scale(99.81, 99.81)).sentence
    assert "0.2 % small" in answered(Scale, scale(99.79, 99.79)).sentence
