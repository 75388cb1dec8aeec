"""The progress map: how far every part of a piece is, whether it may go on, and who is behind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum

from partsbench.core.finish.answer import Decision
from partsbench.core.finish.behind import lagging
from partsbench.core.naming import together
from partsbench.core.outcomes import Answer
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.wording import listed, sentences
from partsbench.services.known.state import PartState, PieceState, Where, piece_state
from partsbench.services.rules.clocks import groups_of
from partsbench.services.shop import Shop


class PartStand(StrEnum):
    """Whether a part may go on along its path."""

    LATE = "late"
    HELD = "held"
    READY = "ready"
    WAITS = "waits"
    DONE = "every step done"
    BARE = "no finish planned"


_STANDS = {
    Answer.GO: PartStand.READY,
    Answer.WAIT: PartStand.WAITS,
    Answer.LATE: PartStand.LATE,
    Answer.STOP: PartStand.HELD,
}
_COUNTED = {
    PartStand.LATE: "{count} late",
    PartStand.HELD: "{count} held",
    PartStand.READY: "{count} ready",
    PartStand.WAITS: "{count} waiting",
    PartStand.DONE: "{count} with every step done",
}


@dataclass(frozen=True, slots=True)
class PartProgress:
    """How far the least advanced face of a part is: `done` of its `of` steps.

    step: the next one, in words; empty when none is left. until: when a wait is over, or when the
    window of what is ready closes. behind: at least half of the parts on its path are two steps
    ahead of it or more.
    """

    part: Part
    where: Where
    stand: PartStand
    done: int = 0
    of: int = 0
    path: str = ""
    step: str = ""
    until: datetime | None = None
    place: str = ""
    behind: bool = False

    @property
    def share(self) -> float:
        """How much of its path is behind it, 0 to 1; 1 where there is none."""
        return self.done / self.of if self.of else 1.0

    @property
    def steps(self) -> str:
        """`3/11`; empty where nothing is planned."""
        return f"{self.done}/{self.of}" if self.of else ""


@dataclass(frozen=True, slots=True)
class ProgressMap:
    """A piece and the progress of each present part, by short number, as of a moment."""

    piece: Piece
    at: datetime
    parts: Mapping[str, PartProgress]

    @property
    def behind(self) -> tuple[str, ...]:
        return tuple(short for short, each in self.parts.items() if each.behind)

    @property
    def sentence(self) -> str:
        """`Behind: D4, D7. 1 late, 5 ready, 12 waiting.`"""
        stands = [each.stand for each in self.parts.values()]
        counts = [said.format(count=stands.count(s)) for s, said in _COUNTED.items() if s in stands]
        if not counts:
            return "No part has a finish path yet."
        late = f"Behind: {together(self.behind)}." if self.behind else ""
        return sentences(late, f"{listed(counts)}.")


def progress_map(shop: Shop, tag: str, at: datetime | None = None) -> ProgressMap | None:
    """The map of a piece, read from the book once for all of its parts; None for no such piece."""
    piece = shop.piece(tag)
    if piece is None:
        return None
    return map_of(shop, piece_state(shop, piece), at or shop.clock())


def map_of(shop: Shop, state: PieceState, now: datetime) -> ProgressMap:
    """The same of a state that was read already."""
    said: dict[tuple[str, str], Decision] = {}
    for group in groups_of(shop, state, now, {}):
        for part, face in group.faces:
            said[part.part.short, face.name] = group.said
    parts = {short: _progress(own, said) for short, own in state.parts.items()}
    return ProgressMap(state.piece, now, _with_behind(parts))


def _progress(own: PartState, said: Mapping[tuple[str, str], Decision]) -> PartProgress:
    base = PartProgress(own.part, own.where, PartStand.BARE, place=own.place)
    least = own.least
    if least is None:
        return base
    along = replace(
        base,
        stand=PartStand.DONE,
        done=least.progress.index,
        of=least.progress.of,
        path=least.path.name,
    )
    if least.progress.next is None:
        return along
    mine = said[own.part.short, least.name]
    # What is late on any face is told; else the least advanced speaks for the part.
    others = (said.get((own.part.short, face.name)) for face in own.faces)
    late = next((each for each in others if each and each.answer is Answer.LATE), None)
    told = late or mine
    return replace(
        along, stand=_STANDS[told.answer], step=least.progress.next.name, until=told.until
    )


def _with_behind(parts: Mapping[str, PartProgress]) -> dict[str, PartProgress]:
    """Each is compared with those on its own path."""
    paths: dict[str, dict[str, tuple[int, int]]] = {}
    for short, each in parts.items():
        if each.of:
            paths.setdefault(each.path, {})[short] = each.done, each.of - each.done
    behind = {short for siblings in paths.values() for short in lagging(siblings)}
    return {short: replace(each, behind=short in behind) for short, each in parts.items()}


def alike(parts: Sequence[PartProgress]) -> list[tuple[PartProgress, ...]]:
    """Parts of one sort that stand alike, together: what is drawn as one."""
    found: dict[object, list[PartProgress]] = {}
    for each in parts:
        key = (each.part.family, each.path, each.done, each.of, each.stand, each.behind, each.where)
        found.setdefault(key, []).append(each)
    return [tuple(group) for group in found.values()]
