from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.teardown import label_order
from partsbench.paper.labels import LabelContent, home_labels_of, label_of, labels_of
from partsbench.paper.layout import Layout
from partsbench.paper.pen import text_width
from partsbench.paper.sheet import Run, label_sheets, layout_of
from partsbench.paper.sheets import Stock, read_stock, stocks
from tests.support.paper import (
    Picture,
    all_labels,
    codes_read,
    heron,
    many_drawers,
    page_count,
    pages,
    symbols,
    text_of,
)
from tests.support.some_pieces import pieces

A4 = stocks()["plain-a4"]
DPI = 254
"""Ten dots to the mm."""


def label_sheet(
    contents: Sequence[LabelContent], stock: Stock, start: int = 1, **options: Any
) -> bytes | Refused:
    """Labels of one size, from label `start` of the first sheet on."""
    return label_sheets([Run(tuple(contents), stock, start)], **options)


def sheet(*args: object, **options: object) -> bytes:
    made = label_sheet(*args, **options)  # type: ignore[arg-type]
    assert isinstance(made, bytes), made
    return made


def cell(page: Picture, stock: Stock, place: int) -> Picture:
    """The picture of label `place` of a page, from 1, cut lines left off."""
    row, column = divmod(place - 1, stock.columns)
    x, y = stock.left + column * stock.pitch_x + 0.5, stock.top + row * stock.pitch_y + 0.5
    return page[
        round(y * 10) : round((y + stock.label_height - 1) * 10),
        round(x * 10) : round((x + stock.label_width - 1) * 10),
    ]


def test_the_same_labels_make_the_same_bytes() -> None:
    assert sheet(all_labels(heron()), A4) == sheet(all_labels(heron()), A4)


def test_labels_stand_in_the_order_they_are_given() -> None:
    piece = heron()
    pdf = sheet(labels_of(piece, label_order(piece)), A4, note="teardown order")
    (first, _) = pages(pdf, DPI)
    for place, part in enumerate(label_order(piece)[:16], 1):
        read = {s.text for s in symbols(cell(first, A4, place))}
        assert read == {str(piece.code(part))}


def test_a_used_sheet_is_begun_at_its_first_free_label() -> None:
    piece = heron()
    pdf = sheet(labels_of(piece, label_order(piece)[:3]), A4, start=15)
    first, second = pages(pdf, DPI)
    assert not (cell(first, A4, 14) < 250).any()
    assert len(symbols(cell(first, A4, 15))) == 2
    assert len(symbols(cell(first, A4, 16))) == 2
    assert len(symbols(cell(second, A4, 1))) == 2
    assert not (cell(second, A4, 2) < 250).any()


def test_the_printer_offset_moves_symbols_and_cut_lines_together() -> None:
    labels = all_labels(heron())[:1]
    (plain,), (moved,) = (pages(sheet(labels, A4, offset=o), DPI) for o in ((0, 0), (2.0, 3.0)))
    assert (plain[:-40, :-30] != 255).sum() == pytest.approx((moved != 255).sum(), rel=0.02)
    before, after = symbols(plain)[0].position, symbols(moved)[0].position
    assert after.top_left.x - before.top_left.x == pytest.approx(20, abs=1.5)
    assert after.top_left.y - before.top_left.y == pytest.approx(30, abs=1.5)


def test_every_label_says_in_words_what_it_is() -> None:
    words = text_of(sheet(all_labels(heron())[:20], A4))
    for told in ("D5", "K7Q4-D05AK", "Heron", "home: row 3, left", "stick it on the back", "up"):
        assert told in words
    for told in ("old ", ", now D5", "tie-on tag or bag", "fragile", "holds 8 screws, 2 keys"):
        assert told in words


def test_home_labels_say_whose_home_it_is() -> None:
    words = text_of(sheet(home_labels_of(heron()), A4))
    assert words.count("HOME OF") == len(heron().home_numbers())
    assert "stick it inside, near the front" in words


def test_a_home_label_is_told_from_a_part_label_from_afar() -> None:
    """Its number is white on a black field: the field is dark above the number, too."""
    piece = heron()
    part = piece.part("D5")
    assert part
    pdf = sheet([label_of(piece, part), home_labels_of(piece, [5])[0]], A4)
    (page,) = pages(pdf, DPI)
    dark = [(cell(page, A4, place)[12:16, 260:400] < 128).mean() for place in (1, 2)]
    assert dark[0] < 0.1
    assert dark[1] > 0.9


