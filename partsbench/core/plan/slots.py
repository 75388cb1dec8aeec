"""Minutes as bits: a whole number whose bit t is set where minute t is taken.

Looking for a gap is then a few operations on long numbers, however much is planned already.
"""

from __future__ import annotations

from collections.abc import Iterable

from partsbench.core.plan.workshop import FromTo

LOOK = 2048
"""Minutes that are looked through at a time: short numbers are quick ones."""


def taken(stretches: Iterable[FromTo]) -> int:
    """The bits of some stretches."""
    bits = 0
    for start, end in stretches:
        if end > max(start, 0):
            bits |= ((1 << (end - max(start, 0))) - 1) << max(start, 0)
    return bits


def outside(stretches: Iterable[FromTo], horizon: int) -> int:
    """All minutes up to the horizon that lie in none of the stretches."""
    return ((1 << horizon) - 1) & ~taken(stretches)


def starts(busy: int, start: int, length: int, look: int = LOOK) -> int:
    """Bit i: from minute `start + i` on, `length` minutes are free; of the next `look` minutes.

    A stint of no length needs one free minute to be in.
    """
    length = max(length, 1)
    full = (1 << (look + length)) - 1
    free = ~(busy >> start) & full
    width = 1
    while width < length:
        step = min(width, length - width)
        free &= free >> step
        width += step
    return free & ((1 << look) - 1)


def gap(busy: int, start: int, length: int) -> int:
    """The first minute from `start` on from which `length` minutes are free (at least one)."""
    length, at = max(length, 1), start
    window = (1 << max(LOOK, length)) - 1
    while True:
        bits = (busy >> at) & window
        if not bits:
            return at
        while bits:
            free = first(bits)
            if free >= length:
                return at
            bits >>= free
            taken = first(~bits)
            bits >>= taken
            at += free + taken


def first(bits: int) -> int:
    """The place of the lowest bit that is set."""
    return (bits & -bits).bit_length() - 1


def runs(bits: int) -> tuple[list[int], list[int]]:
    """The stretches of bits that are set: the first and the last minute of each."""
    firsts, lasts, at = list[int](), list[int](), 0
    while bits:
        gap = first(bits)
        bits >>= gap
        at += gap
        length = first(~bits)
        firsts.append(at)
        lasts.append(at + length - 1)
        bits >>= length
        at += length
    return firsts, lasts
