"""A figure of the trade with its source and how far that can be trusted."""

from __future__ import annotations

from dataclasses import dataclass

<<<<<<< HEAD
from partsbench.core.sources import Status, cite
=======

class Status(StrEnum):
    """How a figure came to us; shown beside it."""

    SEEN = "seen"
    SECOND_HAND = "seen second-hand"
    MAKERS_SHEET = "maker's sheet"
    MEMORY = "from memory"
    CALCULATED = "calculated"
    COMMON_PRACTICE = "common practice"
    OWN = "own"
>>>>>>> w-gap


@dataclass(frozen=True, slots=True)
class Figure:
    """One number, the source it is from, and its status."""

    value: float
    source: str
    status: Status

    @property
    def cited(self) -> str:
<<<<<<< HEAD
        """The source as an answer lists it, with its status."""
        return cite(self.source, self.status)
=======
        """The source as an answer lists it; the status is told unless it was seen or is yours."""
        told = self.status in (Status.SEEN, Status.OWN)
        return self.source if told else f"{self.source} ({self.status})"
>>>>>>> w-gap
