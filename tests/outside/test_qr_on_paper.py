"""Label sheets against ISO/IEC 18004 and against a decoder that is not ours (zxing-cpp).

From ISO/IEC 18004:2015, from memory: a version 1 symbol has 21 modules a side; at level H it holds
10 characters of the alphanumeric mode (table 7); the quiet zone is 4 modules on every side
(clause 9.1); the format word is BCH (15,5), generator 10100110111, combined with 101010000010010
(annex C), and lies around the upper left finder pattern.
"""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.paper.pen import MM
from partsbench.paper.sheet import Run, label_sheets
from partsbench.paper.sheets import Stock, stocks
from partsbench.paper.symbol import ALPHABET, modules
from tests.support.paper import (
    all_labels,
    codes_read,
    heron,
    many_drawers,
    pages,
    symbols,
    with_a_door,
)

PIECES = {"heron": heron, "sixty drawers": many_drawers, "a door": with_a_door}
STOCKS = pytest.mark.parametrize("stock", stocks().values(), ids=list(stocks()))


def sheet(name: str, stock: Stock) -> bytes:
    made = label_sheets([Run(tuple(all_labels(PIECES[name]())), stock)])
    assert isinstance(made, bytes)
    return made


def each(name: str, stock: Stock) -> Counter[str]:
    """Every code as often as a label of that stock bears it."""
    wanted: Counter[str] = Counter()
    for content in all_labels(PIECES[name]()):
        wanted[content.code] += stock.symbols
    return wanted


def format_word(level: int, mask: int) -> str:
    """The 15 bits of the format information; level H is 2, as L is 1, M 0, Q 3."""
    data = level << 3 | mask
    rest = data << 10
    for bit in range(14, 9, -1):
        if rest >> bit & 1:
            rest ^= 0b10100110111 << bit - 10
    return f"{(data << 10 | rest) ^ 0b101010000010010:015b}"


@given(st.text(st.sampled_from(ALPHABET), min_size=10, max_size=10))
def test_the_format_word_says_level_h_and_mask_0(text: str) -> None:
    symbol = modules(text)
    places = [(8, x) for x in (0, 1, 2, 3, 4, 5, 7, 8)] + [(y, 8) for y in (7, 5, 4, 3, 2, 1, 0)]
    assert "".join("01"[symbol[y][x]] for y, x in places) == format_word(level=2, mask=0)


def test_the_sum_of_the_format_word_is_the_published_one() -> None:
    """ISO/IEC 18004:2015 annex C, the worked example: level M, mask 101."""
    assert format_word(level=0, mask=0b101) == "100000011001110"


def test_ten_characters_fit_and_eleven_do_not() -> None:
    assert len(modules("A" * 10)) == 21
    with pytest.raises(ValueError, match="ten characters"):
        modules("A" * 11)


@STOCKS
@pytest.mark.parametrize("dpi", [100, 150, 300])
@pytest.mark.parametrize("name", ["heron", "a door"])
def test_both_symbols_of_every_label_are_read(name: str, dpi: int, stock: Stock) -> None:
    assert codes_read(sheet(name, stock), dpi) == each(name, stock)


@pytest.mark.parametrize("dpi", [100, 150, 300])
def test_both_symbols_of_all_labels_of_sixty_drawers_are_read(dpi: int) -> None:
    plain = stocks()["plain-a4"]
    assert codes_read(sheet("sixty drawers", plain), dpi) == each("sixty drawers", plain)


@STOCKS
def test_the_decoder_finds_version_1_level_h_mask_0(stock: Stock) -> None:
    found = [s for page in pages(sheet("heron", stock), 600) for s in symbols(page)]
    told = {(s.extra["Version"], s.extra["ECLevel"], s.extra["DataMask"]) for s in found}
    assert told == {("1", "H", 0)}
    assert {s.extra["UEC"] for s in found} == {1.0}, "no error was there to be corrected"


@STOCKS
def test_modules_are_half_a_mm_and_the_quiet_zone_is_free(stock: Stock) -> None:
    """Measured on the picture: 21 modules from edge to edge, 4 free ones on every side."""
    dpi = 600
    per_mm = dpi / 72 * MM
    for page in pages(sheet("a door", stock), dpi):
        ink = page < 200
        for symbol in symbols(page):
            at = symbol.position
            middle = (
                np.array([at.top_left.x + at.bottom_right.x, at.top_left.y + at.bottom_right.y]) / 2
            )
            rough = (at.top_right.x - at.top_left.x) / 21
            half = round(10.5 * rough + 2 * rough)
            x, y = round(middle[0]), round(middle[1])
            around = ink[y - half : y + half, x - half : x + half]
            columns, rows = around.any(axis=0).nonzero()[0], around.any(axis=1).nonzero()[0]
            side = columns[-1] - columns[0] + 1
            assert rows[-1] - rows[0] + 1 == pytest.approx(side, abs=2)
            module = side / 21
            assert module / per_mm >= 0.5 - 1 / per_mm / 21
            left, top = x - half + columns[0], y - half + rows[0]
            quiet = int(4 * module)
            zone = ink[top - quiet : top + side + quiet, left - quiet : left + side + quiet].copy()
            zone[quiet : quiet + side + 1, quiet : quiet + side + 1] = False
            assert not zone.any()
