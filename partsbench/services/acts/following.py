"""What follows a record of many faces, and whether that may be done now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from partsbench.core.finish.answer import Decision
from partsbench.core.finish.steps import Step
from partsbench.core.naming import together
from partsbench.core.outcomes import Answer, Outcome, Tone
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.said_often import EVERY_STEP_DONE
from partsbench.core.wording import clauses, notes
from partsbench.services.acts.bench_words import may_words
from partsbench.services.known.state import FaceState, PartState, piece_state
from partsbench.services.rules import answers
from partsbench.services.rules.clocks import brief
from partsbench.services.shop import Shop

_FIRST = (Answer.STOP, Answer.LATE, Answer.WAIT, Answer.GO)
_Key = tuple[str, Answer, datetime | None, str]


@dataclass(frozen=True, slots=True)
class Next:
    """Faces that have the same step before them, with the same answer."""

    step: Step
    said: Decision
    faces: tuple[tuple[PartState, FaceState], ...]


def recorded_on(
    shop: Shop, piece: Piece, did: str, spots: tuple[Spot, ...], when: datetime
) -> Outcome:
    """The outcome of a record on many faces: what was done, and the answer for what is next."""
    now = shop.clock()
    then = following(shop, piece, spots, now)
    first = then[0] if then else None
    return Outcome(
        Answer.GO,
        Tone.RECORDED,
        f"{did}. {following_words(then, now)}",
        until=first.said.until if first else None,
        tag=piece.tag,
        faces=tuple(s.key for s in spots),
        step=first.step.key if first else None,
        step_name=first.step.name if first else "",
        recorded=True,
        done_at=when,
        then=first.said.answer if first else None,
    )


def following(shop: Shop, piece: Piece, spots: Sequence[Spot], now: datetime) -> tuple[Next, ...]:
    """What comes next on these faces, what is held before what may be done."""
    wanted, same = set(spots), answers.base(shop, piece.tag, now)
    found: dict[_Key, tuple[Step, Decision, list[tuple[PartState, FaceState]]]] = {}
    for part in piece_state(shop, piece).parts.values():
        mine = [f for f in part.faces if part.part.spot(f.name) in wanted]
        due = [(f, step) for f in mine if (step := f.progress.next)]
        on = answers.ground(shop, piece, part, now, same) if due else None
        for face, step in due:
            assert on is not None
            said = answers.answer(on, [face], step, now)
            key = (step.name, said.answer, said.until, said.because)
            found.setdefault(key, (step, said, []))[2].append((part, face))
    made = [Next(step, said, tuple(faces)) for step, said, faces in found.values()]
    return tuple(sorted(made, key=_rank))


def following_words(found: Sequence[Next], now: datetime) -> str:
    """`Next: Sand 220, WAIT 4 h, not before 18:05.`; each with its faces where they differ."""
    if not found:
        return EVERY_STEP_DONE
    several = len(found) > 1
    told = [notes(_on(n) if several else n.step.name, may_words(n.said, now)) for n in found]
    return f"Next: {clauses(told)}."


def _on(each: Next) -> str:
    return f"{each.step.name} ({together(brief(each.faces))})"


def _rank(each: Next) -> tuple[int, float]:
    until = each.said.until
    return _FIRST.index(each.said.answer), -until.timestamp() if until else 0.0
