"""Loads: what one filling of the gun coats, proposed with stragglers first, recorded in one go."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from partsbench.core.finish.answer import Decision, still_held, worst_first
from partsbench.core.finish.cups import StoredCup
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.effort import effort, faces_apart
from partsbench.core.finish.findings import Finding
from partsbench.core.finish.holds import WRONG_CUP
from partsbench.core.finish.loads import SPRAYED, Hung, Load, stragglers
from partsbench.core.finish.loads import propose as proposed
from partsbench.core.finish.sheets import area_m2
from partsbench.core.finish.steps import Step
from partsbench.core.naming import ALL, together
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.codes import CodeFault, parse_code
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.said_often import STILL_TO_COME, does_not_do, no_piece
from partsbench.core.verbs import Sort, WallCode, insists, wall_code
from partsbench.core.wording import listed, notes, sentences
from partsbench.services.acts.bench import Insist, confirmed_note, insist_note, may_do
from partsbench.services.acts.bench_words import held_words
from partsbench.services.acts.following import recorded_on
from partsbench.services.known import work
from partsbench.services.known.identify import identify
from partsbench.services.known.state import FaceState, PartState, PieceState, piece_state
from partsbench.services.rules import answers, nearby
from partsbench.services.rules.clocks import brief_names, worked
from partsbench.services.rules.marking import Doing, mark
from partsbench.services.shop import Shop, find_short, writing
from partsbench.store import mixes as rows
from partsbench.store import pieces as piece_rows
from partsbench.store import records, room
from partsbench.store.journal import Change, change
from partsbench.store.mixes import StoredLoad

LONGEST_LOAD = timedelta(hours=4)
"""A load that took longer than that says nothing about how long the work takes."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """The next load of a piece, and the faces whose coat is due but may not go on yet."""

    load: Load
    waiting: tuple[tuple[Spot, Decision], ...] = ()
    names: tuple[Spot, ...] = ()
    """The faces in short: `D1` where it is all of the part that gets a finish."""
    work: timedelta | None = None
    """Hands-on time, the gun set up and cleaned once."""

    @property
    def sentence(self) -> str:
        if self.load.step is None:
            return "No coat is due." if not self.waiting else "No coat may go on yet."
        cups = len(self.load.cups)
        split = f"in {cups} cups" if cups > 1 else ""
        long = say_duration(self.work) if self.work else ""
        return f"{self.load.step.name}: {notes(listed(self.names), split, long)}."


@dataclass(frozen=True, slots=True)
class _Coat:
    """One group of faces of one part that get the same step."""

    state: PartState
    faces: tuple[FaceState, ...]
    step: Step


def propose(
    shop: Shop,
    tag: str,
    ml_per_m2: float = 0.0,
    cup_ml: float = 0.0,
    cup: StoredCup | None = None,
) -> Proposal:
    """What the gun coats next: faces that may be coated now, stragglers first, in spray order.

    With a cup in hand only what takes it.
    """
    piece = shop.piece(tag)
    if piece is None:
        return Proposal(Load(None, ()))
    now, state = shop.clock(), piece_state(shop, piece)
    hung, same = hung_of(state), answers.base(shop, tag, now, state)
    waiting: dict[Spot, Decision] = {}
    for part in state.parts.values():
        due = [f for f in part.faces if _coat(f)]
        on = answers.ground(shop, piece, part, now, same) if due else None
        for face in due:
            step = _coat(face)
            assert on is not None and step is not None
            said = answers.answer(on, [face], step, now, cup=cup)
            if said.held:
                waiting[part.part.spot(face.name)] = said
    ready = [h for h in hung if h.face not in waiting]
    load = replace(proposed(ready, ml_per_m2, cup_ml), stragglers=stragglers(hung))
    names = brief_names(state, load.faces)
    return Proposal(load, tuple(waiting.items()), names, _work(shop, state, load.faces, now))


def _work(
    shop: Shop, state: PieceState, spots: Sequence[Spot], now: datetime
) -> timedelta | None:  # fmt: skip
    chosen = set(spots)
    batch = [
        worked(state.piece, step, part.part, face.name)
        for part in state.parts.values()
        for face in part.faces
        if part.part.spot(face.name) in chosen and (step := _coat(face))
    ]
    return effort(batch, work.own_times(shop, now)) if batch else None


def hung_of(state: PieceState) -> list[Hung]:
    """Every face of a piece that gets a finish, in spray order: as they are numbered."""
    found: list[Hung] = []
    for part in state.parts.values():
        row = nearby.row_name(state.piece, part.part)
        for face in part.faces:
            if face.path.steps:
                name = part.part.spot(face.name)
                area = area_m2(state.piece, part.part, face.name)
                found.append(Hung(name, len(found), face.progress, area, row))
    return found


@writing
def start(
    shop: Shop, tag: str, names: Sequence[str | Spot] = (), cup: StoredCup | None = None
) -> StoredLoad | Refused:
    """Take faces (`D1`, `D1 front`) as a load; those proposed when none are named.

    The load gets a number and a code for its tally strip. Nothing is recorded as coated yet. A cup
    in hand that one of the faces does not take is told before the trigger is pulled.
    """
    piece = shop.piece(tag)
    if piece is None:
        return Refused(no_piece(tag))
    state = piece_state(shop, piece)
    due = {p.part.spot(f.name): (p, f) for p in state.parts.values() for f in p.faces if _coat(f)}
    proposal = None if names else propose(shop, tag, cup=cup)
    chosen = proposal.load.faces if proposal else _named(piece, names, list(due))
    if isinstance(chosen, Refused):
        return chosen
    waiting = [name for name, _ in proposal.waiting] if proposal else []
    wrong = cup_fault(shop, piece, chosen or waiting, cup)
    if wrong:
        return Refused(wrong)
    if not chosen:
        return Refused(proposal.sentence if proposal else "No face is named.")
    now = shop.clock()
    with change(shop.book, "", now, shop.who, tag) as entry:
        key = piece_rows.piece_id(shop.book, tag)
        assert key is not None
        parts = records.part_ids(shop.book, key)
        ids = [
            piece_rows.face_ids(shop.book, tag, parts[part.part.short])[face.name]
            for part, face in (due[n] for n in chosen)
        ]
        step = _coat(due[chosen[0]][1])
        assert step is not None
        number = rows.add_load(entry, shop.book, key, step.key, ids, now, shop.who)
        entry.sentence = f"{piece.codename}: load {number} of {len(ids)} faces, {step.name}"
    made = rows.load(shop.book, number)
    assert made is not None
    return made


def cup_fault(shop: Shop, piece: Piece, spots: Sequence[Spot], cup: StoredCup | None) -> str:
    """Why a cup may not go onto these faces, told of the first that does not take it; "" when
    each takes it, or no cup is in hand."""
    if cup is None:
        return ""
    now, state = shop.clock(), piece_state(shop, piece)
    same = answers.base(shop, piece.tag, now, state)
    for part in state.parts.values():
        for face in part.faces:
            step = _coat(face)
            if step is None or part.part.spot(face.name) not in spots:
                continue
            on = answers.ground(shop, piece, part, now, same)
            held = answers.answer(on, [face], step, now, cup=cup).held
            wrong = next((f.reason for f in held if f.rule == WRONG_CUP), "")
            if wrong:
                return f"Not with this cup: {wrong}."
    return ""


def find(shop: Shop, asked: str | int) -> StoredLoad | Refused:
    """A load by the code on its strip, or by its number."""
    code = wall_code(str(asked))
    if code and code.sort is not Sort.LOAD:
        return Refused(f"“{asked}” is the code of no load.")
    text = str(asked).strip().lower().removeprefix("load").strip()
    number = code.number if code else int(text) if text.isdecimal() else 0
    found = rows.load(shop.book, number) if 0 < number < 10**9 else None
    return found or Refused(f"There is no load “{asked}” in this book.")


def words(shop: Shop, load: StoredLoad) -> str:
    """The faces of a load in short: `D1, D3 front`."""
    piece = shop.piece(load.tag)
    assert piece is not None
    return together(brief_names(piece_state(shop, piece), load.faces), ALL)


def code(load: StoredLoad) -> str:
    """What is scanned for this load; it stands on its strip."""
    return str(WallCode(Sort.LOAD, load.number))


def open_load(shop: Shop, tag: str) -> int:
    """The number of the load of a piece that was begun and not ended; 0 for none."""
    key = piece_rows.piece_id(shop.book, tag)
    return rows.open_load(shop.book, key) if key is not None else 0


@writing
def done(
    shop: Shop,
    asked: str | int,
    exceptions: Sequence[str] = (),
    *,
    cup: StoredCup | None = None,
    at: datetime | None = None,
    insist: Insist = "",
    note: str = "",
    confirmed: bool = False,
) -> Outcome | Refused:
    """Record a whole load as coated but for `exceptions` (codes, `D4`, `D4 front`): all or none.

    What is left out keeps its own clocks and comes first in the next load. Holds and what has to
    be confirmed are as for a single record.
    """
    load = find(shop, asked)
    if isinstance(load, Refused):
        return load
    now = shop.clock()
    when = at or now
    if when > now:
        return Refused(STILL_TO_COME)
    if load.ended_at:
        return Refused(f"Load {load.number} was recorded already.")
    piece = shop.piece(load.tag)
    assert piece is not None
    away = _turned_away(shop, piece, exceptions)
    if away:
        return away
    out = _named(piece, exceptions, load.faces) if exceptions else []
    if isinstance(out, Refused):
        return out
    kept = tuple(face for face in load.faces if face not in out)
    if not kept:
        return Refused(f"Every face of load {load.number} is left out; nothing was recorded.")
    with change(shop.book, "", now, shop.who, load.tag) as entry:
        state = piece_state(shop, piece)
        coats = _coats(state, kept)
        if isinstance(coats, Refused):
            return coats
        said = _said(shop, piece, load, coats, when, cup)
        if isinstance(said, Outcome):
            return said
        left, lifted = still_held([f for _, d in said for f in d.held], insists(insist))
        if left:
            return _held(load, said, left)
        to_confirm = tuple(dict.fromkeys(f.reason for _, d in said for f in d.checks))
        if to_confirm and not confirmed:
            return _unconfirmed(load, to_confirm)
        for coat, (_, mine) in zip(coats, said, strict=True):
            names = [f.name for f in coat.faces]
            how = _how(when, load, cup, mine, lifted, note)
            mark(shop, entry, piece, coat.state.part, names, coat.step, how)
        rows.end_load(entry, load.id, when, cup.id if cup else None)
        _note_work(entry, load, coats, when, shop.who)
        entry.sentence = _sentence(piece, load, kept, brief_names(state, out), bool(lifted))
    return recorded_on(shop, piece, entry.sentence, kept, when)


@writing
def give_up(shop: Shop, asked: str | int) -> Done | Refused:
    """A load that is not sprayed after all: nothing is recorded of its faces."""
    load = find(shop, asked)
    if isinstance(load, Refused):
        return load
    if load.ended_at:
        return Refused(f"Load {load.number} was recorded already.")
    piece = shop.piece(load.tag)
    assert piece is not None
    now = shop.clock()
    sentence = f"{piece.codename}: load {load.number} given up, nothing coated"
    with change(shop.book, sentence, now, shop.who, load.tag) as entry:
        rows.end_load(entry, load.id, now, None)
    return Done(f"{sentence}.", load.tag)


def _note_work(
    entry: Change, load: StoredLoad, coats: Sequence[_Coat], when: datetime, who: str
) -> None:
    """How long the load took: the shop's own figure for the next warning."""
    faces = sum(faces_apart(f.name for f in c.faces) for c in coats)
    length = when - load.made_at
    if faces and timedelta(minutes=1) <= length <= LONGEST_LOAD:
        minutes = length.total_seconds() / 60
        room.add_worked(entry, coats[0].step.operation.value, minutes, faces, when, who)


