"""Drilling sheets, measured on the PDF itself: every line within 0.05 mm of where it belongs."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.sums.drilling import BAR_MM, Holes, Scale, centres, scale
from partsbench.core.sums.fronts import Point
from partsbench.paper.drilling import (
    CROSS,
    OVERLAP,
    DrillingContent,
    DrillingPages,
    drilling_sheet,
    pages_for,
)
from tests.support.paper import codes_read, text_of
from tests.support.paths_on_paper import Line, lines, page_sizes

TRUE_MM = 0.05
CODE = "K7Q4-D05AK"
EXACT = Scale(1.0, 1.0, ())


def sheet(holes: Holes, correction: Scale = EXACT, paper: str = "a4") -> bytes:
    content = DrillingContent(CODE, "K7Q4", "Heron", "D5", "row 3", holes, "2 holes", "96 bow")
    pdf = drilling_sheet(content, correction, paper)
    assert isinstance(pdf, bytes), pdf
    return pdf


def layout(holes: Holes, correction: Scale = EXACT, paper: str = "a4") -> DrillingPages:
    found = pages_for(holes, correction, paper)
    assert isinstance(found, DrillingPages)
    return found


def drilled(width: float, height: float, spacing: float, count: int = 1) -> Holes:
    found = centres(width, height, spacing, count)
    assert isinstance(found, Holes)
    return found


def level(line: Line) -> bool:
    return abs(line[1] - line[3]) < 0.001


def upright(line: Line) -> bool:
    return abs(line[0] - line[2]) < 0.001


def length(line: Line) -> float:
    return hypot(line[2] - line[0], line[3] - line[1])


def crosses(page: list[Line]) -> list[Point]:
    """Where a level and an upright line of a cross's length meet in their middles."""
    across = [((a + c) / 2, b) for a, b, c, d in page
              if level((a, b, c, d)) and abs(length((a, b, c, d)) - 2 * CROSS) < 0.01]  # fmt: skip
    down = [(a, (b + d) / 2) for a, b, c, d in page
            if upright((a, b, c, d)) and abs(length((a, b, c, d)) - 2 * CROSS) < 0.01]  # fmt: skip
    return [Point(*p) for p in across for q in down if hypot(p[0] - q[0], p[1] - q[1]) < 0.01]


def bars(page: list[Line], size: float) -> tuple[float, float]:
    """The lengths of the bar across and of the bar down nearest to `size`."""
    across = min((length(x) for x in page if level(x)), key=lambda mm: abs(mm - size))
    down = min((length(x) for x in page if upright(x)), key=lambda mm: abs(mm - size))
    return across, down


def test_a_small_front_is_drawn_at_its_own_size() -> None:
    (page,) = lines(sheet(drilled(170, 150, 96)))
    sides = sorted(length(line) for line in page)
    for wanted in (170.0, 150.0):
        assert sum(abs(mm - wanted) < TRUE_MM for mm in sides) >= 2
    one, other = sorted(crosses(page), key=lambda p: p.x)
    assert other.x - one.x == pytest.approx(96, abs=TRUE_MM)
    assert one.y == pytest.approx(other.y, abs=TRUE_MM)


def test_holes_stand_where_they_belong_from_the_edges() -> None:
    holes = drilled(170, 150, 96)
    found = layout(holes)
    (page,) = lines(sheet(holes))
    for mark, hole in zip(sorted(crosses(page), key=lambda p: p.x), holes.centres, strict=True):
        assert mark.x - found.window.x == pytest.approx(hole.x, abs=TRUE_MM)
        assert mark.y - found.window.y == pytest.approx(hole.y, abs=TRUE_MM)


def test_both_bars_are_100_mm() -> None:
    (page,) = lines(sheet(drilled(170, 150, 96)))
    assert bars(page, BAR_MM) == pytest.approx((BAR_MM, BAR_MM), abs=TRUE_MM)


@pytest.mark.parametrize(("across", "down"), [(98.8, 98.8), (101.0, 100.6), (99.5, 100.0)])
def test_a_corrected_sheet_comes_out_true_on_that_printer(across: float, down: float) -> None:
    correction = scale(across, down)
    assert isinstance(correction, Scale)
    holes = drilled(160, 150, 96)
    (page,) = lines(sheet(holes, correction))
    printed = [(a * across / 100, b * down / 100, c * across / 100, d * down / 100)
               for a, b, c, d in page]  # fmt: skip
    assert bars(printed, BAR_MM) == pytest.approx((BAR_MM, BAR_MM), abs=TRUE_MM)
    one, other = sorted(crosses(page), key=lambda p: p.x)
    assert (other.x - one.x) * across / 100 == pytest.approx(96, abs=TRUE_MM)


