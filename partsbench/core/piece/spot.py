"""One face of one part, as one value; as text only where it is shown or stored."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.core.key_words import face_word
from partsbench.core.piece.codes import parse_short, short_number


@dataclass(frozen=True, slots=True)
class Spot:
    """A face among all of its piece, by the number of its part; face "" is the part as a whole,
    and part "" the piece."""

    part: str
    face: str = ""

    def __str__(self) -> str:
        """`D1 front`, or `D1`: as it is shown."""
        return f"{self.part} {face_word(self.face)}" if self.face else self.part

    @property
    def key(self) -> str:
        """`D1 front`, or `D1`: as it stands in the book and in JSON, and as it is typed."""
        return f"{self.part} {self.face}" if self.face else self.part

    @classmethod
    def of(cls, named: str | Spot) -> Spot:
        """What a person typed, or what a row holds: `d1  Top Edge` is `D1 top edge`."""
        if isinstance(named, Spot):
            return named
        part, _, face = named.strip().partition(" ")
        short = parse_short(part)
        return cls(short_number(*short) if short else part, " ".join(face.lower().split()))


WHOLE = Spot("")
"""The piece as a whole."""