def _sentence(
    piece: Piece, load: StoredLoad, kept: Sequence[Spot], out: Sequence[Spot], insisted: bool
) -> str:
    return notes(
        f"{piece.codename}: load {load.number} coated",
        f"{len(kept)} faces",
        f"all except {listed(out)}" if out else "",
        "insisted" if insisted else "",
    )


def _coats(state: PieceState, spots: Sequence[Spot]) -> list[_Coat] | Refused:
    """The faces by part and step; refused when one of them is at no coat."""
    found: dict[tuple[str, str], tuple[PartState, list[FaceState], Step]] = {}
    for part in state.parts.values():
        for face in part.faces:
            name = part.part.spot(face.name)
            if name not in spots:
                continue
            step = _coat(face)
            if step is None:
                following = face.progress.next
                comes = f"{following.name} comes next" if following else "nothing comes next"
                return Refused(f"{name}: {comes}, no coat. Nothing was recorded.")
            key = (part.part.short, step.key)
            found.setdefault(key, (part, [], step))[1].append(face)
    return [_Coat(part, tuple(faces), step) for part, faces, step in found.values()]


def _said(
    shop: Shop,
    piece: Piece,
    load: StoredLoad,
    coats: Iterable[_Coat],
    when: datetime,
    cup: StoredCup | None,
) -> list[tuple[str, Decision]] | Outcome:
    """The answer for each part of the load; the refusal where the work is not for who is here."""
    same, found = answers.base(shop, piece.tag, when), []
    for coat in coats:
        if not may_do(shop, coat.step):
            return _refused(load, does_not_do(shop.who, coat.step.operation))
        on = answers.ground(shop, piece, coat.state, when, same)
        said = answers.answer(on, coat.faces, coat.step, when, cup=cup)
        found.append((coat.state.part.short, said))
    return found


