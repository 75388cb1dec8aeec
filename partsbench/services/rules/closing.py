"""What is said once when a part goes home before its film may be handled or touched."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from partsbench.core.finish.advice import CLOSING_DRAWERS, FITTING_PULLS, HANDLING
from partsbench.core.finish.holds import Rule, findings
from partsbench.core.finish.products import Ready
from partsbench.core.finish.situation import FaceFacts, Situation
from partsbench.core.outcomes import Answer, Outcome, Tone
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Part
from partsbench.core.piece.spot import Spot
from partsbench.services.known.state import FaceState, PartState, PieceState
from partsbench.services.rules import answers
from partsbench.services.shop import Shop

_FITTED = frozenset({Family.PULL, Family.LOCK})
_CLOSED = frozenset({Family.DRAWER, Family.DOOR})


@dataclass(frozen=True, slots=True)
class TooSoon:
    """What a part that goes home touches before its time: the findings, and until when at most."""

    warnings: tuple[str, ...] = ()
    until: datetime | None = None

    def told(self, said: Outcome) -> Outcome:
        """The answer to a part that was put home, with what it must not bear yet: said and heard,
        as where it was put is recorded all the same."""
        if not self.warnings:
            return said
        tone = Tone.WAIT if said.answer is Answer.GO else said.tone
        return replace(said, tone=tone, until=self.until, warnings=(*said.warnings, *self.warnings),
                       sentence=f"{said.sentence} Too soon: {self.warnings[0]}.")  # fmt: skip


def too_soon(shop: Shop, state: PieceState, part: Part, now: datetime) -> TooSoon:
    """`handled before its time: L1 whole: Clear coat 3 needs 24 h before handling: 23 h more`.

    Whatever goes home is handled; pulls go on a front that may be; drawers and doors close against
    what may touch.
    """
    waits = answers.waits_of(shop, now)
    found: dict[str, str] = {}
    untils: list[datetime] = []
    for touched, rules, ready in _asked(state, part):
        for name, face in _finished(touched):
            asked = Situation(face.progress, face.path.steps[-1], now, waits, FaceFacts(name))
            for finding in findings(asked, rules):
                found.setdefault(finding.reason, f"{finding.rule}: {name}: {finding.reason}")
                untils += [at] if (at := asked.ready(ready).at) else []
    return TooSoon(tuple(found.values()), max(untils, default=None))


def _asked(state: PieceState, part: Part) -> Iterator[tuple[PartState, tuple[Rule, ...], Ready]]:
    """What is touched, and by which rules that may be."""
    yield state.of(part.short), HANDLING, Ready.HANDLE
    if part.family in _FITTED and part.parent in state.parts:
        yield state.of(part.parent), FITTING_PULLS, Ready.HANDLE
    if part.family in _CLOSED:
        body = [s for s in state.parts.values() if s.part.family is Family.CARCASE]
        for each in (state.of(part.short), *body):
            yield each, CLOSING_DRAWERS, Ready.TOUCH


def _finished(state: PartState) -> list[tuple[Spot, FaceState]]:
    return [(state.part.spot(f.name), f) for f in state.faces if f.path.steps]
