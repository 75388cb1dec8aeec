"""What a piece earns: an offer's hourly rate, the floor price, what to pay for it, and a quote.

Money is in the shop's own unit. Fees are a share of the price, in %.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from partsbench.core.sums.refusal import Refusal, amount, first

ARITHMETIC = ("arithmetic on your own figures",)
LEAST_HOURS = 0.1
"""With less work than this an hourly rate says nothing."""
ENOUGH_JOBS = 5
"""Fewer finished jobs than this tell nothing about the next one."""


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
        return tuple(name for name, cost in self.items() if cost is None)


@dataclass(frozen=True, slots=True)
class Offer:
    """What one price leaves."""

    price: float
    fees: float
    net: float
    hours: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ARITHMETIC

    @property
    def per_hour(self) -> float:
        """What an hour earns."""
        return self.net / self.hours

    @property
    def sentence(self) -> str:
        """`At 640 you keep 423, 29.2 an hour over 14.5 h.`"""
        if self.net < 0:
            return f"At {self.price:.0f} you lose {-self.net:.0f}, and {self.hours:.1f} h of work."
        rate = f"{self.per_hour:.1f} an hour over {self.hours:.1f} h"
        return f"At {self.price:.0f} you keep {self.net:.0f}, {rate}."


@dataclass(frozen=True, slots=True)
class Floor:
    """The lowest price that still pays the wanted rate."""

    price: float
    rate: float
    lacks: tuple[str, ...]
    sources: tuple[str, ...] = ARITHMETIC

    @property
    def sentence(self) -> str:
        """`Lowest for 25 an hour: 580.` Rounded up: a floor is not rounded down."""
        return f"Lowest for {round(self.rate, 2):g} an hour: {ceil(round(self.price, 6))}."


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
        worst = f"{int(self.bad)}" if self.bad >= 0 else "nothing"
        return f"{said}; {worst} if {self.fault}."


@dataclass(frozen=True, slots=True)
class Finished:
    """A finished job of the shop that is like the one asked about."""

    codename: str
    hours: float
    costs: float


@dataclass(frozen=True, slots=True)
class Quote:
    """A likely and a bad-case sum from the shop's own jobs; None when they are too few to tell."""

    jobs: int
    likely: float | None
    bad: float | None
    hours_likely: float | None
    hours_bad: float | None
    lacks: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """`Likely 610, bad case 780, from 8 finished jobs (16 to 22 h).`"""
        jobs = f"{self.jobs} finished job{'' if self.jobs == 1 else 's'}"
        if self.likely is None or self.bad is None:
            return f"Too few to tell: {jobs} like this, {ENOUGH_JOBS} are needed."
        span = f"{self.hours_likely:.0f} to {self.hours_bad:.0f} h"
        likely, bad = ceil(self.likely / 10) * 10, ceil(self.bad / 10) * 10
        return f"Likely {likely}, bad case {bad}, from {jobs} ({span})."


def offer(price: float, costs: Costs, hours: float, fee: float = 0) -> Offer | Refusal:
    """What a price leaves after fees (%) and costs, and its hourly rate."""
    bad = first(
        amount("price", price, least=0, most=10_000_000),
        amount("hours", hours, least=LEAST_HOURS, most=10_000, unit="h"),
        _bad_terms(costs, fee),
    )
    if bad:
        return bad
    fees = price * fee / 100
    return Offer(price, fees, price - fees - costs.total, hours, costs.unknown)


def floor_price(costs: Costs, hours: float, rate: float, fee: float = 0) -> Floor | Refusal:
    """The lowest price that pays costs, fees and the wanted hourly rate."""
    bad = first(
        amount("hours", hours, least=0, most=10_000, unit="h"),
        amount("rate", rate, least=0, most=10_000),
        _bad_terms(costs, fee),
    )
    return bad or Floor((costs.total + hours * rate) / (1 - fee / 100), rate, costs.unknown)


def ceiling(
    likely_price: float,
    costs: Costs,
    hours: float,
    rate: float,
    fee: float = 0,
    bad_case: BadCase | None = None,
) -> Ceiling | Refusal:
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


def quote(finished: Sequence[Finished], rate: float, fee: float = 0) -> Quote | Refusal:
    """Median and nine-in-ten sums over finished jobs; nothing below five of them."""
    bad = first(
        amount("rate", rate, least=0, most=10_000),
        _bad_fee(fee),
        *(amount(f"hours of {j.codename}", j.hours, above=0, most=10_000) for j in finished),
        *(amount(f"costs of {j.codename}", j.costs, least=0, most=1e6) for j in finished),
    )
    if bad:
        return bad
    sources = (f"{len(finished)} finished jobs of this shop",)
    if len(finished) < ENOUGH_JOBS:
        short = ENOUGH_JOBS - len(finished)
        lacks = (f"{short} more finished job{'' if short == 1 else 's'} like this one",)
        return Quote(len(finished), None, None, None, None, lacks, sources)
    sums = [(job.costs + job.hours * rate) / (1 - fee / 100) for job in finished]
    times = [job.hours for job in finished]
    return Quote(
        len(finished), _quantile(sums, 0.5), _quantile(sums, 0.9),
        _quantile(times, 0.5), _quantile(times, 0.9), (), sources,
    )  # fmt: skip


def _quantile(values: Sequence[float], share: float) -> float:
    """Linear between order statistics (the common definition, type 7)."""
    ordered = sorted(values)
    at = share * (len(ordered) - 1)
    low = int(at)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (at - low) * (ordered[high] - ordered[low])


def _bad_terms(costs: Costs, fee: float) -> Refusal | None:
    known = ((name, cost) for name, cost in costs.items() if cost is not None)
    return first(
        _bad_fee(fee), *(amount(name, cost, least=0, most=10_000_000) for name, cost in known)
    )


def _bad_fee(fee: float) -> Refusal | None:
    return amount("fee", fee, least=0, most=95, unit="%")
