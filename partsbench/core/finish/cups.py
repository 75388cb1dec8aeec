"""A mix in use: what is in the cup, and from which lots."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta


@dataclass(frozen=True, slots=True)
class Poured:
    """One product in a cup, its lot, and its parts in the ratio."""

    product: str
    lot: str
    parts: float


@dataclass(frozen=True, slots=True)
class Cup:
    """A mix: `tint` and `thinned` are % of the paint's volume, 0 for none.

    product: its class, as on the finish paths; "" where nobody said. doubt: why the time it was
    made may be wrong, in words.
    """

    key: str
    name: str
    poured: tuple[Poured, ...]
    made: datetime
    tint: float = 0.0
    thinned: float = 0.0
    strained: bool = False
    sheen: str = ""
    by: str = ""
    pot_life: timedelta | None = None
    product: str = ""
    doubt: str = ""

    @property
    def tinted(self) -> bool:
        return self.tint > 0

    @property
    def lots(self) -> frozenset[tuple[str, str]]:
        """Product and lot of everything in it, to tell a second mix from the first."""
        return frozenset((p.product, p.lot) for p in self.poured)

    def is_over(self, now: datetime) -> bool:
        """True when its pot life has passed."""
        return self.pot_life is not None and now > self.made + self.pot_life


@dataclass(frozen=True, slots=True)
class StoredCup:
    """A cup with its row id, its number on the wall, and when it was emptied."""

    id: int
    number: int
    cup: Cup
    volume_ml: float | None = None
    emptied_at: datetime | None = None
