"""A quote from the shop's own finished jobs: a likely and a bad-case sum, of one kind of piece.

Money is in the shop's own unit. Fees are a share of the price, in %.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from partsbench.core.outcomes import Refused
from partsbench.core.sums.money import LEAST_HOURS, fee_fault
from partsbench.core.sums.refusal import amount, first
from partsbench.core.wording import plural

ENOUGH_JOBS = 5
"""Fewer finished jobs than this tell nothing about the next one."""
BAD_SHARE = 0.9
"""The bad case is the sum that so many of such jobs stay below, where there are enough to tell."""


@dataclass(frozen=True, slots=True)
class Finished:
    """A finished job of the shop: what kind of piece it was, and how many hours are estimated."""

    codename: str
    hours: float
    costs: float
    kind: str = ""
    estimated: float = 0.0


@dataclass(frozen=True, slots=True)
class Quote:
    """A likely and a bad-case sum from the shop's own jobs; None when they are too few to tell.

    kind: of which all `jobs` are; "" where they are of all kinds. like: how many are of the kind
    that was asked about; None where none was.
    """

    jobs: int
    likely: float | None
    bad: float | None
    hours_likely: float | None
    hours_bad: float | None
    lacks: tuple[str, ...]
    sources: tuple[str, ...]
    kind: str = ""
    asked: str = ""
    like: int | None = None

    @property
    def bad_share(self) -> float:
        """The share of such jobs that stays below the bad case.

        Of jobs that come as by chance the next one lies below the worst of n with n in n + 1.
        """
        return min(BAD_SHARE, self.jobs / (self.jobs + 1))

    @property
    def sentence(self) -> str:
        """`Likely 610, bad case 780, from 8 finished jobs of all kinds (16 to 22 h).`"""
        jobs = plural(self.jobs, "1 finished job", f"{self.jobs} finished jobs")
        of = f"of kind “{self.kind}”" if self.kind else "of all kinds"
        if self.like is not None and not self.kind:
            like = self.like or "none"
            of = f"of all kinds, {like} of kind “{self.asked}”"
        if self.likely is None or self.bad is None:
            return f"Too few to tell: {jobs} {of}, {ENOUGH_JOBS} are needed."
        span = f"{self.hours_likely:.0f} to {self.hours_bad:.0f} h"
        likely, bad = ceil(self.likely / 10) * 10, ceil(self.bad / 10) * 10
        return f"Likely {likely}, bad case {bad}, from {jobs} {of} ({span})."


def quote(
    finished: Sequence[Finished], rate: float, fee: float = 0, kind: str = ""
) -> Quote | Refused:
    """Median and nine-in-ten sums over finished jobs; nothing below five of them.

    Over those of the `kind` asked about where five or more were of it, else over all.
    """
    bad = first(
        amount("rate", rate, least=0, most=10_000),
        fee_fault(fee),
        *(amount(f"hours of {j.codename}", j.hours, above=0, most=10_000) for j in finished),
        *(amount(f"costs of {j.codename}", j.costs, least=0, most=1e6) for j in finished),
    )
    if bad:
        return bad
    alike = [job for job in finished if kind and job.kind == kind]
    own = kind if len(alike) >= ENOUGH_JOBS else ""
    jobs = alike if own else finished
    answer = Quote(
        len(jobs), None, None, None, None, _lacking(jobs, kind, own, len(alike)),
        _sources(jobs), own, kind, len(alike) if kind else None,
    )  # fmt: skip
    if len(jobs) < ENOUGH_JOBS:
        return answer
    sums = [(job.costs + job.hours * rate) / (1 - fee / 100) for job in jobs]
    times = [job.hours for job in jobs]
    return replace(
        answer,
        likely=_quantile(sums, 0.5),
        bad=_quantile(sums, BAD_SHARE),
        hours_likely=_quantile(times, 0.5),
        hours_bad=_quantile(times, BAD_SHARE),
    )


def _lacking(
    jobs: Sequence[Finished], kind: str, own: str, alike: int
) -> tuple[str, ...]:  # fmt: skip
    """The jobs that are missing, of the kind that was asked about or at all."""
    if own or (not kind and len(jobs) >= ENOUGH_JOBS):
        return ()
    short = ENOUGH_JOBS - (alike if kind else len(jobs))
    more = plural(short, "1 more finished job", f"{short} more finished jobs")
    return (f"{more} of kind “{kind}”" if kind else more,)


def _sources(jobs: Sequence[Finished]) -> tuple[str, ...]:
    """How many jobs it stands on, and how many of their hours no clock measured."""
    many = len(jobs)
    said = plural(many, "1 finished job of this shop", f"{many} finished jobs of this shop")
    estimated = sum(job.estimated for job in jobs)
    if estimated < LEAST_HOURS:
        return (said,)
    return (f"{said}, {estimated:.1f} of their {sum(j.hours for j in jobs):.1f} h estimated",)


def _quantile(values: Sequence[float], share: float) -> float:
    """Below which the next of such values lies with this chance; no more than the largest.

    Linear between order statistics, the i-th of n at i / (n + 1).
    """
    ordered = sorted(values)
    at = min(max(share * (len(ordered) + 1) - 1, 0.0), len(ordered) - 1.0)
    low = int(at)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (at - low) * (ordered[high] - ordered[low])
