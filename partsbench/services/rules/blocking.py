"""Whether a part that goes home may be closed: its edges against the opening it closes in."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from partsbench.core.finish.blocking import CLOSING, OPENING, Blocking, blocking
from partsbench.core.finish.products import Ready
from partsbench.core.finish.waits import WaitFigures as Waits
from partsbench.core.naming import together
from partsbench.core.outcomes import Answer, Outcome, Tone
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import Part
from partsbench.core.piece.spot import Spot
from partsbench.core.shown_times import moment
from partsbench.services.known.state import FaceState, PartState, PieceState, Where
from partsbench.services.rules import answers, own_waits
from partsbench.services.shop import Shop


def closed_too_soon(
    shop: Shop, state: PieceState, part: Part, now: datetime, waits: Waits | None = None
) -> Blocking | None:
    """The two films that would stick if the part were closed at `now`; None when it may be."""
    closing = CLOSING.get(part.family)
    if closing is None or part.short not in state.parts:
        return None
    edges = _faces(state.of(part.short), closing)
    bodies = [s for s in state.parts.values() if s.part.family is Family.CARCASE]
    opening = {k: v for body in bodies for k, v in _faces(body, (OPENING,)).items()}
    if not edges or not opening:
        return None
    both = edges | opening
    not_yet = frozenset(
        name for name, face in both.items() if Ready.TOUCH in own_waits.held_by_try(shop, [face])
    )
    return blocking(
        {name: f.progress for name, f in edges.items()},
        {name: f.progress for name, f in opening.items()},
        now,
        waits or answers.waits_of(shop, now),
        not_yet,
    )


def open_words(shop: Shop, state: PieceState, now: datetime) -> tuple[str, ...]:
    """`Heron: leave D1, D2 a finger open until Tue 11 Mar 09:00.`, of the parts that are home."""
    until: dict[datetime | None, list[str]] = {}
    home = [s.part for s in state.parts.values()
            if s.where is Where.HOME and s.part.family in CLOSING]  # fmt: skip
    if home:
        waits = answers.waits_of(shop, now)
        for part in home:
            sticks = closed_too_soon(shop, state, part, now, waits)
            if sticks:
                until.setdefault(sticks.until, []).append(part.short)
    name = state.piece.codename
    return tuple(f"{name}: {_left_open(together(s), by, now)}" for by, s in until.items())


def _left_open(names: str, until: datetime | None, now: datetime) -> str:
    if until is None:
        return f"leave {names} a finger open; no time can be told."
    return f"leave {names} a finger open until {moment(until, now)}."


def left_open(shop: Shop, state: PieceState, part: Part, now: datetime, said: Outcome) -> Outcome:
    """The answer to a part that was put home, with what says that it must not be closed yet.

    Where it was put is recorded all the same: it stands there. That it must stay open is told,
    and heard.
    """
    sticks = closed_too_soon(shop, state, part, now)
    if sticks is None:
        return said
    return replace(
        said,
        tone=Tone.WAIT if said.answer is Answer.GO else said.tone,
        sentence=f"{said.sentence} {sticks.sentence}",
        because="; ".join(filter(None, (said.because, sticks.reason))),
        source=sticks.source,
        until=sticks.until,
        warnings=(f"edges would stick: {sticks.reason}", *said.warnings),
    )


def _faces(state: PartState, names: tuple[str, ...]) -> dict[Spot, FaceState]:
    """Those faces of a part that get a finish."""
    return {state.part.spot(f.name): f for f in state.faces
            if f.name in names and f.path.steps}  # fmt: skip