def _held(
    load: StoredLoad, said: Sequence[tuple[str, Decision]], left: Sequence[Finding]
) -> Outcome:
    """The refusal with each part that is held, by the holds that are left."""
    rules = {f.rule for f in left}
    held = [(short, d) for short, d in said if rules & {f.rule for f in d.held}]
    names = together(short for short, _ in held)
    sentence = sentences(
        f"Load {load.number}: {names} held; nothing was recorded.",
        held_words(left, [f for _, d in said for f in d.held]),
    )
    first = answers.worded(_refused(load, sentence), held[0][1], refused=True)
    return replace(first, sentence=sentence, holds=answers.holds_of(worst_first(left)))


def _unconfirmed(load: StoredLoad, asked: tuple[str, ...]) -> Outcome:
    sentence = f"Load {load.number} is not recorded yet. Is this so? {' '.join(asked)}"
    return replace(_refused(load, sentence), tone=Tone.CONFIRM, checks=asked)


def _how(
    when: datetime,
    load: StoredLoad,
    cup: StoredCup | None,
    said: Decision,
    lifted: Mapping[str, str],
    note: str,
) -> Doing:
    """How one part of the load was coated: only what held it is noted as insisted upon."""
    mine = {rule: why for rule, why in lifted.items() if rule in {f.rule for f in said.held}}
    return Doing(when, note=insist_note(mine, note), insisted=bool(mine),
                 cup=cup.id if cup else None, load=load.id,
                 sure=confirmed_note(said.checks))  # fmt: skip