def test_the_old_mark_is_struck_out() -> None:
    """A line runs through the mark, from before it to behind it."""
    piece = heron()
    part = piece.part("D5")
    assert part
    content = label_of(piece, replace(part, old_mark="1 1 1 1"))
    layout = layout_of(content, A4)
    assert isinstance(layout, Layout)
    box = layout.lines[2]
    (page,) = pages(sheet([content], A4), DPI)
    x, y = A4.left + box.x, A4.top + box.y
    area = page[round(y * 10) : round((y + box.height) * 10), round(x * 10) :][:, :300] < 128
    longest = max(
        (b - a for row in area for a, b in pairwise((row[1:] != row[:-1]).nonzero()[0])), default=0
    )
    assert longest / 10 > text_width("1 1 1 1", box.height * 0.8, bold=True)


def test_the_digits_are_nine_mm_or_taller() -> None:
    for stock in stocks().values():
        for content in (all_labels(many_drawers())[0], all_labels(many_drawers())[-1]):
            assert content.number[0] == "D"
        wide = [c for c in all_labels(many_drawers()) if c.number == "PA0"]
        (page,) = pages(sheet(wide, stock), DPI)
        area = cell(page, stock, 1)
        symbol_ends = max(s.position.top_right.x for s in symbols(area[:, : area.shape[1] // 2]))
        column = area[:, symbol_ends + 30 : symbol_ends + 60] < 128
        rows = column.any(axis=1).nonzero()[0]
        gaps = (rows[1:] - rows[:-1] > 1).nonzero()[0]
        first_block = rows[: gaps[0] + 1] if len(gaps) else rows
        assert (first_block[-1] - first_block[0] + 1) / 10 >= 8.9, stock.name


def test_a_codename_in_letters_the_font_lacks_gives_way_to_the_tag() -> None:
    piece = replace(heron(), codename="鷺")
    pdf = sheet(all_labels(piece)[:2], A4)
    assert "?" not in text_of(pdf)
    assert "K7Q4 · drawer" in text_of(pdf)


def test_the_longest_words_stay_within_the_label() -> None:
    piece = replace(heron(), codename="A codename of a hundred letters " * 4, title="title " * 20)
    part = piece.part("D5")
    assert part
    long = label_of(piece, replace(part, old_mark="chalk, on the left side " * 5))
    for stock in stocks().values():
        (page,) = pages(sheet([long], replace(stock, cut_lines=False)), DPI)
        bottom = round((stock.top + stock.label_height) * 10)
        right = round((stock.left + stock.label_width) * 10)
        assert (page[:bottom, :right] < 128).any()
        assert not (page[:bottom, right:] < 250).any()
        assert len(symbols(page)) == stock.symbols


def test_the_footer_counts_labels_and_warns_of_scaling() -> None:
    words = text_of(sheet(all_labels(heron())[:20], A4, note="teardown order"))
    assert "labels 1–16 of 20 · teardown order" in words
    assert "labels 17–20 of 20" in words
    assert "print at 100 %" in words


def test_no_footer_where_the_stock_has_no_margin() -> None:
    assert "print at" not in text_of(sheet(all_labels(heron())[:1], stocks()["a4-3x8"]))


def test_cut_lines_are_drawn_on_plain_paper_only() -> None:
    labels = all_labels(heron())[:1]
    (plain,) = pages(sheet(labels, A4), DPI)
    (die_cut,) = pages(sheet(labels, stocks()["a4-2x7"]), DPI)
    assert (plain[2000:2780, 70:90] < 200).any()
    assert not (die_cut[2000:2780, :] < 250).any()


@pytest.mark.parametrize(
    ("labels", "options", "reason"),
    [
        (0, {}, "no labels"),
        (1, {"start": 99}, "labels 1 to 16"),
        (1, {"offset": (99.0, 0.0)}, "printer offset"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused(
    labels: int, options: dict[str, object], reason: str
) -> None:
    fault = label_sheet(all_labels(heron())[:labels], A4, **options)  # type: ignore[arg-type]
    assert isinstance(fault, Refused)
    assert reason in fault.sentence


def test_a_stock_with_labels_too_small_is_refused() -> None:
    tiny = read_stock(
        "tiny",
        {"page_width": 210, "page_height": 297, "columns": 4, "rows": 10, "label_width": 48,
         "label_height": 25, "left": 5, "top": 5},
    )  # fmt: skip
    assert isinstance(tiny, Stock)
    fault = label_sheet(all_labels(heron())[:1], tiny)
    assert isinstance(fault, Refused)
    assert "48 × 25 mm is too small" in fault.sentence


@given(pieces(), st.sampled_from(list(stocks())), st.integers(1, 10))
@settings(max_examples=15, deadline=None)
def test_any_piece_in_any_words_prints_labels_that_are_read(
    piece: Piece, name: str, start: int
) -> None:
    labels = all_labels(piece)
    pdf = sheet(labels, stocks()[name], start=start)
    wanted: Counter[str] = Counter()
    for content in labels:
        wanted[content.code] += stocks()[name].symbols
    assert codes_read(pdf, 150) == wanted
    assert page_count(pdf) == -(-(len(labels) + start - 1) // stocks()[name].per_page)
