"""What a piece earns: an offer's hourly rate, a sale's, the floor price, and what to pay for it.

Money is in the shop's own unit. Fees are a share of the price, in %. `doubt` says how much of the
hours no clock measured.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from partsbench.core.key_words import choice_word
from partsbench.core.outcomes import Refused
from partsbench.core.sums.refusal import amount, first
from partsbench.core.wording import notes

ARITHMETIC = ("arithmetic on your own figures",)
LEAST_HOURS = 0.1
"""With less work than this an hourly rate says nothing."""


@dataclass(frozen=True, slots=True)
class Costs:
    """What a piece has cost or will cost, without work; None is not known, never nothing."""

    bought: float | None = 0.0
    hardware: float | None = 0.0
    materials: float | None = 0.0
    delivery: float | None = 0.0
    storage: float | None = 0.0
    other: float | None = 0.0

    def items(self) -> tuple[tuple[str, float | None], ...]:
        """Each cost by name."""
        return (
            ("price paid", self.bought),
            ("hardware", self.hardware),
            ("materials", self.materials),
            ("delivery", self.delivery),
            ("storage", self.storage),
            ("other costs", self.other),
        )

    @property
    def total(self) -> float:
        """All that is known, added up."""
        return sum(cost for _, cost in self.items() if cost is not None)

    @property
    def unknown(self) -> tuple[str, ...]:
        """The costs nobody has entered."""
        return tuple(choice_word(name) for name, cost in self.items() if cost is None)


@dataclass(frozen=True, slots=True)
class Offer:
    """What one price leaves."""

    price: float
    fees: float
    net: float
    hours: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ARITHMETIC
    doubt: str = ""

    @property
    def per_hour(self) -> float:
        """What an hour earns."""
        return self.net / self.hours

    @property
    def sentence(self) -> str:
        """`At 640 you keep 423, 29.2 an hour over 14.5 h, 3.0 of it estimated.`"""
        if self.net < 0:
            lost = _of_work(self.hours, self.doubt)
            return f"At {self.price:.0f} you lose {-self.net:.0f}, and {lost}."
        over = _over(self.hours, self.doubt)
        return (
            f"At {self.price:.0f} you keep {self.net:.0f}, {self.per_hour:.1f} an hour over {over}."
        )


@dataclass(frozen=True, slots=True)
class Sale:
    """What the sale left; the hourly rate is None where hardly any work is noted."""

    price: float
    net: float
    hours: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ARITHMETIC
    doubt: str = ""

    @property
    def per_hour(self) -> float | None:
        """What an hour earned."""
        return self.net / self.hours if self.hours >= LEAST_HOURS else None

    @property
    def sentence(self) -> str:
        """`Sold at 640: you kept 423, 29.2 an hour over 14.5 h, 3.0 of it estimated.`"""
        kept = f"kept {self.net:.0f}" if self.net >= 0 else f"lost {-self.net:.0f}"
        said = f"Sold at {self.price:.0f}: you {kept}"
        if self.per_hour is None:
            return f"{said}. Too little work is noted to tell what an hour earned."
        if self.net < 0:
            return f"{said}, and {_of_work(self.hours, self.doubt)}."
        return f"{said}, {self.per_hour:.1f} an hour over {_over(self.hours, self.doubt)}."


@dataclass(frozen=True, slots=True)
class PriceFloor:
    """The lowest price that still pays the wanted rate."""

    price: float
    rate: float
    hours: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ARITHMETIC
    doubt: str = ""

    @property
    def sentence(self) -> str:
        """`Lowest for 25 an hour: 580.` Rounded up: a floor is not rounded down."""
        lowest = f"Lowest for {round(self.rate, 2):g} an hour: {ceil(round(self.price, 6))}"
        if self.doubt:
            return f"{lowest}, over {_over(self.hours, self.doubt)}."
        return f"{lowest}."


@dataclass(frozen=True, slots=True)
class BadCase:
    """What may go wrong with a piece not yet bought: what it is, hours and costs on top."""

    fault: str
    more_hours: float
    more_costs: float = 0.0


@dataclass(frozen=True, slots=True)
class Ceiling:
    """The most to pay for a piece, and the most if the bad case comes true."""

    likely: float
    bad: float | None
    fault: str
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ("the likely price and hours as typed",)

    @property
    def sentence(self) -> str:
        """`Pay up to 110; 40 if the side veneer lifts.`"""
        if self.likely < 0:
            return "Walk away: it does not pay your rate even as a gift."
        said = f"Pay up to {int(self.likely)}"
        if self.bad is None:
            return f"{said}."
        if self.bad < 0:
            return f"{said}; nothing if {self.fault}."
        return f"{said}; {int(self.bad)} if {self.fault}."


def offer(
    price: float, costs: Costs, hours: float, fee: float = 0, doubt: str = ""
) -> Offer | Refused:
    """What a price leaves after fees (%) and costs, and its hourly rate."""
    bad = first(
        amount("price", price, least=0, most=10_000_000),
        amount("hours", hours, least=LEAST_HOURS, most=10_000, unit="h"),
        _bad_terms(costs, fee),
    )
    if bad:
        return bad
    fees = price * fee / 100
    net = price - fees - costs.total
    return Offer(price, fees, net, hours, costs.unknown, doubt=doubt)


def sale(
    price: float, costs: Costs, hours: float, fee: float = 0, doubt: str = ""
) -> Sale | Refused:
    """What the price that was paid left after fees (%) and costs, and what an hour earned."""
    bad = first(
        amount("price", price, least=0, most=10_000_000),
        amount("hours", hours, least=0, most=10_000, unit="h"),
        _bad_terms(costs, fee),
    )
    if bad:
        return bad
    net = price - price * fee / 100 - costs.total
    return Sale(price, net, hours, costs.unknown, doubt=doubt)


def floor_price(
    costs: Costs, hours: float, rate: float, fee: float = 0, doubt: str = ""
) -> PriceFloor | Refused:
    """The lowest price that pays costs, fees and the wanted hourly rate."""
    bad = first(
        amount("hours", hours, least=0, most=10_000, unit="h"),
        amount("rate", rate, least=0, most=10_000),
        _bad_terms(costs, fee),
    )
    if bad:
        return bad
    price = (costs.total + hours * rate) / (1 - fee / 100)
    return PriceFloor(price, rate, hours, costs.unknown, doubt=doubt)


def ceiling(
    likely_price: float,
    costs: Costs,
    hours: float,
    rate: float,
    fee: float = 0,
    bad_case: BadCase | None = None,
) -> Ceiling | Refused:
    """The most to pay so that the likely price still pays the rate; `costs` without the piece."""
    refused = first(
        amount("likely price", likely_price, above=0, most=10_000_000),
        amount("hours", hours, least=0, most=10_000, unit="h"),
        amount("rate", rate, least=0, most=10_000),
        _bad_terms(costs, fee),
    )
    if refused is None and bad_case is not None:
        refused = first(
            amount("more hours", bad_case.more_hours, least=0, most=10_000, unit="h"),
            amount("more costs", bad_case.more_costs, least=0, most=1_000_000),
        )
    if refused:
        return refused
    likely = likely_price * (1 - fee / 100) - costs.total - hours * rate
    if bad_case is None:
        lacks = (*costs.unknown, "what may go wrong with it, and the hours that would take")
        return Ceiling(likely, None, "", lacks)
    worse = likely - bad_case.more_hours * rate - bad_case.more_costs
    return Ceiling(likely, worse, bad_case.fault, costs.unknown)


def _over(hours: float, doubt: str) -> str:
    """`14.5 h, 3.0 of it estimated`."""
    return notes(f"{hours:.1f} h", doubt)


def _of_work(hours: float, doubt: str) -> str:
    """`14.5 h of work, 3.0 of it estimated`."""
    return notes(f"{hours:.1f} h of work", doubt)


def _bad_terms(costs: Costs, fee: float) -> Refused | None:
    known = ((name, cost) for name, cost in costs.items() if cost is not None)
    return first(
        fee_fault(fee), *(amount(name, cost, least=0, most=10_000_000) for name, cost in known)
    )


def fee_fault(fee: float) -> Refused | None:
    """Why no fee can be such a share of the price, in %."""
    return amount("fee", fee, least=0, most=95, unit="%")
