"""All that is known at the moment a step is about to be done on a face; the rules read it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from partsbench.core.finish.clocks import Bound, ReadyAt, Window, readiness, standing_steps, window
from partsbench.core.finish.cups import Cup
from partsbench.core.finish.loops import Loop, open_loops
from partsbench.core.finish.masks import Mask, MaskState
from partsbench.core.finish.old_finish import OldFinish
from partsbench.core.finish.own_readiness import Try
from partsbench.core.finish.products import FILM, Product, Ready, TinCard
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.steps import FinishPath, Operation, Step
from partsbench.core.finish.waits import WaitFigures
from partsbench.core.piece.spot import WHOLE, Spot
from partsbench.core.sums.shown import Measures


@dataclass(frozen=True, slots=True)
class Room:
    """Air and surface: °C, %, °C; the dew point is worked out by the caller. None: not measured."""

    temperature_c: float
    humidity: float
    dew_point_c: float
    surface_c: float | None = None
    tacky: Mapping[str, datetime] = field(default_factory=dict)
    """Faces in this room that are not yet dry to dust, and until when."""
    measures: Measures = Measures.METRIC
    """What temperatures are told in."""


@dataclass(frozen=True, slots=True)
class FaceFacts:
    """What is known of a face besides its marks."""

    face: Spot = WHOLE
    old: OldFinish = field(default_factory=OldFinish)
    veneer: bool = False
    upright: bool = True
    bleeds: bool = False
    bleeds_said: bool = True
    """Somebody has said whether it does."""
    silicone: bool = False
    tested_patch: bool = False
    repairs_open: bool = False
    """Runner or fit repairs of this part are not done yet."""
    sand_backs: int = 0
    """Times this face was sent back to bare wood already."""


@dataclass(frozen=True, slots=True)
class Mixes:
    """The cup in hand, and those used before: on this face, and on its visual row for this step."""

    cup: Cup | None = None
    before: tuple[Cup, ...] = ()
    row: tuple[Cup, ...] = ()


@dataclass(frozen=True, slots=True)
class Situation:
    """A step about to be done on a face. What is not known is left at its default.

    neighbours: the mask state of each face over a seam. siblings: coats on the other faces of
    this path. masked_for: why the mask on this face must stay. masks: those on this face, for
    their tape's rating. wet: the sanding is to be done wet. tries: what was tried on its part.
    away: when its part comes back from an outside workshop. maybe_beside: uncovered faces of other
    parts over a seam that may be in place. tape: by the faces at this tape, when it may come off
    them. confirmed: what this step needs was confirmed for the batch at work. sanded: the last
    sanding that the book knows of in the whole shop, if it may still matter. clock: what is wrong
    with the computer's clock now.
    """

    at: Progress
    step: Step
    now: datetime
    shop: WaitFigures = field(default_factory=WaitFigures)
    facts: FaceFacts = FaceFacts()
    room: Room | None = None
    mixes: Mixes = Mixes()
    neighbours: Mapping[Spot, MaskState] = field(default_factory=dict)
    masked_for: tuple[str, ...] = ()
    masks: tuple[Mask, ...] = ()
    siblings: tuple[int, ...] = ()
    rags: Loop | None = None
    wet: bool = False
    tries: tuple[Try, ...] = ()
    away: datetime | None = None
    maybe_beside: tuple[Spot, ...] = ()
    tape: Mapping[Spot, Window] = field(default_factory=dict)
    confirmed: bool = False
    sanded: datetime | None = None
    clock: str = ""
    window: Window = field(init=False, repr=False, compare=False)
    films: tuple[Step, ...] = field(init=False, repr=False, compare=False)
    """What stands on the face, oldest first."""

    def __post_init__(self) -> None:
        # Nearly every rule asks for these.
        films = tuple(s for _, s in standing_steps(self.at) if s.operation in FILM)
        object.__setattr__(self, "window", window(self.at, self.step, self.shop))
        object.__setattr__(self, "films", films)

    @property
    def path(self) -> FinishPath:
        return self.at.path

    @property
    def tin(self) -> TinCard | None:
        return self.shop.tin(self.step)

    @property
    def product(self) -> Product | None:
        return self.shop.products.get(self.step.product)

    @property
    def tape_opens(self) -> tuple[Spot, Bound] | None:
        """When the tape may come off the last of the other faces at it, where that is later than
        what this face itself asks."""
        bounds = [(face, w.opens) for face, w in self.tape.items() if w.opens]
        last = max(bounds, key=lambda each: each[1].at, default=None)
        own = self.window.opens
        return last if last and (own is None or last[1].at > own.at) else None

    @property
    def coated(self) -> bool:
        """A film of ours stands on the face."""
        return bool(self.films)

    @property
    def stripped(self) -> bool:
        """Stripper was on it, and nothing was sent back since."""
        return any(s.operation is Operation.STRIP for _, s in standing_steps(self.at))

    @property
    def loops(self) -> tuple[Loop, ...]:
        return open_loops(str(self.facts.face), self.at)

    @property
    def last_sanding(self) -> Step | None:
        """The newest standing sanding."""
        steps = [s for _, s in standing_steps(self.at) if s.operation is Operation.SAND]
        return steps[-1] if steps else None

    def ready(self, which: Ready) -> ReadyAt:
        """One of the six answers for this face."""
        return next(r for r in readiness(self.at, self.shop) if r.ready is which)
