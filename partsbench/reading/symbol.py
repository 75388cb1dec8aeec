"""Our symbol from the inside: which modules never change, and how the others hang together.

QR version 1, level H, alphanumeric mode, mask 0, ten characters with a hyphen in fifth place
(ISO/IEC 18004; layout, format bits and Reed-Solomon polynomial from memory, checked in the tests
against another encoder). 233 of the 441 modules are function patterns; mode, length, hyphen and
terminator fix 23 more.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from partsbench.core.piece.codes import CODE_LENGTH, TAG_LENGTH, Family
from partsbench.reading.found import SIDE

DATA_BITS = 72
CODE_BITS = 208
UNKNOWN = 0

_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
_CHECK_BYTES = 17
# Level H is 10, mask 0 is 000; ten BCH bits behind, the whole XORed with 101010000010010.
_FORMAT = 0b10000 << 10

Bits = NDArray[np.uint8]
Signs = NDArray[np.int8]


def data_bits(text: str) -> Bits:
    """The 72 data bits of a ten-character text: mode, length, pairs, terminator."""
    if len(text) != CODE_LENGTH:
        raise ValueError(f"our symbols hold {CODE_LENGTH} characters, not {len(text)}")
    values = [_ALPHABET.index(c) for c in text]
    pairs = [a * 45 + b for a, b in zip(values[::2], values[1::2], strict=True)]
    written = "0010" + f"{CODE_LENGTH:09b}" + "".join(f"{p:011b}" for p in pairs) + "0000"
    return np.array([int(b) for b in written], np.uint8)


def text_of(bits: Bits) -> str | None:
    """The text in 72 data bits; None when a pair is out of range."""
    text = ""
    for start in range(13, 68, 11):
        pair = int("".join(map(str, bits[start : start + 11])), 2)
        if pair >= 45 * 45:
            return None
        text += _ALPHABET[pair // 45] + _ALPHABET[pair % 45]
    return text


def modules_of(text: str) -> NDArray[np.bool_]:
    """The 21 × 21 modules of a code, True for dark."""
    signs = function_signs().copy()
    rows, columns = places()
    bits = (data_bits(text) @ generator()) % 2 ^ mask_bits()
    signs[rows, columns] = np.where(bits, 1, -1)
    return signs > 0


@lru_cache(maxsize=1)
def known_signs() -> Signs:
    """21 × 21: 1 for always dark, -1 for always light, 0 for a module that depends on the code."""
    signs = function_signs().copy()
    value, fixed = fixed_bits()
    sets = generator()
    settled = ~sets[~fixed].any(axis=0)
    bits = (value @ sets) % 2 ^ mask_bits()
    rows, columns = places()
    signs[rows[settled], columns[settled]] = np.where(bits[settled], 1, -1)
    return signs


@lru_cache(maxsize=1)
def fixed_bits() -> tuple[Bits, NDArray[np.bool_]]:
    """The data bits that all codes share (0 where they do not), and which these are."""
    before, behind = "0" * TAG_LENGTH + "-", "0" * (CODE_LENGTH - TAG_LENGTH - 2)
    hyphens = np.array([data_bits(before + family + behind) for family in Family])
    fixed = np.zeros(DATA_BITS, bool)
    fixed[:13] = fixed[68:] = True
    third_pair = slice(13 + 22, 13 + 33)
    fixed[third_pair] = (hyphens == hyphens[0]).all(axis=0)[third_pair]
    value: Bits = hyphens[0] * fixed
    return value, fixed


@lru_cache(maxsize=1)
def generator() -> Bits:
    """72 × 208: which of the bits in the symbol each data bit turns over, before the mask."""
    rows = []
    for bit in range(DATA_BITS):
        data = np.zeros(DATA_BITS, np.uint8)
        data[bit] = 1
        rows.append(_with_check(data))
    return np.array(rows, np.uint8)


@lru_cache(maxsize=1)
def mask_bits() -> Bits:
    """Mask 0 for the 208 bits in the order of `places`."""
    rows, columns = places()
    mask: Bits = ((rows + columns) % 2 == 0).astype(np.uint8)
    return mask


@lru_cache(maxsize=1)
def places() -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Rows and columns of the 208 bits: two columns wide, up and down, from the right."""
    free = function_signs() == UNKNOWN
    order: list[tuple[int, int]] = []
    upward = True
    for right in (20, 18, 16, 14, 12, 10, 8, 5, 3, 1):
        steps = range(SIDE - 1, -1, -1) if upward else range(SIDE)
        order += [(r, c) for r in steps for c in (right, right - 1) if free[r, c]]
        upward = not upward
    rows, columns = zip(*order, strict=True)
    return np.array(rows), np.array(columns)


@lru_cache(maxsize=1)
def function_signs() -> Signs:
    """21 × 21 signs of finders, separators, timing, format and the dark module; 0 elsewhere."""
    signs = np.zeros((SIDE, SIDE), np.int8)
    signs[:9, :9] = signs[:9, -8:] = signs[-8:, :9] = -1
    ring = np.abs(np.arange(7) - 3)
    finder = np.where(np.maximum.outer(ring, ring) == 2, -1, 1)
    signs[:7, :7] = signs[:7, -7:] = signs[-7:, :7] = finder
    timing = np.where(np.arange(8, 13) % 2 == 0, 1, -1)
    signs[6, 8:13] = signs[8:13, 6] = timing
    signs[13, 8] = 1
    bits = [1 if _format_bits() >> n & 1 else -1 for n in range(15)]
    around = [0, 1, 2, 3, 4, 5, 7, 8]
    signs[around, 8] = bits[:8]
    signs[8, [7, 5, 4, 3, 2, 1, 0]] = bits[8:]
    signs[8, [20, 19, 18, 17, 16, 15, 14, 13]] = bits[:8]
    signs[[14, 15, 16, 17, 18, 19, 20], 8] = bits[8:]
    return signs


def _format_bits() -> int:
    remainder = _FORMAT
    for shift in range(14, 9, -1):
        if remainder >> shift & 1:
            remainder ^= 0b10100110111 << (shift - 10)
    return (_FORMAT | remainder) ^ 0b101010000010010


def _with_check(data: Bits) -> Bits:
    """Data bits and their 17 Reed-Solomon bytes as 208 bits."""
    remainder = [0] * _CHECK_BYTES
    for byte in np.packbits(data):
        factor = int(byte) ^ remainder[0]
        remainder = [*remainder[1:], 0]
        for place, term in enumerate(_divisor()):
            remainder[place] ^= _times(factor, term)
    return np.concatenate([data, np.unpackbits(np.array(remainder, np.uint8))])


@lru_cache(maxsize=1)
def _divisor() -> list[int]:
    """The product of (x - 2^n) for n = 0 to 16 without its leading 1, highest power first."""
    terms = [1]
    root = 1
    for _ in range(_CHECK_BYTES):
        shifted = [*terms, 0]
        terms = [a ^ _times(b, root) for a, b in zip(shifted, [0, *terms], strict=True)]
        root = _times(root, 2)
    return terms[1:]


def _times(a: int, b: int) -> int:
    """Product in GF(256) with x^8 + x^4 + x^3 + x^2 + 1."""
    product = 0
    while b:
        if b & 1:
            product ^= a
        a = a << 1 ^ (0x11D if a & 0x80 else 0)
        b >>= 1
    return product
