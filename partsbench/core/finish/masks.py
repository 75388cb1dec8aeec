"""Masks: what covers one side of a seam, from when to when, and what must come before it is off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from partsbench.core.finish.clocks import Window, window
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.products import COATS
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.steps import FinishPath, Operation, PathKind, Step
from partsbench.core.finish.waits import WaitFigures, waits_into
from partsbench.core.piece.spot import Spot
from partsbench.core.shown_times import moment
from partsbench.core.sources import Source, Status

MASKED_FOR = frozenset({Operation.COLOUR, Operation.TOPCOAT, Operation.PRIME, Operation.CLEAR})

COLOURED = frozenset({Operation.DYE, Operation.STAIN})
"""What tape on the bare wood may lift."""


class MaskState(StrEnum):
    """What is known of a seam's far side before a coat."""

    MASKED = "masked"
    NOT_NEEDED = "no mask needed"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Mask:
    """One mask: the face it covers, the faces it is on for, and the tape's rated time.

    doubt: why the time it went on may be wrong, in words; "" when nothing speaks against it.
    """

    key: str
    covers: Spot
    against: tuple[Spot, ...]
    on: datetime
    off: datetime | None = None
    rating: timedelta | None = None
    tape: str = ""
    doubt: str = ""

    @property
    def off_by(self) -> datetime | None:
        """The latest time to take it off, by the tape's rating; None when that was not given."""
        return self.on + self.rating if self.rating else None

    def is_on(self, now: datetime) -> bool:
        return self.on <= now and (self.off is None or now < self.off)


@dataclass(frozen=True, slots=True)
class SeamOrder:
    """One step of one face that must come before one step of another, and why."""

    before: tuple[Spot, str]
    after: tuple[Spot, str]
    why: str


@dataclass(frozen=True, slots=True)
class Protection:
    """One way to get from stain to tape: how long it takes and what may go wrong."""

    name: str
    wait: timedelta
    risk: str
    source: Source

    @property
    def sentence(self) -> str:
        return f"{self.name}: tape after {say_duration(self.wait)}; {self.risk}."


def wants_cover(path: FinishPath, other: FinishPath) -> bool:
    """Whether tape belongs between a face of `path` and its neighbour of another path.

    Paint ends at a line, whatever lies beyond it. Stain and clear are wiped or brushed up to bare
    wood, so they ask for tape only against paint.
    """
    if path.key == other.key or not path.steps:
        return False
    return path.kind is PathKind.PAINT or (bool(other.steps) and other.kind is PathKind.PAINT)


def to_cover(path: FinishPath, other: FinishPath) -> bool:
    """Whether a face on `other` is what is covered where it meets a face on `path`.

    Paint is put on beside what is covered; of two paints either may be first.
    """
    return wants_cover(path, other) and path.kind is PathKind.PAINT


def mask_state(
    face: Spot, other: Spot, masks: Sequence[Mask], now: datetime, not_needed: frozenset[Spot]
) -> MaskState:
    """Whether `other` is covered while `face` is coated, or was said to need no cover."""
    if any(m.covers == other and face in m.against and m.is_on(now) for m in masks):
        return MaskState.MASKED
    return MaskState.NOT_NEEDED if other in not_needed else MaskState.UNKNOWN


def coats_to_come(now: Progress) -> tuple[Step, ...]:
    """The coats that a face still has before it, optional ones left out."""
    left = now.path.steps[now.place :]
    return tuple(s for s in left if s.operation in COATS and not s.optional)


def still_masked_for(mask: Mask, faces: Mapping[Spot, Progress]) -> tuple[str, ...]:
    """Why this mask must stay: `D3 front: Topcoat 2 is to come`; () when it may come off."""
    found = []
    for face in mask.against:
        now = faces.get(face)
        coats = [s for s in coats_to_come(now) if s.operation in MASKED_FOR] if now else []
        if coats:
            found.append(f"{face}: {coats[0].name} is to come")
    return tuple(found)


def tape_off(at: Progress, shop: WaitFigures) -> Window | None:
    """When tape may come off the film on a face: its path's own unmasking says so."""
    step = _of(at.path, Operation.UNMASK)
    return window(at, step, shop) if step else None


