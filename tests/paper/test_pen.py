from __future__ import annotations

from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.paper.pen import (
    MM,
    Pen,
    _width_of,
    all_printable,
    fit,
    polygons,
    printable,
    text_width,
)
from tests.support.paper import Picture, page_count, pages, text_of


@given(st.text(max_size=40))
def test_whatever_is_typed_can_be_printed(words: str) -> None:
    pen = Pen(100, 50, "Any words")
    told = printable(words)
    pen.text(5, 20, told, 4)
    assert printable(told) == told
    assert pen.finish().startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("Heron", "Heron"),
        ("Čapek’s chest", "Čapek’s chest"),
        ("Heṛon", "Heron"),
        ("ﬁr", "fir"),
        ("two\n\tlines", "two lines"),
        ("鷺", "?"),
        ("Цапля 2", "????? 2"),
    ],
)
def test_letters_that_the_font_lacks_are_told(typed: str, printed: str) -> None:
    assert printable(typed) == printed


def test_a_question_mark_of_ones_own_is_no_lack() -> None:
    assert all_printable("Heron?")
    assert not all_printable("Heron 鷺")


@given(st.text(st.characters(codec="ascii", categories=["L", "N"]), max_size=60), st.floats(3, 60))
def test_words_are_made_to_fit(words: str, width: float) -> None:
    size, told = fit(words, 4.0, width)
    assert text_width(told, size) <= width + 1e-6
    assert 2.8 - 1e-9 <= size <= 4.0
    assert told == words or (told.endswith("…") and words.startswith(told[:-1])) or told == ""


def reach(page: Picture) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all that is black, in mm, on a page of 10 dots to the mm."""
    black = page < 128
    across, down = black.any(axis=0).nonzero()[0], black.any(axis=1).nonzero()[0]
    return across[0] / 10, down[0] / 10, (across[-1] + 1) / 10, (down[-1] + 1) / 10


def test_positions_are_mm_from_the_top_left() -> None:
    pen = Pen(100, 50, "A box")
    pen.origin = (10.0, 5.0)
    pen.boxes([(10, 5, 30, 10)], thick=0, fill=0.0)
    (page,) = pages(pen.finish(), dpi=254)
    assert reach(page) == pytest.approx((20.0, 10.0, 50.0, 20.0), abs=0.15)


def test_a_form_is_stamped_where_asked_whatever_the_origin() -> None:
    pen = Pen(100, 50, "Stamps")
    pen.origin = (20.0, 10.0)
    with pen.form("box"):
        pen.boxes([(0, 0, 5, 5)], thick=0, fill=0.0)
    pen.stamp("box", 10, 5)
    (page,) = pages(pen.finish(), dpi=254)
    assert reach(page) == pytest.approx((30.0, 15.0, 35.0, 20.0), abs=0.15)


def test_nothing_is_drawn_outside_a_clip() -> None:
    pen = Pen(100, 50, "Clipped")
    with pen.clipped((10, 10, 10, 10)):
        pen.boxes([(0, 0, 100, 50)], thick=0, fill=0.0)
    (page,) = pages(pen.finish(), dpi=254)
    assert reach(page) == pytest.approx((10.0, 10.0, 20.0, 20.0), abs=0.15)


def test_a_hole_in_a_polygon_stays_open() -> None:
    pen = Pen(30, 30, "A ring")
    ring = polygons([((0, 0), (3, 0), (3, 3), (0, 3)), ((1, 1), (2, 1), (2, 2), (1, 2))])
    pen.fill(ring, 10, 10, 2)
    (page,) = pages(pen.finish(), dpi=254)
    assert page[130, 130] == 255
    assert page[110, 130] == 0
    assert (page < 128).sum() / 100 == pytest.approx(36 - 4, rel=0.03)


@pytest.mark.parametrize(
    ("corner", "words"),
    [
        ((2.5 * cos(pi / 2), -2.5 * sin(pi)), "0 0 l"),
        ((1_000_000.0, -0.00001), "1000000 -0.00001 l"),
        ((0.5, -12.0), ".5 -12 l"),
    ],
)
def test_a_path_has_no_powers_of_ten(corner: tuple[float, float], words: str) -> None:
    """Viewers and printers that keep to the letter of PDF leave such a page empty."""
    assert polygons([[(1.0, 1.0), corner, (2.0, 2.0)]]) == f"1 1 m {words} 2 2 l h"


def test_pages_carry_their_words_and_the_font() -> None:
    pen = Pen(100, 50, "Words")
    pen.text(5, 20, "D05", 10, bold=True)
    pen.next_page()
    pen.text(5, 20, "second page", 4)
    pdf = pen.finish()
    assert page_count(pdf) == 2
    assert text_of(pdf).split() == ["D05", "second", "page"]
    assert b"AtkinsonHyperlegible-Bold" in pdf


def test_the_height_of_digits_is_what_layouts_count_on() -> None:
    from partsbench.paper.layout import DIGIT_HEIGHT

    pen = Pen(100, 50, "Height")
    pen.text(10, 40, "5", 20 / DIGIT_HEIGHT, bold=True)
    (page,) = pages(pen.finish(), dpi=254)
    rows = (page < 128).any(axis=1).nonzero()[0]
    assert (rows[-1] - rows[0] + 1) / 10 == pytest.approx(20, abs=0.8)
    assert pytest.approx(25.4) == 72 / MM


@given(st.text("abc lW.", max_size=60), st.floats(1, 40))
def test_words_are_cut_where_one_letter_more_would_not_fit(words: str, width: float) -> None:
    size, kept = fit(words, 4.0, width, least=1.0)
    if kept == words:
        assert text_width(words, size) <= width
        return
    assert not kept or text_width(kept, size) <= width
    longer = words[: len(kept.removesuffix("…")) + 1]
    assert text_width(longer.rstrip() + "…", size) > width or longer.rstrip() == kept[:-1]


def test_thousands_of_letters_are_cut_as_fast_as_some() -> None:
    """Looked at about as often as their number has binary digits, not once for each."""
    before = _width_of.cache_info().misses
    fit("wide title " * 500, 4.0, 40.0)
    assert _width_of.cache_info().misses - before < 30
