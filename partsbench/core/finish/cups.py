"""A mix in use: what is in the cup, and from which lots."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from partsbench.core.sums.refusal import Refusal, amount

SAME_RATIO = 0.01


@dataclass(frozen=True, slots=True)
class Poured:
    """One product in a cup, its lot, and its parts in the ratio."""

    product: str
    lot: str
    parts: float


@dataclass(frozen=True, slots=True)
class Cup:
    """A mix: `tint` and `thinned` are % of the paint's volume, 0 for none.

    product: its class, as on the finish paths; "" where nobody said.
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
class Measure:
    """How much of one product to pour, in whole `step` ml."""

    product: str
    ml: float


@dataclass(frozen=True, slots=True)
class Recipe:
    """What to pour for a volume, and how far the rounding moves any share (a fraction of it)."""

    measures: tuple[Measure, ...]
    off: float

    @property
    def sentence(self) -> str:
        """`For 60 ml: 52 colour, 6 clear, 2 water.`"""
        total = sum(m.ml for m in self.measures)
        words = ", ".join(f"{m.ml:g} {m.product}" for m in self.measures)
        return f"For {total:g} ml: {words}."


def again(cup: Cup, volume_ml: float) -> Recipe | Refusal:
    """The same mix at another volume, in the coarsest measure that keeps each share within 1 %."""
    bad = amount("volume", volume_ml, above=0, most=20_000, unit="ml")
    if bad:
        return bad
    total = sum(p.parts for p in cup.poured)
    if total <= 0:
        return Refusal("mix", "nothing is written down for this cup")
    exact = [volume_ml * p.parts / total for p in cup.poured]
    for step in (10.0, 5.0, 1.0, 0.5, 0.1, 0.01):
        rounded = [round(round(ml / step) * step, 2) for ml in exact]
        off = _off(exact, rounded)
        if off <= SAME_RATIO:
            break
    pairs = zip(cup.poured, rounded, strict=True)
    return Recipe(tuple(Measure(p.product, ml) for p, ml in pairs), off)


def _off(exact: list[float], rounded: list[float]) -> float:
    """The worst change of a share of the whole, as a fraction of that share."""
    whole, made = sum(exact), sum(rounded)
    if not made:
        return 1.0
    shares = [(e / whole, r / made) for e, r in zip(exact, rounded, strict=True) if e > 0]
    return max((abs(r - e) / e for e, r in shares), default=0.0)