def overdue(masks: Sequence[Mask], now: datetime) -> tuple[Mask, ...]:
    """Masks that are on beyond the tape's rating, the longest overdue first."""
    late = [
        (m.off_by, m) for m in masks if m.is_on(now) and m.off_by and now > m.off_by and not m.doubt
    ]
    return tuple(mask for _, mask in sorted(late, key=lambda pair: (pair[0], pair[1].key)))


def in_doubt(masks: Sequence[Mask]) -> tuple[Mask, ...]:
    """Masks of which nobody knows whether the tape is over its rating: a wrong clock noted them."""
    return tuple(m for m in masks if m.rating and m.doubt)


def seam_order(
    covered: Spot, path: FinishPath, other: Spot, against: FinishPath
) -> list[SeamOrder]:
    """What a seam demands of the two faces: mask, colour, unmask, touch up and clear, in order.

    covered: the face that is finished first and masked. Steps that a path has not are left out.
    """
    coats = [s for s in against.steps if s.operation in MASKED_FOR and not s.optional]
    mask, unmask = _of(path, Operation.MASK), _of(path, Operation.UNMASK)
    found = []
    if mask and coats:
        why = f"{covered} is masked before {other} gets {coats[0].name}"
        found.append(SeamOrder((covered, mask.key), (other, coats[0].key), why))
    if unmask and coats:
        why = f"{covered} stays masked until {other} has its {coats[-1].name}"
        found.append(SeamOrder((other, coats[-1].key), (covered, unmask.key), why))
    return found


def ways_to_protect(path: FinishPath, shop: WaitFigures) -> tuple[Protection, ...]:
    """From the stain to the tape, without and with a seal coat: hours and risk in words.

    () where nothing is stained before it is masked.
    """
    mask, seal = _of(path, Operation.MASK), _of(path, Operation.SEAL)
    if mask is None:
        return ()
    before = [s for s in path.steps[: path.index(mask.key)] if not s.optional]
    if not any(s.operation in COLOURED for s in before):
        return ()
    bare = _longest(mask, before, shop)
    found = [_protection("Straight on the stain", bare, "tape may lift colour, plan a touch-up")]
    if seal and path.index(seal.key) == len(path.steps[: path.index(mask.key)]) - 1:
        under = _longest(seal, before, shop)
        over = _longest(mask, [*before, seal], shop)
        total = max(under + _own(seal, mask, shop), over)
        found.append(_protection("Seal coat first", total, "one more coat, less lifting"))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class LineWay:
    """One way to end a coat at a seam: what is done, and from when; at None: only the tin says."""

    name: str
    at: datetime | None
    note: str

    def sentence(self, now: datetime) -> str:
        when = "no figure, read the tin" if self.at is None else "now"
        if self.at is not None and self.at > now:
            when = f"from {moment(self.at, now)}"
        return f"{self.name}: {when}; {self.note}."


def line_ways(
    face: Spot, tape: datetime | None, others: Mapping[Spot, datetime | None], now: datetime
) -> tuple[LineWay, ...]:
    """Brush line or reverse mask, where `face` is too young for tape; () when tape holds on it.

    tape, and in `others` by the faces it meets: when tape may go on, None when no figure is known.
    """
    if not others or (tape is not None and tape <= now):
        return ()
    other = ", ".join(map(str, others))
    known = [at for at in others.values() if at is not None]
    other_tape = max(known) if len(known) == len(others) else None
    return (
        LineWay(f"Tape on {face}", tape, "before that it lifts what is under it"),
        LineWay(f"Reverse mask, tape on {other}", other_tape, f"then {face} gets its coats first"),
        LineWay(f"Brush line along {other}", now, "no tape; a steady hand, and a touch-up planned"),
    )


def _protection(name: str, wait: timedelta, risk: str) -> Protection:
    source = Source("waits of the path; the risk is trade experience", Status.FROM_MEMORY)
    return Protection(name, wait, risk, source)


def _longest(step: Step, before: Sequence[Step], shop: WaitFigures) -> timedelta:
    """The longest wait into `step` from the last thing put on before it."""
    waits = [w.earliest for w in waits_into(step, before, shop) if w.earliest]
    return max(waits, default=timedelta())


def _own(before: Step, after: Step, shop: WaitFigures) -> timedelta:
    return _longest(after, [before], shop)


def _of(path: FinishPath, operation: Operation) -> Step | None:
    return next((s for s in path.steps if s.operation is operation), None)
