from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from qrcode.constants import ERROR_CORRECT_H
from qrcode.main import QRCode
from qrcode.util import MODE_ALPHA_NUM, QRData

from partsbench.core.piece.codes import TAG_ALPHABET, Code, Family
from partsbench.paper.symbol import ALPHABET, SIDE, modules, outlines

TEXTS = st.text(st.sampled_from(ALPHABET), min_size=10, max_size=10)
CODES = st.builds(
    Code,
    st.text(st.sampled_from(TAG_ALPHABET), min_size=4, max_size=4),
    st.sampled_from(Family),
    st.integers(1, 359),
    st.sampled_from("ABZ"),
).map(str)


def encoded_whole(text: str) -> tuple[tuple[bool, ...], ...]:
    symbol = QRCode(version=1, error_correction=ERROR_CORRECT_H, mask_pattern=0, border=0)
    symbol.add_data(QRData(text, mode=MODE_ALPHA_NUM))
    symbol.make(fit=False)
    return tuple(tuple(bool(m) for m in row) for row in symbol.modules)


@given(TEXTS)
def test_a_symbol_put_together_from_parts_is_the_one_encoded_whole(text: str) -> None:
    assert modules(text) == encoded_whole(text)


@given(CODES)
def test_every_code_has_a_symbol(text: str) -> None:
    assert modules(text) == encoded_whole(text)


@given(TEXTS)
def test_outlines_filled_by_the_even_odd_rule_are_the_dark_modules(text: str) -> None:
    polygons = outlines(text)

    def crossings_to_the_right(x: float, y: float) -> int:
        edges = (
            edge
            for polygon in polygons
            for edge in zip(polygon, (*polygon[1:], polygon[0]), strict=True)
        )
        return sum(
            a[0] == b[0] and a[0] > x and min(a[1], b[1]) < y < max(a[1], b[1]) for a, b in edges
        )

    for y, row in enumerate(modules(text)):
        for x, dark in enumerate(row):
            assert (crossings_to_the_right(x + 0.5, y + 0.5) % 2 == 1) == dark


@given(TEXTS)
def test_outlines_turn_a_right_angle_at_every_corner(text: str) -> None:
    for polygon in outlines(text):
        closed = (*polygon, *polygon[:2])
        for before, here, after in zip(closed, closed[1:], closed[2:], strict=False):
            assert (before[0] == here[0]) != (before[1] == here[1])
            assert (before[0] == here[0]) != (here[0] == after[0])
            assert 0 <= min(here) <= max(here) <= SIDE


@pytest.mark.parametrize("text", ["", "K7Q4-D05A", "K7Q4-D05A77", "k7q4-d05a7", "K7Q4–D05A7"])
def test_what_does_not_fit_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="ten characters"):
        modules(text)
