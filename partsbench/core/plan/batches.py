"""What is alike on the parts of one piece, worked in one go: four fronts sanded behind each other.

A plan of batches has a quarter of the turns to choose from, and people work in batches.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from partsbench.core.plan.floor import Batches, Floor

LONGEST = 240
"""Minutes that a batch takes at most; and never more than half of the longest stretch of hours."""

CLOSE = 120
"""Latest ends of fewer minutes bind what is worked together: wiping off behind staining."""


def batches(floor: Floor, shares: int = 1) -> Batches:
    """The work of one step on all parts of a piece that are as far, cut into so many shares.

    What has to follow sooner than a whole batch takes is left to be done part by part. All of a
    batch are equally far, so that no two batches wait for each other.
    """
    cut = [share for some in _alike(floor) for share in _shares(some, shares)]
    of = {i: n for n, batch in enumerate(cut) for i in batch}
    apart = _apart(floor, cut, of)
    return tuple(b for n, b in enumerate(cut) if len(b) > 1 and n not in apart)


def _alike(floor: Floor) -> list[tuple[int, ...]]:
    """Stints of one step of a piece that have as many before them, as far as they go together."""
    depth = [0] * len(floor.stints)
    for b in floor.order:
        depth[b] = max((depth[a] + 1 for a, _, _ in floor.into[b]), default=0)
    groups: dict[tuple[object, ...], list[int]] = {}
    for i, s in enumerate(floor.stints):
        alike = (s.piece, s.does, s.work, s.mix, s.room, s.use, s.hands, s.loud, floor.able[i])
        groups.setdefault((*alike, depth[i]), []).append(i)
    return [some for members in groups.values() for some in _filled(floor, members)]


def _filled(floor: Floor, members: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """One batch after another, each as long as cup, rack and hours allow."""
    first = floor.stints[members[0]]
    hours = [
        end - start
        for w in floor.able[members[0]]
        for worker in (floor.shop.workers[w],)
        for start, end in (worker.loud if first.loud else worker.here)
    ]
    longest = min(LONGEST, max(hours, default=0) // 2)
    batch: list[int] = []
    for i in members:
        minutes = sum(floor.minutes[j] for j in (*batch, i))
        if batch and (minutes > longest or not floor.one_cup([*batch, i])):
            yield tuple(batch)
            batch = []
        batch.append(i)
    yield tuple(batch)


def _shares(some: tuple[int, ...], shares: int) -> Iterator[tuple[int, ...]]:
    size = -(-len(some) // shares)
    return (some[at : at + size] for at in range(0, len(some), size))


def _apart(floor: Floor, cut: Sequence[tuple[int, ...]], of: dict[int, int]) -> set[int]:
    """The batches of which one cannot follow the other as soon as it must, and those that are
    bound closely to them."""
    tied: dict[int, set[int]] = {}
    apart = set[int]()
    for b, into in enumerate(floor.into):
        for a, _, most in into:
            if most is None or of[a] == of[b]:
                continue
            if most < CLOSE:
                tied.setdefault(of[a], set()).add(of[b])
                tied.setdefault(of[b], set()).add(of[a])
            if not _can_follow(floor, cut[of[a]], cut[of[b]]):
                apart |= {of[a], of[b]}
    todo = list(apart)
    while todo:
        for other in tied.get(todo.pop(), ()):
            if other not in apart:
                apart.add(other)
                todo.append(other)
    return apart


def _can_follow(floor: Floor, one: tuple[int, ...], two: tuple[int, ...]) -> bool:
    """Whether there is a start of the second batch that keeps all waits and windows between."""
    at = dict(floor.unit(one).begins)
    soonest, latest = sum(floor.minutes[i] for i in one), None
    for b, offset in floor.unit(two).begins:
        for a, least, most in floor.into[b]:
            if a not in at:
                continue
            over = at[a] + floor.minutes[a] - offset
            soonest = max(soonest, over + least)
            if most is not None:
                latest = over + most if latest is None else min(latest, over + most)
    return latest is None or soonest <= latest
