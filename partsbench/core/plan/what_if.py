"""What if: a workshop with a helper more or an evening less, and the answers side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from partsbench.core.plan.workshop import FromTo, Worker, Workshop


@dataclass(frozen=True, slots=True)
class Compared:
    """The end of a piece as things are and as they would be, in minutes; None where it has none."""

    piece: str
    now: int | None
    then: int | None


def with_helper(shop: Workshop, helper: Worker) -> Workshop:
    """One pair of hands more."""
    return replace(shop, workers=(*shop.workers, helper))


def without_time(shop: Workshop, off: FromTo, names: Sequence[str] = ()) -> Workshop:
    """Nobody works in that stretch, or those named do not."""
    workers = tuple(
        replace(w, here=_cut(w.here, off), loud=_cut(w.loud, off))
        if not names or w.name in names
        else w
        for w in shop.workers
    )
    return replace(shop, workers=workers)


def compared(now: dict[str, int], then: dict[str, int]) -> tuple[Compared, ...]:
    """The ends side by side, of every piece that has one."""
    return tuple(Compared(p, now.get(p), then.get(p)) for p in dict.fromkeys((*now, *then)))


def _cut(stretches: Sequence[FromTo], off: FromTo) -> tuple[FromTo, ...]:
    found = []
    for start, end in stretches:
        if start < min(end, off[0]):
            found.append((start, min(end, off[0])))
        if max(start, off[1]) < end:
            found.append((max(start, off[1]), end))
    return tuple(found)
