"""How the bench words what it answers: one place for window, command line and paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from partsbench.core.finish.answer import Decision
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.findings import Finding
from partsbench.core.finish.path import Step
from partsbench.core.key_words import face_words, word_of
from partsbench.core.outcomes import Answer, Outcome, Tone
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.piece import Piece, home_words, opening_words
from partsbench.core.said_often import EVERY_STEP_DONE
from partsbench.core.shown_times import time_of_day
from partsbench.core.wording import capital, listed, notes, or_list, sentences, within
from partsbench.services.known.identify import KnownLabel
from partsbench.services.known.state import FaceState, PartState
from partsbench.services.rules.choosing import Urgent


def shown(
    known: KnownLabel, state: PartState, lane: tuple[FaceState, ...], step: Step | None = None
) -> Outcome:
    """What a part is, where it lives, and the step that is next on the faces of `lane`."""
    assert known.part is not None
    step = step or (lane[0].progress.next if lane else None)
    grit = step.source_of("grit") if step else None
    home, following = home_words(known.piece, known.part), next_words(state, lane, step)
    return Outcome(
        Answer.GO,
        Tone.ASK if step else Tone.QUIET,
        f"{known.piece.codename} {known.part.short}: {home}. {following}",
        beside=f"{home}. {following}",
        because=f"{lane[0].path.name}: step {lane[0].progress.index + 1} of {lane[0].progress.of}"
        if step
        else "",
        source=grit.cited if grit else "",
        tag=known.piece.tag,
        part=known.part.short,
        home=known.part.home.number,
        faces=tuple(f.name for f in lane),
        step=step.key if step else None,
        step_name=step.name if step else "",
        cautions=step.cautions if step else (),
        note=step.note if step else "",
        code=str(known.piece.code(known.part)),
    )


def on_face(face: str) -> tuple[str, ...]:
    """The face asked for, or several (`front, top edge`), as faces are named; () for none."""
    return tuple(" ".join(name.lower().split()) for name in face.split(",") if name.strip())


def sides(faces: Iterable[FaceState]) -> list[tuple[FaceState, ...]]:
    """Faces by the path that they are on."""
    found: dict[str, list[FaceState]] = {}
    for face in faces:
        found.setdefault(face.path.key, []).append(face)
    return [tuple(group) for group in found.values()]


def which_side(short: str, faces: Iterable[FaceState]) -> str:
    """The question which faces are meant, where they are on different paths; else ""."""
    groups = sides(faces)
    if len(groups) < 2:
        return ""
    told = [f"{face_words(f.name for f in group)} ({group[0].path.name})" for group in groups]
    return f"{short} has faces on different paths: {or_list(told)}. Say which goes back."


def lane_of(state: PartState, face: str = "") -> tuple[FaceState, ...]:
    """The face asked for, else those that are worked together next."""
    return tuple(f for f in state.faces if f.name in on_face(face)) if face else state.lane


def next_words(
    state: PartState,
    lane: tuple[FaceState, ...] | None = None,
    step: Step | None = None,
    *,
    named: bool = True,
) -> str:
    """`Next: Sand 220 (front, top edge).`, of the least advanced faces when none are given; their
    names are left out where they stand beside it (`named`)."""
    faces = state.lane if lane is None else lane
    if not faces or not faces[0].path.steps:
        return "No finish planned."
    step = step or faces[0].progress.next
    if step is None:
        return EVERY_STEP_DONE
    return f"{_next(step, faces if named else ())}."


def _next(step: Step, faces: Sequence[FaceState]) -> str:
    return f"Next: {_on(step, faces)}"


def _on(step: Step, faces: Sequence[FaceState]) -> str:
    return f"{step.name} ({face_words(f.name for f in faces)})" if faces else step.name


def then_words(
    faces: Sequence[FaceState], step: Step, said: Decision, now: datetime, *, named: bool = True
) -> str:
    """What is next and whether it may be done: `Next: Sand 150 (front), WAIT 12 h, not before
    21:05.`"""
    return f"{notes(_next(step, faces if named else ()), may_words(said, now))}."


def urgent_words(found: Sequence[Urgent], now: datetime, *, named: bool = True) -> list[str]:
    """`Wipe off the stain (top) by 03:46.`, for each; `… (top) is late.` once it has closed."""
    told = []
    for each in found:
        what = _on(each.step, each.faces if named else ())
        by = f"{what} by {time_of_day(each.closes, now)}."
        told.append(by if each.closes >= now else f"{what} is late.")
    return told


def may_words(said: Decision, now: datetime) -> str:
    """`WAIT 12 h, not before 21:05`: whether a step may be done, a note beside its name."""
    if said.answer is Answer.GO:
        return f"by {time_of_day(said.until, now)}" if said.until else ""
    word = word_of(said.answer)
    if said.answer is Answer.WAIT and said.until:
        long = say_duration(said.until - now)
        return f"{word} {long}, not before {time_of_day(said.until, now)}"
    return f"{word}: {within(said.because)}" if said.because else word


def held_words(left: Sequence[Finding], held: Sequence[Finding]) -> str:
    """`2 holds: wrong cup, not dry yet. Each wants a reason of its own.`; "" for a single one.

    Of `left`, where reasons lifted others of `held`, also what is to be done now: `1 hold is left:
    not dry yet. Insisting goes once more, with a reason of its own.` It is told, not advised: what
    is left may be lead.
    """
    rules = list(dict.fromkeys(f.rule for f in left))
    count = len(rules)
    if count < len({f.rule for f in held}):
        still, do = holds_left(count)
        return f"{still}: {listed(rules)}. {capital(do)}, with a reason of its own."
    if count < 2:
        return ""
    return f"{count} holds: {listed(rules)}. Each wants a reason of its own."


def holds_left(count: int) -> tuple[str, str]:
    """`1 hold is left`, and `insisting goes once more`: how many no reason lifted yet, and what
    can be done of them."""
    if count == 1:
        return "1 hold is left", "insisting goes once more"
    return f"{count} holds are left", "insisting goes once for each"


def home_shown(piece: Piece, number: int) -> Outcome:
    owner = piece.occupant(number)
    opening = piece.front.opening(number)
    corner = next((c.spot for c in piece.corners if c.number == number), "")
    where = opening_words(piece.front, opening) if opening else f"{corner} corner"
    return Outcome(
        Answer.GO,
        Tone.ASK,
        sentences(
            f"Home {short_number(Family.HOME, number)} of {piece.codename}: {where}.",
            f"{owner.short} lives here." if owner else "Nothing lives here.",
        ),
        tag=piece.tag,
        home=number,
        part="",
        code=str(piece.home_code(number)),
    )


def refusal(known: KnownLabel, sentence: str, faces: tuple[str, ...] = ()) -> Outcome:
    return Outcome(
        Answer.STOP,
        Tone.REFUSED,
        sentence,
        tag=known.piece.tag,
        part=known.part.short if known.part else "",
        faces=faces,
        code=str(known.piece.code(known.part)) if known.part else "",
    )
