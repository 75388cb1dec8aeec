"""What the bench answers for a face: everything known of it gathered, then decided by the rules.

Only what the part needs is read, so that an answer takes as long in a book of ten years as in a
new one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from math import nan

from partsbench.core.finish import facts as fact_rules
from partsbench.core.finish.answer import Decision, decide
from partsbench.core.finish.between import Together
from partsbench.core.finish.checks import DUST_SETTLED
from partsbench.core.finish.clocks import Bound, Window, window
from partsbench.core.finish.cups import StoredCup
from partsbench.core.finish.effort import Own, own_pace
from partsbench.core.finish.findings import EXPERIENCE, PRACTICE, Finding, Level
from partsbench.core.finish.holds import DOUBT_RULE, JOURNAL, OTHER_SIDE, SAY_WHEN, TAPE_RULE
from partsbench.core.finish.masks import (
    MASKED_FOR,
    Mask,
    MaskState,
    mask_state,
    still_masked_for,
    tape_off,
)
from partsbench.core.finish.old_finish import LEAD_CAUTION, LEAD_CLEARED
from partsbench.core.finish.one_go import in_one_go
from partsbench.core.finish.own_readiness import Try
from partsbench.core.finish.progress import Progress
from partsbench.core.finish.sandback import sand_backs
from partsbench.core.finish.scuff import coat_by, goes_stale, tape_from
from partsbench.core.finish.sheets import is_upright, seams_of
from partsbench.core.finish.situation import Mixes, Room, Situation
from partsbench.core.finish.steps import Operation, PathKind, Step
from partsbench.core.finish.waits import WaitFigures as Waits
from partsbench.core.outcomes import Answer, Hold, Outcome, Tone
from partsbench.core.piece.piece import Piece
from partsbench.core.piece.spot import Spot
from partsbench.core.wording import clauses
from partsbench.services.known import climate, clock_doubt, facts, hours
from partsbench.services.known.measures import measures
from partsbench.services.known.state import FaceState, PartState, PieceState
from partsbench.services.rules import loops, neighbours, own_waits
from partsbench.services.rules.nearby import Nearby
from partsbench.services.shop import Shop
from partsbench.store import facts as fact_rows
from partsbench.store import pieces as piece_rows
from partsbench.store import room as room_rows
from partsbench.store import tin_cards
from partsbench.store import tries as try_rows
from partsbench.store.facts import Facts
from partsbench.store.room import PowerCut

_NONE: frozenset[Spot] = frozenset()
_BEGINS_A_WINDOW = frozenset({Operation.CONDITION, Operation.STAIN, Operation.DYE, Operation.STRIP})
_WORST = (Answer.STOP, Answer.LATE, Answer.WAIT, Answer.GO)
_Said = dict[tuple[object, ...], tuple[Progress, Decision]]
_TONES = {
    Answer.GO: Tone.ASK,
    Answer.WAIT: Tone.WAIT,
    Answer.LATE: Tone.LATE,
    Answer.STOP: Tone.HOLD,
}


@dataclass(frozen=True, slots=True)
class Ground:
    """What the answers for one part stand on, besides the marks of its faces."""

    piece: Piece
    state: PartState
    facts: Facts
    waits: Waits
    room: Room | None
    masks: list[Mask]
    cuts: list[PowerCut]
    nearby: Nearby
    tries: tuple[Try, ...]

    beside: dict[Spot, tuple[Spot, ...]]
    """A face → the faces over a seam that want tape between."""

    said: _Said = field(default_factory=dict)
    """The answers so far, by all that they depend on."""

    @property
    def progress(self) -> dict[Spot, Progress]:
        """How far each face of the part has come."""
        return {self.state.part.spot(f.name): f.progress for f in self.state.faces}


def waits_of(shop: Shop, now: datetime) -> Waits:
    """Product classes, the tins in use and the air of the room."""
    air = climate.stretch(climate.reading(shop, now), measures(shop))
    tins = tin_cards.in_use(shop.book)
    own = own_waits.own_waits(shop, tins)
    return Waits(climate.products(), tins, air, own, climate.checks())


@dataclass(frozen=True, slots=True)
class Base:
    """What the answers for every part of a piece stand on."""

    facts: Facts
    waits: Waits
    room: Room | None
    masks: list[Mask]
    cuts: list[PowerCut]
    nearby: Nearby
    tries: tuple[Try, ...]
    said: _Said = field(default_factory=dict)


def base(shop: Shop, tag: str, now: datetime, state: PieceState | None = None) -> Base:
    """Read what is the same for every part of a piece; `state` is how it stands, when known."""
    key = piece_rows.piece_id(shop.book, tag)
    assert key is not None
    waits = waits_of(shop, now)
    return Base(
        fact_rows.facts(shop.book, key),
        waits,
        climate.room(climate.reading(shop, now), measures(shop)),
        clock_doubt.masks_with_doubts(shop, fact_rows.masks(shop.book, key, only_on=True)),
        [cut for cut in room_rows.power_cuts(shop.book) if cut.heating],
        Nearby(shop, waits, now, state),
        try_rows.of_piece(shop.book, key),
    )


def ground(
    shop: Shop, piece: Piece, state: PartState, now: datetime, same: Base | None = None
) -> Ground:
    """Read what the answers for one part need; `same` is what was read for its piece already."""
    same = same or base(shop, piece.tag, now)
    found = seams_of(piece, state.part)
    beside = {
        state.part.spot(f.name): facts.beside(shop, state.part, f.name, same.facts, found)
        for f in state.faces
    }
    mine = tuple(t for t in same.tries if t.part == state.part.short)
    return Ground(piece, state, same.facts, same.waits, same.room, same.masks, same.cuts,
                  same.nearby, mine, beside, same.said)  # fmt: skip


def answer(
    on: Ground,
    faces: Sequence[FaceState],
    step: Step,
    now: datetime,
    *,
    cup: StoredCup | None = None,
    wet: bool = False,
) -> Decision:
    """The answer for a step on several faces at once: the worst of theirs, with all findings."""
    return worst_of([_for_face(on, face, step, now, cup, wet) for face in faces])


def worst_of(said: Sequence[Decision]) -> Decision:
    """The worst of some answers, with the findings of all; of waits the longest."""
    worst = min(said, key=lambda d: _WORST.index(d.answer))
    alike = [d for d in said if d.answer is worst.answer]
    untils = [d.until for d in alike if d.until]
    if untils:
        latest = max if worst.answer is Answer.WAIT else min
        until = latest(untils)
        worst = replace(next(d for d in alike if d.until == until), until=until)
    if len(alike) > 1 and worst.answer is Answer.STOP:
        # Each face says what holds it: none is hidden behind another.
        held = [[f.reason for f in d.held] or [d.because] for d in alike]
        worst = replace(worst, because=clauses(dict.fromkeys(r for each in held for r in each)))
    findings = {(f.rule, f.reason): f for d in said for f in d.findings}
    minds = dict.fromkeys(key for d in said for key in d.minds)
    if LEAD_CAUTION in minds:
        minds.pop(LEAD_CLEARED, None)
    return replace(worst, findings=tuple(findings.values()), minds=tuple(minds))


def situation(
    on: Ground,
    face: FaceState,
    step: Step,
    now: datetime,
    cup: StoredCup | None = None,
    wet: bool = False,
) -> Situation:
    """Everything that is known when the step is about to be done on this face."""
    part = on.state.part
    spot = part.spot(face.name)
    known = on.facts.of(part.short, face.name)
    room = on.room
    if step.operation is Operation.SAND:
        room = _with_tacky(room, on.nearby.tacky(on.piece.tag, part.short))
    mine = [m for m in on.masks if spot == m.covers or spot in m.against]
    on_tape = taped(on, spot, mine) if step.operation is Operation.UNMASK else Taped()
    over, maybe = _other_parts(on, spot, step, now)
    return Situation(
        face.progress,
        step,
        now,
        on.waits,
        fact_rules.face_facts(
            spot, known, is_upright(face.name), sand_backs(face.progress), on.facts.lead_found
        ),
        room,
        _mixes(on, face, step, cup),
        _neighbours(on, spot, step, now) | over,
        on_tape.masked_for,
        tuple(mine),
        _siblings(on, face, step),
        None if loops.OILY in step.cautions else on.nearby.rags,
        wet,
        on.tries,
        hours.back_at(known),
        maybe,
        on_tape.tape,
        not step.needs or on.nearby.in_batch(on.piece, step),
        on.nearby.sanded if DUST_SETTLED in step.needs else None,
        on.nearby.clock_fault,
    )


def _for_face(
    on: Ground,
    face: FaceState,
    step: Step,
    now: datetime,
    cup: StoredCup | None,
    wet: bool,
) -> Decision:
    """The answer for one face. Most faces of a part stand alike, and are answered once."""
    key = (*_stand(on, face, step, now, cup), step.key, now, wet)
    if key not in on.said:
        on.said[key] = face.progress, _decided(on, face, step, now, cup, wet)
    return on.said[key][1]


def _stand(
    on: Ground, face: FaceState, step: Step, now: datetime, cup: StoredCup | None
) -> tuple[object, ...]:
    """All that the answer for a step on a face depends on; its spot where it is one of a kind."""
    part = on.state.part
    spot = part.spot(face.name)
    taped = on.beside[spot] or any(spot == m.covers or spot in m.against for m in on.masks)
    dusty = step.operation is Operation.SAND and on.nearby.is_tacky(on.piece.tag, part.short)
    own: tuple[object, ...] = (spot if taped or on.tries else "", part.short if dusty else "")
    if cup:
        before = on.nearby.cups_on(on.piece, part).get(face.name, ())
        own = (*own, cup.id, part.short, tuple(before))
    known = tuple(on.facts.of(part.short, face.name).items())
    over, maybe = _other_parts(on, spot, step, now)
    # The same steps at the same times on the same path are one and the same progress.
    return (id(face.progress), is_upright(face.name), known, own, tuple(over.items()), maybe)


def _decided(
    on: Ground,
    face: FaceState,
    step: Step,
    now: datetime,
    cup: StoredCup | None,
    wet: bool,
) -> Decision:
    asked = situation(on, face, step, now, cup, wet)
    said = decide(asked)
    early = _other_side_first(on, asked, step)
    if early:
        because = early.reason
        said = replace(said, answer=Answer.STOP, until=None, because=because,
                       source=early.source.text, findings=(early, *said.findings))  # fmt: skip
    young = _tape_on_young_film(on, asked, step)
    if young:
        said = _with_young_film(said, *young)
    for advice in (_one_go(on, asked, step, now), _scuff_later(on, asked, step, now)):
        if advice:
            said = replace(said, findings=(*said.findings, advice))
    return _lengthened(said, asked, on.cuts)


def _one_go(on: Ground, asked: Situation, step: Step, now: datetime) -> Finding | None:
    """Before conditioner, stain or stripper goes on: how many fronts fit into its window."""
    if step.operation not in _BEGINS_A_WINDOW:
        return None
    own = on.nearby.own_times
    count = in_one_go(asked.path, step, on.waits, own)
    if count is None:
        return None
    faces = "1 front" if count == 1 else f"{count} fronts"
    reason = f"{faces} in one go keep the window of what follows, at {_pace(own, step)}"
    return Finding(Level.ADVISE, "in one go", reason, EXPERIENCE, step.key)


def _scuff_later(on: Ground, asked: Situation, step: Step, now: datetime) -> Finding | None:
    """Before a scuff that goes stale while the side that is masked first dries for its tape."""
    if step.operation is not Operation.SAND:
        return None
    by = coat_by(asked.path, step, on.waits, on.nearby.own_times)
    for other in on.beside[asked.facts.face] if by else ():
        there = on.progress.get(other)
        if there is None or there.path.kind is PathKind.PAINT:
            continue
        tape = tape_from(there, on.waits, now)
        reason = goes_stale(by, other, tape, now) if by and tape else ""
        if reason:
            return Finding(Level.ADVISE, "scuff later", reason, EXPERIENCE, step.key)
    return None


def _pace(own: Own, step: Step) -> str:
    return "this shop's own pace" if own_pace(step, own) is not None else "the usual pace"


def _neighbours(on: Ground, spot: Spot, step: Step, now: datetime) -> dict[Spot, MaskState]:
    """What is known of the far side of each seam, for a step that tape is put on for."""
    if step.operation not in MASKED_FOR:
        return {}
    return {other: mask_state(spot, other, on.masks, now, frozenset()) for other in on.beside[spot]}


def _other_parts(
    on: Ground, spot: Spot, step: Step, now: datetime
) -> tuple[dict[Spot, MaskState], tuple[Spot, ...]]:
    """The same for faces of other parts: of those in place what is known of their tape, and those
    uncovered that may be in place."""
    if step.operation not in MASKED_FOR:
        return {}, ()
    met = neighbours.of_face(on.nearby.shop, on.piece, on.state, spot, on.facts)
    states = {
        n.meeting.other(spot): (n, mask_state(spot, n.meeting.other(spot), on.masks, now, _NONE))
        for n in met if n.wants_tape
    }  # fmt: skip
    certain = {o: s for o, (n, s) in states.items() if n.together is Together.YES}
    maybe = (o for o, (_, s) in states.items() if o not in certain and s is MaskState.UNKNOWN)
    return certain, tuple(maybe)


@dataclass(frozen=True, slots=True)
class Taped:
    """What keeps the tape at a face on: coats still to come, and films that have not set."""

    masked_for: tuple[str, ...] = ()
    tape: Mapping[Spot, Window] = field(default_factory=dict)


def taped(on: Ground, spot: Spot, masks: Sequence[Mask]) -> Taped:
    """Asked of the faces on all sides of this tape, of other parts too."""
    sides = dict.fromkeys(side for m in masks for side in (m.covers, *m.against))
    there = {
        side: at for side in sides
        if (at := on.progress.get(side) or on.nearby.progress_of(on.piece, side))
    }  # fmt: skip
    to_come = dict.fromkeys(why for m in masks for why in still_masked_for(m, there))
    off = {side: w for side, at in there.items() if side != spot and (w := tape_off(at, on.waits))}
    return Taped(tuple(to_come), off)


def _other_side_first(on: Ground, asked: Situation, step: Step) -> Finding | None:
    """Tape goes on a stained or clear side only when that side has come to its own masking."""
    if step.operation is not Operation.MASK or asked.films:
        return None
    for other in on.beside[asked.facts.face]:
        there = on.progress.get(other)
        mask = next((s for s in there.choices if s.operation is Operation.MASK), None) \
            if there else None  # fmt: skip
        to_come = there and any(s.operation is Operation.MASK for s in _left(there))
        if there and to_come and mask is None and asked.path.key != there.path.key:
            following = there.next.name if there.next else "its own mask"
            reason = f"{other} is finished first: {following} comes before tape goes on it"
            return Finding(Level.HOLD, OTHER_SIDE, reason, PRACTICE, step.key)
    return None


def _tape_on_young_film(on: Ground, asked: Situation, step: Step) -> tuple[Spot, Bound] | None:
    """The stained or clear side that the masking of a painted one covers, and until when tape would
    lift what is on it: whichever side the mask is recorded on, the tape is the same."""
    if step.operation is not Operation.MASK or asked.path.kind is not PathKind.PAINT:
        return None
    found = []
    for other in on.beside[asked.facts.face]:
        there = on.progress.get(other)
        if there is None or there.path.kind is PathKind.PAINT:
            continue
        mask = next((s for s in there.choices if s.operation is Operation.MASK), None)
        opens = window(there, mask, on.waits).opens if mask else None
        if opens and (opens.doubt or asked.now < opens.at):
            found.append((other, opens))
    return max(found, key=lambda each: each[1].at, default=None)


def _with_young_film(said: Decision, other: Spot, opens: Bound) -> Decision:
    if opens.doubt:
        because = f"{other}, {opens.wait.before.name}: {opens.doubt}. {SAY_WHEN}"
        hold = Finding(Level.HOLD, DOUBT_RULE, because, JOURNAL, said.step.key)
        return replace(said, answer=Answer.STOP, until=None, because=because, source=JOURNAL.cited,
                       findings=(hold, *said.findings))  # fmt: skip
    because = f"{other}: {opens.wait.why_not_yet()}"
    hold = Finding(Level.HOLD, TAPE_RULE, f"{because}; tape now would lift it",
                   opens.source or EXPERIENCE, said.step.key)  # fmt: skip
    said = replace(said, findings=(hold, *said.findings))
    if said.answer not in (Answer.GO, Answer.WAIT) or (said.until and said.until > opens.at
                                                       and said.answer is Answer.WAIT):  # fmt: skip
        return said
    return replace(said, answer=Answer.WAIT, until=opens.at, because=because, source=opens.cited)


def _left(at: Progress) -> Sequence[Step]:
    return [s for s in at.path.steps[at.place :] if not s.optional]


def _mixes(on: Ground, face: FaceState, step: Step, cup: StoredCup | None) -> Mixes:
    if cup is None:
        return Mixes()
    part = on.state.part
    before = on.nearby.cups_on(on.piece, part).get(face.name, [])
    known = clock_doubt.cup_with_doubt(on.nearby.shop, cup)
    return Mixes(known, tuple(before), tuple(on.nearby.cups_beside(on.piece, part, step)))


def _siblings(on: Ground, face: FaceState, step: Step) -> tuple[int, ...]:
    """Coats on the other faces of this path; only a topcoat asks."""
    if step.operation is not Operation.TOPCOAT:
        return ()
    mine = (on.state.part.short, face.name)
    return tuple(
        coats
        for key, path, coats in on.nearby.coats(on.piece)
        if path == face.path.key and key != mine
    )


def _with_tacky(room: Room | None, tacky: dict[str, datetime]) -> Room | None:
    if not tacky:
        return room
    # Only sanding asks about tacky faces, and it asks nothing of the air.
    return replace(room or Room(nan, nan, nan), tacky=tacky)


def _lengthened(said: Decision, asked: Situation, cuts: Sequence[PowerCut]) -> Decision:
    """A wait that ran while heater or fan stood still is longer by that time, and doubtful."""
    opens = asked.window.opens
    if opens is None or said.answer not in (Answer.WAIT, Answer.GO):
        return said
    began = opens.at - (opens.wait.earliest or timedelta())
    lost = sum((_overlap(began, opens.at, cut) for cut in cuts), timedelta())
    if not lost or asked.now >= opens.at + lost:
        return said
    because = f"{opens.wait.why_not_yet()}, and the power was off meanwhile: doubtful, so longer"
    hold = Finding(Level.HOLD, "not dry yet", because, PRACTICE, said.step.key)
    found = tuple(f for f in said.findings if f.rule != hold.rule)
    return replace(
        said, answer=Answer.WAIT, until=opens.at + lost, because=because, source=opens.cited,
        findings=(hold, *found),
    )  # fmt: skip


def _overlap(start: datetime, end: datetime, cut: PowerCut) -> timedelta:
    return max(timedelta(), min(end, cut.end) - max(start, cut.start))


def holds_of(held: Sequence[Finding]) -> tuple[Hold, ...]:
    """Holds as they are shown: each rule once, with every reason that it has."""
    whys: dict[str, dict[str, None]] = {}
    for finding in held:
        whys.setdefault(finding.rule, {})[finding.reason] = None
    return tuple(Hold(rule, "; ".join(reasons)) for rule, reasons in whys.items())


def worded(outcome: Outcome, said: Decision, *, refused: bool = False) -> Outcome:
    """An outcome with what was decided: the word, until when, why, whose figure, what to mind."""
    return replace(
        outcome,
        answer=said.answer,
        tone=Tone.REFUSED if refused else _TONES[said.answer],
        until=said.until,
        because=said.because,
        source=said.source or outcome.source,
        cautions=said.minds,
        holds=holds_of(said.held),
        checks=tuple(dict.fromkeys(f.reason for f in said.checks)),
        warnings=tuple(f"{f.rule}: {f.reason}" for f in said.warnings),
        recover=said.recover.step if said.recover else "",
    )
