"""Pictures of labels of a book, damaged so that they are read by a known means."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from pathlib import Path

from partsbench.reading.found import How
from tests.support.damage import MIXED, shoot

SEVERITY = 3
LIKELY = {How.BOOK: (726, 740), How.KNOWN_MODULES: (730, 731)}
"""Damage that was seen to ask for just that means, whatever the code; tried first."""
TRIED = range(800, 860)


def ruined(codes: Sequence[str], file: Path, how: How) -> str:
    """Save the first picture that is read by that means at `file`; the code on its label."""
    from partsbench.reading.pictures import read_grey

    for seed in chain(LIKELY[how], TRIED):
        code = codes[seed % len(codes)]
        picture = shoot(code, MIXED, SEVERITY, seed).picture
        if {f.how for f in read_grey(picture, codes)} == {how}:
            picture.save(file)
            return code
    raise AssertionError(f"no picture is read by {how}")