def _refused(load: StoredLoad, sentence: str) -> Outcome:
    return Outcome(Answer.STOP, Tone.REFUSED, sentence, tag=load.tag, step=load.step)


def _coat(face: FaceState) -> Step | None:
    due = face.progress.next
    return due if due and due.operation in SPRAYED else None


def _named(
    piece: Piece, names: Iterable[str | Spot], among: Iterable[Spot]
) -> list[Spot] | Refused:
    """The faces meant by codes, numbers or full names; of a part all its faces in the load."""
    found: list[Spot] = []
    for name in names:
        meant = _spot(piece, name)
        if isinstance(meant, Refused):
            return meant
        mine = [s for s in among if s == meant or (s.part == meant.part and not meant.face)]
        if not mine:
            return Refused(f"{meant} is not in this load.")
        found += mine
    return list(dict.fromkeys(found))


def _turned_away(shop: Shop, piece: Piece, names: Iterable[str]) -> Outcome | None:
    """The answer for the first label of another job; None where all are of this piece."""
    codes = (n for n in names if not isinstance(parse_code(n), CodeFault))
    known = (identify(shop, code, piece.tag) for code in codes)
    return next((k for k in known if isinstance(k, Outcome) and k.tone is Tone.FOREIGN), None)


def _spot(piece: Piece, name: str | Spot) -> Spot | Refused:
    parsed = parse_code(name.key if isinstance(name, Spot) else name)
    if isinstance(parsed, CodeFault):
        spot = Spot.of(name)
        short = find_short(piece, spot.part)
        return short if isinstance(short, Refused) else spot
    if parsed.tag != piece.tag:
        return Refused(f"{name} is of another piece.")
    return Spot(parsed.short)
