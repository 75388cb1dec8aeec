"""Scans at the bench: what is this, where does it belong, what comes next, and recording it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from partsbench.core.finish.path import Step
from partsbench.core.finish.progress import MarkKind
from partsbench.core.outcomes import Answer, Outcome, Refused, Tone
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.piece import Piece, home_words, opening_words
from partsbench.core.stated_time import TimeFault, parse_time
from partsbench.services.identify import Known, identify
from partsbench.services.shop import Shop, writing
from partsbench.services.state import FaceState, PartState, part_state
from partsbench.store import pieces as piece_rows
from partsbench.store import records
from partsbench.store.journal import Change, change


def look(
    shop: Shop,
    text: str,
    *,
    here: str = "",
    at: datetime | None = None,
    face: str = "",
) -> Outcome:
    """What a first scan shows: where the part lives and its next step. Records nothing."""
    known = identify(shop, text, here)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return _home_shown(known.piece, known.home)
    state = part_state(shop, known.piece, known.part)
    lane = _lane(state, face)
    if isinstance(lane, Refused):
        return _refusal(known, lane.sentence)
    return _shown(known, state, lane)


@writing
def record(
    shop: Shop,
    text: str,
    *,
    here: str = "",
    at: datetime | None = None,
    face: str = "",
    step: str = "",
    skip: bool = False,
    note: str = "",
) -> Outcome:
    """Record the next step (or `step`, or a skip) on the faces worked together, or on one face.

    `at` is when the work was done, aware, now by default; a time still to come is refused.
    """
    known = identify(shop, text, here)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return _home_shown(known.piece, known.home)
    now = shop.clock()
    when = at or now
    if when > now:
        return _refusal(known, "That time is still to come; nothing was recorded.")
    with change(shop.book, "", now, shop.who, known.piece.tag) as entry:
        state = part_state(shop, known.piece, known.part)
        lane = _lane(state, face)
        if isinstance(lane, Refused):
            return _refusal(known, lane.sentence)
        chosen = _chosen(lane, step)
        if isinstance(chosen, Refused):
            return _refusal(known, chosen.sentence)
        if skip and not chosen.optional:
            return _refusal(known, f"{chosen.name} cannot be left out of this path.")
        lane = tuple(f for f in lane if chosen in f.progress.choices)
        kind = MarkKind.SKIPPED if skip else MarkKind.DONE
        _mark(shop, entry, known, lane, chosen, kind, when, note)
    after = part_state(shop, known.piece, known.part)
    did = f"{chosen.name} left out" if skip else chosen.did
    shown = _shown(known, after, after.lane)
    return replace(
        shown,
        answer=Answer.GO,
        tone=Tone.RECORDED,
        sentence=f"{known.part.short} {did}. {_next_words(after)}",
        faces=tuple(f.name for f in lane),
        recorded=True,
    )


@writing
def send_back(
    shop: Shop, text: str, step: str, reason: str, *, here: str = "", face: str = ""
) -> Outcome:
    """Return faces to an earlier step, with a reason. Nothing is erased."""
    known = identify(shop, text, here)
    if isinstance(known, Outcome) or known.part is None:
        return known if isinstance(known, Outcome) else _home_shown(known.piece, known.home)
    if not reason.strip():
        return _refusal(known, "Say why it goes back; the reason stays in its history.")
    now = shop.clock()
    with change(shop.book, "", now, shop.who, known.piece.tag) as entry:
        state = part_state(shop, known.piece, known.part)
        lane = [f for f in state.faces if f.path.steps and face in ("", f.name)]
        back = [f for f in lane if any(m.step == step for m in f.progress.done)]
        target = next((s for f in back for s in f.path.steps if s.key == step), None)
        if target is None:
            return _refusal(known, f"No face of {known.part.short} has that step behind it.")
        _mark(shop, entry, known, back, target, MarkKind.SENT_BACK, now, reason.strip())
    after = part_state(shop, known.piece, known.part)
    return replace(
        _shown(known, after, after.lane),
        tone=Tone.RECORDED,
        sentence=f"{known.part.short} sent back to {target.name}: {reason.strip()}.",
        recorded=True,
    )


def stated(shop: Shop, text: str) -> datetime | Refused:
    """A time as a person states it; one still to come is refused."""
    found = parse_time(text, shop.clock())
    return Refused(found.sentence) if isinstance(found, TimeFault) else found


def fix_numbers(shop: Shop, entry: Change, piece: Piece) -> None:
    """Once something is recorded of a piece, its numbers stay as they are."""
    if not piece.numbers_fixed:
        piece_rows.save(entry, shop.book, replace(piece, numbers_fixed=True))


def _mark(
    shop: Shop,
    entry: Change,
    known: Known,
    lane: list[FaceState] | tuple[FaceState, ...],
    step: Step,
    kind: MarkKind,
    at: datetime,
    note: str,
) -> None:
    assert known.part is not None
    key = piece_rows.part_id(shop.book, known.piece.tag, known.part.family, known.part.number)
    assert key is not None
    ids = records.face_ids(shop.book, key)
    fix_numbers(shop, entry, known.piece)
    records.add_marks(
        entry,
        [ids[f.name] for f in lane],
        step=step.key,
        kind=kind.value,
        at=at,
        who=shop.who,
        note=note,
    )
    words = {
        MarkKind.DONE: step.did,
        MarkKind.SKIPPED: f"{step.name} left out",
        MarkKind.SENT_BACK: f"sent back to {step.name}",
    }[kind]
    faces = ", ".join(f.name for f in lane)
    entry.sentence = f"{known.piece.codename} {known.part.short} {words} ({faces})"
    if note:
        entry.sentence += f": {note}"


def _lane(state: PartState, face: str) -> tuple[FaceState, ...] | Refused:
    if not face:
        return state.lane
    chosen = tuple(f for f in state.faces if f.name == face.strip().lower())
    if not chosen:
        have = ", ".join(f.name for f in state.faces)
        return Refused(f"{state.part.short} has no face “{face}”; it has {have}.")
    return chosen


def _chosen(lane: tuple[FaceState, ...], step: str) -> Step | Refused:
    if not lane or not lane[0].path.steps:
        return Refused("No finish is planned here, so there is no step to record.")
    following = lane[0].progress.next
    if following is None:
        return Refused("Every step is done.")
    if not step:
        return following
    for choice in (c for face in lane for c in face.progress.choices):
        if step in (choice.key, choice.name):
            return choice
    return Refused(f"{following.name} comes next; “{step}” cannot be recorded yet.")


def _shown(known: Known, state: PartState, lane: tuple[FaceState, ...]) -> Outcome:
    assert known.part is not None
    step = lane[0].progress.next if lane else None
    return Outcome(
        Answer.GO,
        Tone.ASK if step else Tone.QUIET,
        f"{known.piece.codename} {known.part.short}: {home_words(known.piece, known.part)}. "
        f"{_next_words(state, lane)}",
        because=f"{lane[0].path.name}: step {lane[0].progress.index + 1} of {lane[0].progress.of}"
        if step
        else "",
        source=step.sources[0].text if step and step.sources else "",
        tag=known.piece.tag,
        part=known.part.short,
        home=known.part.home.number,
        faces=tuple(f.name for f in lane),
        step=step.key if step else None,
        step_name=step.name if step else "",
        cautions=step.cautions if step else (),
        code=str(known.piece.code(known.part)),
    )


def _next_words(state: PartState, lane: tuple[FaceState, ...] | None = None) -> str:
    faces = state.lane if lane is None else lane
    if not faces or not faces[0].path.steps:
        return "No finish planned."
    step = faces[0].progress.next
    if step is None:
        return "Every step is done."
    return f"Next: {step.name} ({', '.join(f.name for f in faces)})."


def _home_shown(piece: Piece, number: int) -> Outcome:
    owner = piece.occupant(number)
    opening = piece.front.opening(number)
    corner = next((c.spot for c in piece.corners if c.number == number), "")
    where = opening_words(piece.front, opening) if opening else f"{corner} corner"
    return Outcome(
        Answer.GO,
        Tone.ASK,
        f"Home {short_number(Family.HOME, number)} of {piece.codename}: {where}. "
        + (f"{owner.short} lives here." if owner else "Nothing lives here."),
        tag=piece.tag,
        home=number,
        part="",
        code=str(piece.home_code(number)),
    )


def _refusal(known: Known, sentence: str) -> Outcome:
    return Outcome(
        Answer.STOP,
        Tone.REFUSED,
        sentence,
        tag=known.piece.tag,
        part=known.part.short if known.part else "",
        code=str(known.piece.code(known.part)) if known.part else "",
    )
