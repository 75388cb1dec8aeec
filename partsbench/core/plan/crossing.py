"""A further order of the work, of two that are known or of one."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from partsbench.core.plan.floor import Batches, Floor

Turns = list[float]
"""By stint: the lower, the sooner it is planned."""

BY_MINUTES = (15, 60, 240, 1440)
STRETCHES = (240, 1440, 2880)
"""Minutes by which turns are moved, and over which those of a piece are."""


def by_piece(floor: Floor, one: Turns, two: Turns, random: Random) -> Turns:
    """Some pieces in the turns of the one, the others in those of the other."""
    pieces = list(floor.of_piece)
    mine = set(random.sample(pieces, random.randint(1, max(1, len(pieces) - 1))))
    return [a if s.piece in mine else b for a, b, s in zip(one, two, floor.stints, strict=True)]


def by_time(one: Turns, two: Turns, random: Random) -> Turns:
    """Up to a moment in the order of the one, what comes later there in that of the other; or what
    comes later as it was, and what comes first in the order of the other."""
    at = random.choice(one)
    if random.random() < 0.5:
        return [a if a <= at else at + 1 + b for a, b in zip(one, two, strict=True)]
    far = max(two)
    return [at + 1 + a if a > at else at - far + b for a, b in zip(one, two, strict=True)]


def moved(floor: Floor, turns: Turns, batches: Batches, random: Random) -> Turns:
    """One to three other turns: of a batch, of a stretch of one piece, or of one stint."""
    turns = list(turns)
    for _ in range(random.choice((1, 2, 3))):
        kind, i = random.random(), random.randrange(len(turns))
        by = random.choice(BY_MINUTES) * (1 + random.random()) * random.choice((-1, 1))
        if kind < 0.5:
            some: Sequence[int] = next((b for b in batches if i in b), (i,))
        elif kind < 0.8:
            low, high = turns[i], turns[i] + random.choice(STRETCHES)
            some = [j for j in floor.of_piece[floor.stints[i].piece] if low <= turns[j] <= high]
        else:
            some = (i,)
        for j in some:
            turns[j] += by
    return turns


def other_loads(
    floor: Floor, start: Sequence[float], batches: Batches, random: Random
) -> Batches | None:
    """One load more, fewer, or with other stints; None where nothing can be changed."""
    spray = [i for i, s in enumerate(floor.stints) if s.mix]
    if not spray:
        return None
    i = random.choice(spray)
    loads = [list(load) for load in batches]
    mine = next((load for load in loads if i in load), None)
    if mine is not None and random.random() < 0.5:
        mine.remove(i)
    else:
        others = [j for j in spray if j != i and floor.joins(floor.stints[i], floor.stints[j])]
        if not others:
            return None
        others.sort(key=lambda j: abs(start[j] - start[i]))
        j = others[min(int(random.expovariate(0.5)), len(others) - 1)]
        theirs = next((load for load in loads if j in load), None)
        if theirs is None:
            theirs = [j]
            loads.append(theirs)
        if theirs is mine:
            return None
        if mine is not None:
            mine.remove(i)
        theirs.append(i)
        theirs.sort(key=lambda k: start[k])
        if not floor.one_cup(theirs):
            return None
    return tuple(tuple(load) for load in loads if len(load) > 1)
