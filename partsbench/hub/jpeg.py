"""How large a JPEG is, told from its head: it is not opened before that is known.

Markers as in ITU-T T.81 (09/92), Table B.1.
"""

from __future__ import annotations

_START, _SCAN, _END = 0xD8, 0xDA, 0xD9
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
"""Start of frame, of any process; C4, C8 and CC are tables and a reserved one."""
_ALONE = frozenset({0x01, *range(0xD0, 0xD8)})
"""Markers without a length."""


def size_of(data: bytes) -> tuple[int, int] | None:
    """Width and height in pixels; None for what is no JPEG, or says no size in its head."""
    if data[:2] != bytes((0xFF, _START)):
        return None
    at = 2
    while at + 4 <= len(data):
        if data[at] != 0xFF:
            return None
        marker = data[at + 1]
        if marker == 0xFF:  # fill
            at += 1
            continue
        if marker in _ALONE:
            at += 2
            continue
        if marker in (_SCAN, _END):
            return None
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        if length < 2:
            return None
        if marker in _FRAMES:
            height = int.from_bytes(data[at + 5 : at + 7], "big")
            width = int.from_bytes(data[at + 7 : at + 9], "big")
            return (width, height) if width and height else None
        at += 2 + length
    return None
