"""The QR symbol of a code, and the outline of its dark parts.

Version 1, level H, alphanumeric mode, mask pattern 0 (ISO/IEC 18004). The mask never changes, so
that most modules are the same on every label: a reader of ruined labels can use what is known.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache, lru_cache
from itertools import pairwise

SIDE = 21
"""Modules along a side of a version 1 symbol."""

QUIET = 4
"""Modules of quiet zone on every side (ISO/IEC 18004)."""

WHOLE = SIDE + 2 * QUIET
SMALLEST_MODULE = 0.5
"""mm; our own floor, coarse enough for an office printer and a telephone camera."""

LETTERS = 10
"""Characters that fill version 1 at level H in alphanumeric mode (ISO/IEC 18004)."""

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
"""The alphanumeric mode's characters, each at its own value (ISO/IEC 18004)."""

_PAIR_BITS = 11
_BASE = len(ALPHABET)

Modules = tuple[tuple[bool, ...], ...]
SymbolOutline = tuple[tuple[int, int], ...]


def modules(text: str) -> Modules:
    """The 21 rows of 21 modules, True where dark. ValueError unless ten characters of the mode."""
    return tuple(tuple(bool(row >> x & 1) for x in range(SIDE)) for row in _rows(text))


def modules_of(text: str) -> Modules:
    """The rows of a symbol for a text of any length, as an address for a phone; level M, without
    its quiet zone."""
    from qrcode.constants import ERROR_CORRECT_M
    from qrcode.main import QRCode

    symbol = QRCode(error_correction=ERROR_CORRECT_M, border=0)
    symbol.add_data(text)
    symbol.make()
    return tuple(tuple(map(bool, row)) for row in symbol.modules)


@lru_cache(maxsize=2048)
def outlines(text: str) -> tuple[SymbolOutline, ...]:
    """Closed polygons around dark parts and their holes, in modules from the top left corner.

    To be filled as one path by the even-odd rule: a path of its own for each module or row would
    show light seams where renderers smooth its edges. ValueError as for `modules`.
    """
    corners = _corners(_rows(text))
    below = _partners_below(corners)
    done = [False] * len(corners)
    found = []
    for first in range(0, len(corners), 2):
        here, polygon = first, []
        while not done[here]:
            # On its line the border runs from the first corner to the second, third to fourth, …
            there = here ^ 1
            polygon += [corners[here], corners[there]]
            done[here] = done[there] = True
            here = below[there]
        if polygon:
            found.append(tuple(polygon))
    return tuple(found)


def _rows(text: str) -> tuple[int, ...]:
    """The rows of the symbol as numbers; bit x is the module in column x.

    With version, level, mode and mask fixed, every module is an exclusive or of bits of the text.
    So the library encodes a few dozen texts once, and every label after that is a sum of theirs.
    """
    if len(text) != LETTERS or not set(text) <= set(ALPHABET):
        raise ValueError(f"“{text}” is not ten characters of the QR alphanumeric mode")
    blank, parts = _parts_of_symbols()
    symbol = blank
    for place in range(0, LETTERS, 2):
        pair = ALPHABET.index(text[place]) * _BASE + ALPHABET.index(text[place + 1])
        for bit in range(_PAIR_BITS):
            if pair >> bit & 1:
                symbol ^= parts[place // 2][bit]
    return tuple(symbol >> SIDE * y & (1 << SIDE) - 1 for y in range(SIDE))


@cache
def _parts_of_symbols() -> tuple[int, tuple[tuple[int, ...], ...]]:
    """The symbol of ten zeros, and what each bit of each pair of characters changes in it."""
    zeros = ALPHABET[0] * LETTERS
    blank = _encoded(zeros)
    parts = []
    for place in range(0, LETTERS, 2):
        pairs = (divmod(1 << bit, _BASE) for bit in range(_PAIR_BITS))
        texts = (
            zeros[:place] + ALPHABET[first] + ALPHABET[second] + zeros[place + 2 :]
            for first, second in pairs
        )
        parts.append(tuple(_encoded(text) ^ blank for text in texts))
    return blank, tuple(parts)


def _encoded(text: str) -> int:
    """The symbol as the library encodes it: one number, bit 21 y + x for column x of row y."""
    from qrcode.constants import ERROR_CORRECT_H
    from qrcode.main import QRCode
    from qrcode.util import MODE_ALPHA_NUM, QRData

    symbol = QRCode(version=1, error_correction=ERROR_CORRECT_H, mask_pattern=0, border=0)
    symbol.add_data(QRData(text, mode=MODE_ALPHA_NUM))
    symbol.make(fit=False)
    dark = (module for row in symbol.modules for module in row)
    return sum(1 << place for place, module in enumerate(dark) if module)


def _corners(rows: Sequence[int]) -> list[tuple[int, int]]:
    """Where the border of the dark parts turns, line by line; twice where two touch at a corner.

    Bit x of `border` is set where the border runs along the upper side of column x - 1: it turns
    between two bits that differ.
    """
    found = []
    for y, (above, below) in enumerate(pairwise([0, *(row << 1 for row in rows), 0])):
        border = above ^ below
        touching = border & border >> 1 & (above ^ above >> 1)
        turns = border ^ border >> 1 | touching
        while turns:
            x = (turns & -turns).bit_length() - 1
            found.append((x, y))
            if touching >> x & 1:
                found.append((x, y))
            turns &= turns - 1
    return found


def _partners_below(corners: Sequence[tuple[int, int]]) -> list[int]:
    """The corner that each one is joined to in its column."""
    columns: list[list[int]] = [[] for _ in range(SIDE + 1)]
    for place, (x, _) in enumerate(corners):
        columns[x].append(place)
    partner = [0] * len(corners)
    for column in columns:
        for one, other in zip(column[::2], column[1::2], strict=True):
            partner[one], partner[other] = other, one
    return partner
