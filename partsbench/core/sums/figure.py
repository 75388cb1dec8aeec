"""A figure of the trade with its source and how far that can be trusted."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.core.sources import Status, cite


@dataclass(frozen=True, slots=True)
class Figure:
    """One number, the source it is from, and its status."""

    value: float
    source: str
    status: Status

    @property
    def cited(self) -> str:
        """The source as an answer lists it, with its status."""
        return cite(self.source, self.status)
