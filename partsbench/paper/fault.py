"""Why paper cannot be made as asked."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PaperFault:
    """What is wrong with a stock, a place on it or an offset, in a sentence that names it."""

    sentence: str
