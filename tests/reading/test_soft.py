"""From how dark the modules look to a code, with modules covered, doubtful and wrong."""

from __future__ import annotations

import math

import numpy as np
import pytest

from partsbench.reading import soft
from partsbench.reading.symbol import modules_of
from tests.support.books import shop_codes, some_codes

CODES = some_codes(6, seed=3)


def seen(text: str) -> np.ndarray:
    """The 441 modules of a code, clean: 1 for dark, -1 for light."""
    return np.where(modules_of(text), 1.0, -1.0).ravel().astype(np.float32)


@pytest.mark.parametrize("text", CODES)
def test_a_clean_symbol_is_certain(text: str) -> None:
    reading = soft.best_reading(seen(text))
    assert reading is not None
    assert reading.text == str(reading.code) == text
    assert reading.certain
    # All 185 open modules agree: 185 / √185 deviations.
    assert reading.agreement == pytest.approx(math.sqrt(185), abs=0.01)


@pytest.mark.parametrize("text", CODES)
def test_a_quarter_of_the_symbol_under_a_drop(text: str) -> None:
    """What is covered has no say; the rest settles it."""
    dark = seen(text).reshape(21, 21)
    dark[9:14] = 0
    reading = soft.best_reading(dark.ravel())
    assert reading is not None
    assert (reading.text, reading.certain) == (text, True)


@pytest.mark.parametrize("seed", range(6))
def test_doubtful_modules_everywhere(seed: int) -> None:
    """One module in seven wrong, though less sure than the others."""
    rng = np.random.default_rng(seed)
    dark = seen(CODES[seed])
    wrong = rng.random(441) < 1 / 7
    dark = np.where(wrong, -0.3 * dark, dark).astype(np.float32)
    reading = soft.best_reading(dark)
    assert reading is not None
    assert (reading.text, reading.certain) == (CODES[seed], True)


@pytest.mark.parametrize("seed", range(40))
def test_noise_is_never_certain(seed: int) -> None:
    dark = np.random.default_rng(seed).normal(0, 0.5, 441).astype(np.float32)
    reading = soft.best_reading(np.clip(dark, -1, 1))
    assert reading is None or not reading.certain


def test_nothing_seen_is_nothing_read() -> None:
    reading = soft.best_reading(np.zeros(441, np.float32))
    assert reading is None or not reading.certain


def test_two_ruined_halves_make_one_code() -> None:
    one, other = seen(CODES[0]).reshape(21, 21), seen(CODES[0]).reshape(21, 21)
    one[:, :13] = 0
    other[:, 11:] = 0
    assert not _certain(one) or not _certain(other)
    assert _certain(one + other)


def _certain(dark: np.ndarray) -> bool:
    reading = soft.best_reading(dark.ravel().astype(np.float32))
    return reading is not None and reading.certain and reading.text == CODES[0]


def test_the_book_decides_between_few() -> None:
    """Noise that leaves nothing certain still tells one code of 300 from the others."""
    shop = shop_codes()
    rng = np.random.default_rng(5)
    dark = (seen(shop[17]) + rng.normal(0, 1.6, 441)).astype(np.float32)
    reading = soft.best_reading(dark)
    assert reading is None or not reading.certain
    guess = soft.best_of(dark, soft.KnownCodes.of(shop))
    assert guess is not None
    assert str(guess.code) == shop[17]
    assert 0 < guess.chance < 1e-3
    assert guess.chance == pytest.approx(300 * math.exp(-(guess.agreement**2) / 2))


def test_the_stated_chance_holds_for_labels_of_other_shops() -> None:
    """Of 2,000 symbols that are not in the book, no more are taken for one than is stated."""
    book = soft.KnownCodes.of(shop_codes())
    rng = np.random.default_rng(6)
    chances = []
    for text in some_codes(200, seed=8):
        for _ in range(10):
            dark = (seen(text) + rng.normal(0, 1.2, 441)).astype(np.float32)
            guess = soft.best_of(dark, book)
            chances.append(guess.chance if guess else 1.0)
    for stated in (0.3, 0.1, 0.01):
        assert np.mean(np.array(chances) <= stated) <= stated


def test_a_book_leaves_out_what_is_no_code() -> None:
    book = soft.KnownCodes.of([CODES[0], "half past two", CODES[0].lower()])
    assert [str(code) for code in book.codes] == [CODES[0]]
    assert soft.best_of(seen(CODES[0]), soft.KnownCodes.of([])) is None