@settings(max_examples=25, deadline=None)
@given(
    st.floats(200, 1200), st.floats(60, 600), st.floats(30, 150), st.sampled_from(["a4", "letter"])
)
def test_tiles_show_every_hole_at_its_place_and_agree_where_they_overlap(
    width: float, height: float, spacing: float, paper: str
) -> None:
    holes = drilled(width, height, spacing)
    found = layout(holes, paper=paper)
    pages = lines(sheet(holes, paper=paper))
    assert len(pages) == len(found.tiling.tiles)
    seen = set()
    for page, tile in zip(pages, found.tiling.tiles, strict=True):
        for place, hole in enumerate(holes.centres):
            x, y = found.window.x + hole.x - tile.left, found.window.y + hole.y - tile.top
            near = [c for c in crosses(page) if hypot(c.x - x, c.y - y) < TRUE_MM]
            if tile.shows(hole):
                assert near, f"hole {place} is off on page {tile}"
                seen.add(place)
    assert seen == set(range(len(holes.centres)))


def test_a_join_lies_at_the_same_place_of_the_front_on_both_pages() -> None:
    holes = drilled(600, 150, 96)
    found = layout(holes)
    first, second = lines(sheet(holes))
    joins = []
    for page, tile in zip((first, second), found.tiling.tiles, strict=True):
        dashed = {round(x[0] - found.window.x + tile.left, 2) for x in page if upright(x)}
        joins.append(dashed)
    wanted = found.tiling.tiles[1].left + OVERLAP / 2
    assert all(any(abs(x - wanted) < TRUE_MM for x in page) for page in joins)


def test_every_page_bears_the_code_and_says_how_to_print() -> None:
    pdf = sheet(drilled(700, 180, 96, 2))
    pages = page_sizes(pdf)
    assert codes_read(pdf, 150) == {CODE: len(pages)}
    words = text_of(pdf)
    assert words.count("Both bars must measure 100 mm") == len(pages)
    assert "page 1 of" in words


def test_pages_lie_when_that_takes_fewer() -> None:
    wide = layout(drilled(250, 140, 96))
    assert wide.width > wide.height and len(wide.tiling.tiles) == 1
    tall = layout(drilled(160, 230, 96))
    assert tall.width < tall.height and len(tall.tiling.tiles) == 1


def test_what_cannot_be_drawn_is_told() -> None:
    holes = drilled(400, 200, 96)
    wrong = pages_for(holes, EXACT, "a9")
    assert wrong == Refused("There is no paper “a9”; there are a4, letter.")
    huge = pages_for(Holes(5000, 5000, (Point(4900, 4900),)), EXACT, "a4")
    assert isinstance(huge, Refused) and "would take" in huge.sentence
    none = pages_for(Holes(-1, 100, ()), EXACT, "a4")
    assert isinstance(none, Refused) and "width" in none.sentence


def test_the_measures_of_a_hole_stand_only_on_the_page_that_has_the_hole() -> None:
    pdf = sheet(drilled(880, 180, 128, 2))
    told = text_of(pdf)
    for across in ("156.0", "284.0", "596.0", "724.0"):
        assert told.count(f"{across} | 90.0") == 1, across


def test_the_sheet_says_its_size_and_whether_it_was_measured() -> None:
    holes = drilled(400, 150, 96)
    assert "front 400.0 mm × 150.0 mm" in text_of(sheet(holes))
    assert "NOT MEASURED" not in text_of(sheet(holes))
    content = DrillingContent(CODE, "K7Q4", "Heron", "D5", "row 3", holes, "", measured=False)
    pdf = drilling_sheet(content, EXACT)
    assert isinstance(pdf, bytes)
    assert text_of(pdf).count("NOT MEASURED") == len(page_sizes(pdf))


def test_no_page_comes_after_the_last_hole() -> None:
    """A wide front with both holes at its left takes the pages up to them, and each is said."""
    wide = Holes(1200, 165, (Point(60, 80), Point(156, 80)))
    pages = layout(wide)
    last = pages.tiling.tiles[-1]
    assert any(last.shows(point) for point in wide.centres)
    assert len(page_sizes(sheet(wide))) == len(pages.tiling.tiles) < 3
    tall = Holes(150, 1500, (Point(70, 100),))
    assert len(layout(tall).tiling.tiles) == 1
    whole = Holes(1200, 165, (Point(60, 80), Point(1140, 80)))
    assert layout(whole).tiling.columns > 3
