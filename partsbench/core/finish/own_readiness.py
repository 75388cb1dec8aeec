"""When films were ready in this shop, told from "tried, ready" and "tried, not ready" alone.

A try only says that a film became ready before or after it, so what is known of each film is a
span of hours. The shares are the nonparametric maximum likelihood estimate for such spans
(Turnbull, The empirical distribution function with arbitrarily grouped, censored and truncated
data, Journal of the Royal Statistical Society B 38, 1976), found by its self-consistency.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import accumulate, pairwise
from math import comb, inf

from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.products import Ready
from partsbench.core.sources import Source, Status
from partsbench.core.wording import plural

ENOUGH_FILMS = 5
"""Fewer films than that are too few to tell."""

SHARE = 0.8
"""A wait is told by when so many of the films were ready."""

RANGE = 0.8
"""How surely the range of a figure holds it."""

CLOSE_ENOUGH = 1e-5
MOST_ROUNDS = 5000

BEFORE = {
    Ready.SAND: "to be sanded",
    Ready.RECOAT: "for the next coat",
    Ready.TAPE: "for tape",
    Ready.HANDLE: "to be handled",
    Ready.TOUCH: "to touch or stack",
    Ready.SERVICE: "for service",
}


@dataclass(frozen=True, slots=True)
class Try:
    """One try of a film for one of the six states. part: short number; film_at: when it was put on.

    tin: the name of the tin that was in use, "" for none.
    """

    part: str
    ready: Ready
    is_ready: bool
    product: str
    tin: str
    film_at: datetime
    at: datetime

    @property
    def hours(self) -> float:
        """How long after the coat it was tried."""
        return (self.at - self.film_at).total_seconds() / 3600


@dataclass(frozen=True, slots=True)
class ReadySpan:
    """Hours after the coat: not ready at `low` (0: not tried before), ready by `high` (inf: not yet
    seen ready)."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Mass:
    """The share of films that became ready after `low` and by `high` hours."""

    low: float
    high: float
    share: float


@dataclass(frozen=True, slots=True)
class OwnWait:
    """What the shop's own tries say of one state: by `low` hours fewer than `SHARE` of the films
    were ready, by `high` so many were (inf: never seen). The true time lies in `least`..`most`.

    films: how many were tried. ready: how many of them were ready by `high`, as estimated; seen:
    how many of these were seen ready by then.
    """

    films: int
    ready: int
    seen: int
    low: float
    high: float
    least: float
    most: float

    def longer_than(self, wait: timedelta | None) -> timedelta | None:
        """The own wait where it is longer; None where the figure stands.

        Only what was seen not ready counts: a film first tried late says nothing of the hours
        before, and nothing here ever shortens a wait.
        """
        if self.low <= 0 or (wait is not None and _hours(self.low) < wait):
            return None
        return _hours(self.high if self.high < inf else self.low)

    @property
    def source(self) -> Source:
        """`your own tries: 8 of 10 films ready by 31 h`."""
        return Source(f"your own tries: {self.said}", Status.OWN, "earliest")

    def count(self, what: str) -> str:
        """`8 of 10 tries`; what is only estimated is told from what was seen."""
        told = f"{self.ready} of {self.films} {what}"
        return told if self.seen >= self.ready else f"an estimated {told} ({self.seen} seen)"

    @property
    def said(self) -> str:
        if self.high < inf:
            return f"{self.count('films')} ready by {_say(self.high)}"
        return f"fewer than {SHARE:.0%} of {self.films} films ready at {_say(self.low)}"


def span_of(tries: Iterable[Try]) -> ReadySpan:
    """What the tries of one film say together, in the order of recording. Of two at one moment the
    later word counts; of two that disagree the later "not ready", which makes the span longer."""
    ordered = list({t.at: t for t in tries}.values())
    low = max((t.hours for t in ordered if not t.is_ready), default=0.0)
    return ReadySpan(
        low, min((t.hours for t in ordered if t.is_ready and t.hours > low), default=inf)
    )


def spans_of(tries: Iterable[Try]) -> list[ReadySpan]:
    """One span for each film: what was put on one part at one moment is one film, however many
    faces it is on."""
    films: dict[tuple[str, datetime], list[Try]] = {}
    for each in tries:
        films.setdefault((each.part, each.film_at), []).append(each)
    return [span_of(film) for film in films.values()]


def shares(spans: Sequence[ReadySpan]) -> tuple[Mass, ...]:
    """The estimate: mass on the innermost spans, those that no end of another lies in."""
    places = _innermost(spans)
    if not places:
        return ()
    within = [_within(span, places) for span in spans]
    p = [1 / len(places)] * len(places)
    for _ in range(MOST_ROUNDS):
        pull = _pull(p, within)
        p = [share * by for share, by in zip(p, pull, strict=True)]
        # Kuhn-Tucker: at the maximum no place pulls more than 1.
        if max(pull) <= 1 + CLOSE_ENOUGH:
            break
    return tuple(Mass(low, high, s) for (low, high), s in zip(places, p, strict=True) if s > 1e-6)


