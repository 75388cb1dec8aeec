"""What was used out of part-used tins has cost, by volume or by weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partsbench.core.outcomes import Refused
from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.wording import listed


@dataclass(frozen=True, slots=True)
class Tin:
    """A tin used in part: its price and measures full and left, all by volume or all by weight.

    By weight the empty tin's own weight is taken off. Units only have to be the same.
    """

    name: str
    price: float | None
    full: float
    before: float
    after: float
    empty: float = 0.0


@dataclass(frozen=True, slots=True)
class Materials:
    """What the tins used have cost; a tin without a price is a lack, not free of charge."""

    cost: float
    by_tin: tuple[tuple[str, float], ...]
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("tins measured before and after",)

    @property
    def sentence(self) -> str:
        """`Materials: 36.`"""
        if self.lacks:
            return f"Materials: {self.cost:.0f}, and {listed(self.lacks)} not counted."
        return f"Materials: {self.cost:.0f}."


def materials(tins: Sequence[Tin]) -> Materials | Refused:
    """Cost of what was used: price × share used, by volume or by weight."""
    bad = first(*(_bad_tin(tin) for tin in tins))
    if bad:
        return bad
    by_tin = tuple(
        (tin.name, tin.price * (tin.before - tin.after) / (tin.full - tin.empty))
        for tin in tins
        if tin.price is not None
    )
    lacks = tuple(f"the price of {tin.name}" for tin in tins if tin.price is None)
    return Materials(sum(cost for _, cost in by_tin), by_tin, lacks)


def _bad_tin(tin: Tin) -> Refused | None:
    return first(
        None if tin.price is None else amount(f"price of {tin.name}", tin.price, above=0),
        amount(f"empty {tin.name}", tin.empty, least=0),
        amount(f"full {tin.name}", tin.full, above=0),
        amount(f"{tin.name} before", tin.before, least=0),
        amount(f"{tin.name} after", tin.after, least=0),
    ) or _bad_levels(tin)


def _bad_levels(tin: Tin) -> Refused | None:
    if tin.full <= tin.empty:
        return wrong(f"full {tin.name}", "holds no more than when empty")
    if tin.before > tin.full:
        return wrong(f"{tin.name} before", "is more than the tin holds")
    if tin.after > tin.before or tin.after < tin.empty:
        return wrong(f"{tin.name} after", "is more than before, or less than the empty tin")
    return None
