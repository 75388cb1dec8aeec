"""Why a day cannot be kept: the chain of work and waits beyond it, or too much work."""

from __future__ import annotations

from dataclasses import dataclass

from partsbench.core.plan.bound import Bounds
from partsbench.core.plan.energy import Crowded


@dataclass(frozen=True, slots=True)
class ChainLink:
    """One stint of a chain at its soonest, and what it had to wait for in words; "" for nothing
    but the hours of work."""

    stint: str
    name: str
    start: int
    end: int
    why: str


@dataclass(frozen=True, slots=True)
class Unreachable:
    """A piece cannot be done by a minute: either its chain alone is longer, or the work that must
    lie between two moments is more than there is time for. `soonest`: no plan is earlier."""

    piece: str
    by: int
    soonest: int
    chain: tuple[ChainLink, ...]
    crowded: Crowded | None = None


def why_not(bounds: Bounds, piece: str, by: int, soonest: int) -> Unreachable | None:
    """The proof that no plan has the piece done by then; None where that is not proven.

    soonest: the proven end of the piece.
    """
    if soonest <= by:
        return None
    floor = bounds.floor
    mine = [i for i, s in enumerate(floor.stints) if s.piece == piece]
    chain = longest_chain(bounds, piece)
    if chain and chain[-1].end > by:
        return Unreachable(piece, by, soonest, chain)
    found = bounds.refuted(mine, by)
    return Unreachable(piece, by, soonest, chain, found if isinstance(found, Crowded) else None)


def longest_chain(bounds: Bounds, piece: str) -> tuple[ChainLink, ...]:
    """The chain that holds the end of a piece, first link first, each at its soonest."""
    floor = bounds.floor
    mine = [i for i, s in enumerate(floor.stints) if s.piece == piece]
    if not mine:
        return ()
    at = max(mine, key=lambda i: (bounds.heads[i] + floor.stints[i].minutes, i))
    links: list[ChainLink] = []
    seen: set[int] = set()
    while at >= 0 and at not in seen:
        seen.add(at)
        stint, before = floor.stints[at], bounds.from_[at]
        start = bounds.heads[at]
        links.append(ChainLink(stint.key, stint.name, start, start + stint.minutes,
                               _why(bounds, before, at)))  # fmt: skip
        at = before
    return tuple(reversed(links))


def _why(bounds: Bounds, before: int, at: int) -> str:
    stint = bounds.floor.stints[at]
    if before < 0:
        return stint.why_soonest if stint.soonest else ""
    first = bounds.floor.stints[before]
    lags = [
        lag for lag in bounds.floor.shop.lags if {lag.before, lag.after} == {first.key, stint.key}
    ]
    longest = max(lags, key=lambda lag: lag.least)
    return longest.why if longest.before == first.key else longest.why_most
