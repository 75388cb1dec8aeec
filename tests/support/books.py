"""Codes of a shop, for pictures that are read against its book."""

from __future__ import annotations

import random

from partsbench.core.piece.codes import TAG_ALPHABET, Code, Family


def some_codes(count: int, seed: int = 1) -> list[str]:
    """Codes of `count` parts, each of a piece of its own."""
    rng = random.Random(seed)
    tags = ["".join(rng.choice(TAG_ALPHABET) for _ in range(4)) for _ in range(count)]
    families = list(Family)
    return [
        str(Code(tag, rng.choice(families), rng.randint(1, 359), rng.choice("ABCZ")))
        for tag in tags
    ]


def shop_codes(pieces: int = 6, parts: int = 50, seed: int = 7) -> tuple[str, ...]:
    """The codes of a shop's book: a few pieces with many parts each."""
    rng = random.Random(seed)
    tags = ["".join(rng.choice(TAG_ALPHABET) for _ in range(4)) for _ in range(pieces)]
    families = list(Family)
    return tuple(
        str(Code(tag, families[n % len(families)], n // len(families) + 1))
        for tag in tags
        for n in range(parts)
    )
