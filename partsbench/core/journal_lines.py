"""A line of the journal: one change to the book, said in a sentence."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class JournalLine:
    """One line of the journal."""

    id: int
    at: datetime
    who: str
    kind: str
    sentence: str
    tag: str
    target: int | None