def by_share(found: Sequence[Mass], share: float) -> tuple[float, float]:
    """Hours by which fewer than `share` were ready, and by which so many were; inf: never seen."""
    so_far = 0.0
    for mass in found:
        so_far += mass.share
        if so_far >= share - 1e-4:
            return mass.low, mass.high
    return (found[-1].low if found else 0.0), inf


def true_range(
    spans: Sequence[ReadySpan], share: float, surely: float = RANGE
) -> tuple[float, float]:
    """Hours between which the true quantile lies with at least the chance `surely`, whatever the
    distribution and whenever was tried: order statistics of the spans' lower and upper ends.

    Of n films the r-th to be ready lies below the quantile, and the s-th above it, by chances that
    are binomial; with few films there is no such s, and no end can be told.
    """
    n, tail = len(spans), (1 - surely) / 2
    lows, highs = sorted(s.low for s in spans), sorted(s.high for s in spans)
    chances = [comb(n, k) * share**k * (1 - share) ** (n - k) for k in range(n + 1)]
    below = list(accumulate(chances))  # at most k films ready before the quantile
    r = max((k for k in range(1, n + 1) if below[k - 1] <= tail), default=0)
    s = min((k for k in range(1, n + 1) if below[k - 1] >= 1 - tail), default=0)
    return (lows[r - 1] if r else 0.0), (highs[s - 1] if s else inf)


def own_wait(spans: Sequence[ReadySpan], share: float = SHARE) -> OwnWait | None:
    """The figure of one product and state; None while it is too few to tell."""
    if len(spans) < ENOUGH_FILMS:
        return None
    found = shares(spans)
    low, high = by_share(found, share)
    done = sum(m.share for m in found if m.high <= high < inf)
    least, most = true_range(spans, share)
    seen = sum(s.high <= high < inf for s in spans)
    return OwnWait(len(spans), int(len(spans) * done + 1e-3), seen, low, high, least, most)


def sentence(name: str, ready: Ready, films: int, own: OwnWait | None) -> str:
    """`In your shop oil wiping stain was ready for tape by 31 h in 8 of 10 tries; …`."""
    what = BEFORE[ready]
    if own is None:
        tries = plural(films, "1 try", f"{films} tries")
        return (
            f"When {name} is ready {what} here: {tries}, too few to tell (from {ENOUGH_FILMS} on)."
        )
    if own.high == inf:
        return (
            f"In your shop {name} was not ready {what} at {_say(own.low)} often enough: "
            f"fewer than {SHARE:.0%} of {own.films} tries, and nothing longer was tried."
        )
    to = f"to {_say(own.most)}" if own.most < inf else "upwards, no end can be told yet"
    return (
        f"In your shop {name} was ready {what} by {_say(own.high)} in {own.count('tries')}; "
        f"the true figure lies from {_say(own.least)} {to} ({RANGE:.0%})."
    )


def last_try(tries: Iterable[Try], ready: Ready, product: str, film_at: datetime) -> Try | None:
    """The newest try of this film for this state; of two at one moment the later word."""
    mine = [t for t in tries if (t.ready, t.product, t.film_at) == (ready, product, film_at)]
    return max(reversed(mine), key=lambda t: t.at, default=None)


def figures(tries: Iterable[Try]) -> Mapping[tuple[str, str, Ready], list[ReadySpan]]:
    """The spans by product class, tin and state."""
    found: dict[tuple[str, str, Ready], list[Try]] = {}
    for each in tries:
        found.setdefault((each.product, each.tin, each.ready), []).append(each)
    return {key: spans_of(mine) for key, mine in sorted(found.items())}


def _innermost(spans: Sequence[ReadySpan]) -> list[tuple[float, float]]:
    """Each lower end that is followed at once by an upper end. Spans are open below and closed
    above, so of equal hours the upper end comes first."""
    ends = sorted([(s.low, 1) for s in spans] + [(s.high, 0) for s in spans])
    return [(a, b) for (a, opens), (b, also_opens) in pairwise(ends) if opens and not also_opens]


def _within(span: ReadySpan, places: Sequence[tuple[float, float]]) -> tuple[int, int]:
    """The places inside a span: always a run of them, from the first to before the last."""
    inside = [i for i, (a, b) in enumerate(places) if span.low <= a and b <= span.high]
    return inside[0], inside[-1] + 1


def _pull(p: Sequence[float], within: Sequence[tuple[int, int]]) -> list[float]:
    """By how much one round multiplies each share: sums over runs, so a round is as long as the
    films and places together."""
    up_to = [0.0, *accumulate(p)]
    steps = [0.0] * (len(p) + 1)
    for start, end in within:
        each = 1 / (len(within) * (up_to[end] - up_to[start]))
        steps[start] += each
        steps[end] -= each
    return list(accumulate(steps[:-1]))


def _hours(length: float) -> timedelta:
    return timedelta(hours=length)


def _say(hours: float) -> str:
    return say_duration(_hours(hours))
