"""The QR symbol of a code, and the outline of its dark parts.

Version 1, level H, alphanumeric mode, mask pattern 0 (ISO/IEC 18004). The mask never changes, so
that most modules are the same on every label: a reader of ruined labels can use what is known.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise

SIDE = 21
"""Modules along a side of a version 1 symbol."""

QUIET = 4
"""Modules of quiet zone on every side (ISO/IEC 18004)."""

WHOLE = SIDE + 2 * QUIET
SMALLEST_MODULE = 0.5
"""mm; our own floor, coarse enough for an office printer and a telephone camera."""

Modules = tuple[tuple[bool, ...], ...]
Outline = tuple[tuple[int, int], ...]


@lru_cache(maxsize=2048)
def modules(text: str) -> Modules:
    """The 21 rows of 21 modules, True where dark. ValueError when the text does not fit."""
    from qrcode.constants import ERROR_CORRECT_H
    from qrcode.exceptions import DataOverflowError
    from qrcode.main import QRCode
    from qrcode.util import MODE_ALPHA_NUM, QRData

    symbol = QRCode(version=1, error_correction=ERROR_CORRECT_H, mask_pattern=0, border=0)
    try:
        symbol.add_data(QRData(text, mode=MODE_ALPHA_NUM))
        symbol.make(fit=False)
    except DataOverflowError as error:
        raise ValueError(f"“{text}” does not fit a version 1 symbol at level H") from error
    return tuple(tuple(bool(module) for module in row) for row in symbol.modules)


def outlines(symbol: Modules) -> tuple[Outline, ...]:
    """Closed polygons around dark parts and their holes, in modules from the top left corner.

    To be filled as one path by the even-odd rule: a path of its own for each module or row would
    show light seams where renderers smooth its edges.
    """
    corners = _corners(symbol)
    across = _partners(sorted(range(len(corners)), key=lambda i: corners[i][::-1]))
    down = _partners(sorted(range(len(corners)), key=corners.__getitem__))
    left = dict.fromkeys(range(len(corners)))
    found = []
    while left:
        here = first = next(iter(left))
        polygon = []
        while not polygon or here != first:
            there = across[here]
            polygon += [corners[here], corners[there]]
            del left[here], left[there]
            here = down[there]
        found.append(tuple(polygon))
    return tuple(found)


def _corners(symbol: Modules) -> list[tuple[int, int]]:
    """Where the border of the dark parts turns, twice where two of them touch at a corner."""
    wide = (False,) * (SIDE + 2)
    rows = [wide, *((False, *row, False) for row in symbol), wide]
    found = []
    for y, (above, below) in enumerate(pairwise(rows)):
        for x in range(SIDE + 1):
            a, b, c, d = above[x], above[x + 1], below[x], below[x + 1]
            if a ^ b ^ c ^ d:
                found.append((x, y))
            elif a == d and b == c and a != b:
                found += [(x, y), (x, y)]
    return found


def _partners(order: list[int]) -> dict[int, int]:
    """Along one line the border runs from the first corner to the second, third to fourth, …"""
    partner = {}
    for one, other in zip(order[::2], order[1::2], strict=True):
        partner[one], partner[other] = other, one
    return partner
