"""What the plan begins tonight, and what is lost where that is put off until the morning."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from partsbench.core.plan.change import laid_out, loads_of
from partsbench.core.plan.floor import Floor
from partsbench.core.plan.workshop import FromTo, ShopPlan, Worker, Workshop


@dataclass(frozen=True, slots=True)
class Begun:
    """Work that the plan begins tonight, in order, by the keys of its stints; and by how many
    minutes its piece is done later when all of it waits for the morning."""

    stints: tuple[str, ...]
    piece: str
    saves: int


def worth_tonight(shop: Workshop, plan: ShopPlan, until: int, morning: int) -> Begun | None:
    """What is begun until then that saves most against the morning; None where nothing does.

    What would miss a window by the morning is not put off, and so not told: it has its own alarm.
    """
    floor, at, ends = Floor(shop), plan.at(), plan.ends(shop)
    begun = {i for i, s in enumerate(floor.stints) if at[s.key].start < min(until, morning)}
    best: Begun | None = None
    for root, chain in _chains(floor, begun, at_start=[at[s.key].start for s in floor.stints]):
        later = _put_off(floor, plan, root, morning)
        piece = floor.stints[root].piece
        saves = later.ends(shop)[piece] - ends[piece]
        if best is None or saves > best.saves:
            best = Begun(tuple(floor.stints[i].key for i in chain), piece, saves)
    return best if best and best.saves > 0 else None


def with_evening(shop: Workshop, here: FromTo, loud: Sequence[FromTo]) -> Workshop:
    """The first pair of hands is here in that stretch too, and may be loud in those."""
    you = shop.workers[0]
    more = Worker(you.name, _joined((*you.here, here)), _joined((*you.loud, *loud)), you.only)
    return replace(shop, workers=(more, *shop.workers[1:]))


def pulled_forward(shop: Workshop, plan: ShopPlan) -> ShopPlan:
    """The plan in its order, each thing as soon as these hours allow."""
    floor, at = Floor(shop), plan.at()
    rank = [float(at[s.key].start) for s in floor.stints]
    return laid_out(floor, loads_of(floor, plan), rank, {}).plan()


def _chains(
    floor: Floor, begun: set[int], at_start: Sequence[int]
) -> Iterator[tuple[int, list[int]]]:
    """Each stint of tonight that waits for no other of them, with those that wait for it."""
    for root in sorted(begun, key=lambda i: (at_start[i], i)):
        if any(a in begun for a, _, _ in floor.into[root]):
            continue
        chain, todo = {root}, [root]
        while todo:
            for b, _, _ in floor.out[todo.pop()]:
                if b in begun and b not in chain:
                    chain.add(b)
                    todo.append(b)
        yield root, sorted(chain, key=lambda i: (at_start[i], i))


def _put_off(floor: Floor, plan: ShopPlan, root: int, morning: int) -> ShopPlan:
    """The plan with one stint, and so all that waits for it, no sooner than the morning."""
    at = plan.at()
    loads = tuple(tuple(i for i in load if i != root) for load in loads_of(floor, plan))
    rank = [float(at[s.key].start) for s in floor.stints]
    rank[root] = float(morning)
    whole = tuple(load for load in loads if len(load) > 1)
    return laid_out(floor, whole, rank, {root: morning}).plan()


def _joined(stretches: Sequence[FromTo]) -> tuple[FromTo, ...]:
    found: list[FromTo] = []
    for start, end in sorted(stretches):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return tuple(found)
