"""Our own picture of the symbol, against another encoder."""

from __future__ import annotations

import numpy as np

from partsbench.reading import symbol
from tests.support.books import some_codes
from tests.support.labels import symbol as drawn_by_qrcode


def test_modules_are_those_of_the_qrcode_package() -> None:
    for text in some_codes(40):
        assert np.array_equal(symbol.modules_of(text), drawn_by_qrcode(text)), text


def test_known_modules_hold_for_every_code() -> None:
    known = symbol.known_signs()
    drawn = np.array([drawn_by_qrcode(text) for text in some_codes(200)])
    assert (drawn[:, known == 1]).all()
    assert not (drawn[:, known == -1]).any()
    mixed = drawn.any(axis=0) & ~drawn.all(axis=0)
    assert np.array_equal(mixed, known == symbol.UNKNOWN)


def test_more_than_half_is_known() -> None:
    assert np.count_nonzero(symbol.function_signs()) == 233
    assert np.count_nonzero(symbol.known_signs()) == 256


def test_bits_and_text_are_one_another() -> None:
    for text in some_codes(20):
        assert symbol.text_of(symbol.data_bits(text)) == text
    assert symbol.text_of(np.ones(72, np.uint8)) is None
