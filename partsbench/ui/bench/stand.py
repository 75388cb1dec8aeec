"""How things stand on the bench: all that its page shows, as one value."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from partsbench.core.bench.state import State, Waits
from partsbench.core.finish.holds import OLD_FINISH_RULE
from partsbench.core.finish.steps import Operation, Step
from partsbench.core.outcomes import Answer, Outcome
from partsbench.core.piece.piece import Piece
from partsbench.services.known.state import FaceState, PartState


@dataclass(frozen=True, slots=True)
class BenchStand:
    """The part that is shown and the last answer; None for none.

    lane: the faces that a record would go to, options: the steps that may be recorded on them,
    step: the one that a press records. armed: the next scan records. at: the time that was stated.
    scans: what the next scan does, in words. elsewhere: the piece of another job whose part was
    scanned, in words. wet: it is sanded wet. bench: what is in force.
    """

    now: datetime
    piece: Piece | None = None
    state: PartState | None = None
    outcome: Outcome | None = None
    lane: tuple[FaceState, ...] = ()
    options: tuple[Step, ...] = ()
    step: Step | None = None
    face: str = ""
    at: datetime | None = None
    armed: bool = False
    bench: State = field(default_factory=State)
    scans: str = ""
    elsewhere: str = ""
    wet: bool = False

    @property
    def asks_old_finish(self) -> bool:
        """Nobody has said yet what is on the face, and that holds it."""
        return bool(self.state and self.outcome and OLD_FINISH_RULE in self.outcome.held)

    @property
    def sands(self) -> bool:
        """The step at hand is a sanding, which may be done wet."""
        return bool(self.state and self.step and self.step.operation is Operation.SAND)

    @property
    def short(self) -> str:
        return self.state.part.short if self.state else ""

    @property
    def held(self) -> bool:
        """The step shown is refused until it is insisted upon."""
        return bool(self.state) and self.bench.hand.waits is Waits.HELD

    @property
    def may_be_done(self) -> bool:
        """The answer shown is that a step may be done now."""
        outcome = self.outcome
        return bool(self.state and outcome and outcome.step and outcome.answer is Answer.GO)
