"""Where a figure comes from and how far it can be trusted: one list of words for all figures."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from partsbench.core.key_words import word_of


class Status(StrEnum):
    """How a figure came to us; shown beside it. The user's tin and own figures win over the rest.

    published: read with the publisher; names publisher, title, year or edition, and the place in
    it. published, read in a copy: the same, read elsewhere. maker's sheet: a data sheet or page of
    a maker or seller, no brand. trade press: a how-to page; names site, title and the day it was
    read. calculated: follows from other figures. common practice: a rule of the trade that no
    source was found for. from memory: recalled, nothing was read.
    """

    PUBLISHED = "published"
    READ_IN_A_COPY = "published, read in a copy"
    MAKERS_SHEET = "maker's sheet"
    TRADE_PRESS = "trade press"
    CALCULATED = "calculated"
    COMMON_PRACTICE = "common practice"
    FROM_MEMORY = "from memory"
    TIN = "tin"
    OWN = "own"

    @property
    def is_the_users(self) -> bool:
        """True for the tin's and the shop's own figures; we ship none of these."""
        return self in (Status.TIN, Status.OWN)


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure came from: words and status, which figure, and the range it was said in."""

    text: str
    status: Status
    figure: str = ""
    said: str = ""

    @property
    def cited(self) -> str:
        """`2 to 4 h: trade experience (from memory)`, or the tin's own words."""
        return cite(self.text, self.status, self.said)


def cite(text: str, status: Status, said: str = "") -> str:
    """A source as it is shown beside its figure; the user's own words need no status."""
    cited = text if status.is_the_users else f"{text} ({word_of(status)})"
    return f"{said}: {cited}" if said else cited
