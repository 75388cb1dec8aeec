"""A simple temporal network: points in time and how far apart they must, and may, be.

An arc says `after` comes at least `seconds` later than `before`. "No later than" is the same arc
turned round with a negative length. Earliest times are longest paths from the origin; a cycle of
positive length asks a point to come after itself, so the times are impossible.
(Dechter, Meiri and Pearl, Temporal constraint networks, Artificial Intelligence 49, 1991.)
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from partsbench.core.wording import and_list


@dataclass(frozen=True, slots=True)
class Arc:
    """`after` is at least `seconds` (whole; negative for a latest time) behind `before`; why."""

    before: str
    after: str
    seconds: int
    why: str = ""


@dataclass(frozen=True, slots=True)
class Impossible:
    """No times fit: the arcs of one circle that cannot all be kept, in order."""

    circle: tuple[Arc, ...]

    @property
    def seconds(self) -> int:
        """By how much the circle misses."""
        return sum(arc.seconds for arc in self.circle)

    @property
    def sentence(self) -> str:
        """`Impossible, because …, and ….`"""
        reasons = list(dict.fromkeys(arc.why for arc in self.circle if arc.why))
        return f"Impossible, because {and_list(reasons)}."


def at_least(before: str, after: str, seconds: int, why: str = "") -> Arc:
    """`after` no sooner than `seconds` behind `before`."""
    return Arc(before, after, seconds, why)


def at_most(before: str, after: str, seconds: int, why: str = "") -> Arc:
    """`after` no later than `seconds` behind `before`."""
    return Arc(after, before, -seconds, why)


def earliest(arcs: Sequence[Arc], origin: str) -> dict[str, int] | Impossible:
    """The earliest time of every point that `origin` bounds from below, in seconds after it."""
    return _longest(arcs, origin, forward=True)


Lift = Callable[[str, int], int | None]
"""A point and a second → the soonest second from it on that the point may have; None: never."""


def earliest_within(
    arcs: Sequence[Arc], origin: str, plain: Mapping[str, int], lift: Lift, horizon: int
) -> dict[str, int] | None:
    """The earliest times when points may moreover fall only into certain hours; None if never.

    `plain` are the earliest times without the hours; what comes after `horizon` is never. Both
    arcs and hours only push a point later, and a later one never pushes less, so pushing until
    nothing moves gives the earliest times.
    """
    leaving: dict[str, list[Arc]] = {}
    for arc in arcs:
        leaving.setdefault(arc.before, []).append(arc)
    length, queue = dict(plain), deque(plain)
    waiting = set(plain)
    while queue:
        point = queue.popleft()
        waiting.discard(point)
        lifted = lift(point, length[point])
        if lifted is None or lifted > horizon or (point == origin and lifted > 0):
            return None
        length[point] = lifted
        for arc in leaving.get(point, ()):
            if lifted + arc.seconds > length[arc.after]:
                length[arc.after] = lifted + arc.seconds
                if arc.after not in waiting:
                    waiting.add(arc.after)
                    queue.append(arc.after)
    return length


def latest(arcs: Sequence[Arc], end: str, at: int) -> dict[str, int] | Impossible:
    """The latest time of every point that must come before `end`, when `end` is at `at`."""
    found = _longest(arcs, end, forward=False)
    if isinstance(found, Impossible):
        return found
    return {point: at - length for point, length in found.items()}


def _longest(arcs: Sequence[Arc], start: str, forward: bool) -> dict[str, int] | Impossible:
    """Longest path lengths from `start` along the arcs (or against them), by label correction.

    The arcs are gone through in their order, which is mostly that of time, until nothing is longer.
    A path of as many arcs as there are points has gone round a positive circle. What lengthened
    what may not show it yet (an arc into it was overtaken); then the circle is lengthened on until
    it does.
    """
    if forward:
        ordered = [(a.before, a.after, a.seconds, a) for a in arcs]
    else:
        ordered = [(a.after, a.before, a.seconds, a) for a in reversed(arcs)]
    limit = len({start, *(a.before for a in arcs), *(a.after for a in arcs)})
    length, by, hops = {start: 0}, dict[str, Arc](), {start: 0}
    moved = True
    while moved:
        moved = False
        for point, next_point, seconds, arc in ordered:
            if point not in length:
                continue
            longer = length[point] + seconds
            if next_point in length and longer <= length[next_point]:
                continue
            length[next_point], by[next_point], moved = longer, arc, True
            hops[next_point] = hops[point] + 1
            if hops[next_point] >= limit and (circle := _circle(by, next_point, limit, forward)):
                return Impossible(circle)
    return length


def _circle(by: dict[str, Arc], point: str, limit: int, forward: bool) -> tuple[Arc, ...]:
    """Walk back along what lengthened what, until inside a circle, then once round it; () if none.

    The walk may end at the start instead, which nothing lengthened.
    """

    def back(p: str) -> str:
        return by[p].before if forward else by[p].after

    for _ in range(limit):
        if point not in by:
            return ()
        point = back(point)
    found = [by[point]]
    at = back(point)
    while at != point:
        found.append(by[at])
        at = back(at)
    return tuple(reversed(found) if forward else found)
