"""What is said once when a part goes home before its film may be handled or touched."""

from __future__ import annotations

from datetime import datetime

from partsbench.core.finish.advice import CLOSING_DRAWERS, FITTING_PULLS
from partsbench.core.finish.holds import findings
from partsbench.core.finish.sheets import full_name
from partsbench.core.finish.situation import FaceFacts, Situation
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Part
from partsbench.services import answers
from partsbench.services.shop import Shop
from partsbench.services.state import FaceState, PartState, PieceState

_FITTED = frozenset({Family.PULL, Family.LOCK})
_CLOSED = frozenset({Family.DRAWER, Family.DOOR})


def too_soon(shop: Shop, state: PieceState, part: Part, now: datetime) -> tuple[str, ...]:
    """`closed before touching time: D1 front: Topcoat 2 needs 7 d …`; () when it is time.

    Pulls go on a front that may be handled; drawers and doors close against what may touch.
    """
    if part.family in _FITTED and part.parent in state.parts:
        touched, rules = [state.of(part.parent)], FITTING_PULLS
    elif part.family in _CLOSED:
        body = [s for s in state.parts.values() if s.part.family is Family.CARCASE]
        touched, rules = [state.of(part.short), *body], CLOSING_DRAWERS
    else:
        return ()
    waits = answers.waits_of(shop, now)
    found: dict[str, str] = {}
    for name, face in (pair for each in touched for pair in _finished(each)):
        asked = Situation(face.progress, face.path.steps[-1], now, waits, FaceFacts(name))
        for finding in findings(asked, rules):
            found.setdefault(finding.reason, f"{finding.rule}: {name}: {finding.reason}")
    return tuple(found.values())


def _finished(state: PartState) -> list[tuple[str, FaceState]]:
    return [(full_name(state.part, f.name), f) for f in state.faces if f.path.steps]
