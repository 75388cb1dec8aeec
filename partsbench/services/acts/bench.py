"""Scans at the bench: what is this, where does it belong, what comes next, and recording it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from partsbench.core.finish.answer import ANY_HOLD, still_held
from partsbench.core.finish.clocks import window
from partsbench.core.finish.cups import StoredCup
from partsbench.core.finish.durations import say_duration
from partsbench.core.finish.findings import Finding
from partsbench.core.finish.path import Step
from partsbench.core.finish.progress import MarkKind
from partsbench.core.finish.sandback import check_sand_back
from partsbench.core.finish.schedule import cost_of_missing
from partsbench.core.finish.steps import Operation
from partsbench.core.outcomes import Answer, Hold, Outcome, Refused, Tone
from partsbench.core.said_often import EVERY_STEP_DONE, STILL_TO_COME, does_not_do
from partsbench.core.stated_time import parse_time
from partsbench.core.verbs import insisted_words, insists
from partsbench.core.wording import sentences
from partsbench.services.acts.bench_words import (
    held_words,
    home_shown,
    lane_of,
    next_words,
    on_face,
    refusal,
    shown,
    then_words,
    urgent_words,
    which_side,
)
from partsbench.services.known import people
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.known.state import FaceState, PartState, part_state
from partsbench.services.rules import answers
from partsbench.services.rules.answers import Ground
from partsbench.services.rules.choosing import Choice, Wish, choose, urgent
from partsbench.services.rules.marking import Doing, follow_tape, mark
from partsbench.services.shop import Shop, writing
from partsbench.store.journal import change
from partsbench.store.records import StoredMark

JUST_NOW = timedelta(minutes=1)
OUT_OF_ORDER = "out of order"
"""What is insisted upon where a step is recorded before its turn."""

Insist = str | Sequence[str] | Mapping[str, str]
"""A reason, several (`not dry yet: the tin says so`), or reasons by the hold that each lifts."""


def look(
    shop: Shop,
    text: str | KnownLabel,
    *,
    here: str = "",
    at: datetime | None = None,
    face: str = "",
    step: str = "",
    cup: StoredCup | None = None,
    wet: bool = False,
) -> Outcome:
    """What a first scan shows: where the part lives, its next step, and whether that may be done.

    Answered as of `at`, now by default. Records nothing.
    """
    known = identify(shop, text, here)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return home_shown(known.piece, known.home)
    state = part_state(shop, known.piece, known.part)
    when = at or shop.clock()
    on = answers.ground(shop, known.piece, state, when)
    found = choose(on, Wish(face, step, cup=cup, wet=wet), when)
    if isinstance(found, Refused):
        return refusal(known, found.sentence, on_face(face))
    if found is None:
        return shown(known, state, lane_of(state, face))
    said = answers.worded(shown(known, state, found.faces, found.step), found.said)
    cost = _cost(on, found) if found.said.answer is Answer.LATE else ""
    just = _just_done(shop, state, face, when)
    return replace(said, because=sentences(said.because, cost), warnings=(*just, *said.warnings))


def _cost(on: Ground, found: Choice) -> str:
    """What a missed window adds: hours, and when the face can be finished at best."""
    at = found.faces[0].progress
    cost = cost_of_missing(at, window(at, found.step, on.waits), on.waits)
    if cost is None or cost.added < timedelta(minutes=1):
        return ""
    return f"It adds {say_duration(cost.added)}."


def _just_done(shop: Shop, state: PartState, face: str, now: datetime) -> tuple[str, ...]:
    """What somebody else recorded of this part, or of this face, within the last minute."""
    asked = on_face(face) or tuple(f.name for f in state.faces)
    marks = [m for f in state.faces if f.name in asked for m in f.marks if m.who != shop.who]
    newest = max(marks, key=_when, default=None)
    if newest is None or not timedelta() <= now - newest.at < JUST_NOW:
        return ()
    who = newest.who or "Somebody"
    return (f"just recorded: {who} recorded {newest.step.replace('_', ' ')} a moment ago",)


def _when(mark: StoredMark) -> datetime:
    return mark.at


@writing
def record(
    shop: Shop,
    text: str | KnownLabel,
    *,
    here: str = "",
    at: datetime | None = None,
    face: str = "",
    step: str = "",
    operations: frozenset[Operation] = frozenset(),
    skip: bool = False,
    note: str = "",
    insist: Insist = "",
    cup: StoredCup | None = None,
    wet: bool = False,
    confirmed: bool = False,
) -> Outcome:
    """Record the next step (or `step`, or a skip) on the faces worked together, or on one face.

    `at` is when the work was done, aware, now by default; a time still to come is refused. So is
    what the rules hold, unless `insist` gives a reason for each hold, of the wall or in words; it
    is kept. What has to be confirmed first is asked, unless it was shown and `confirmed`, or was
    for this batch already. `operations` narrows what the next step may be, as a verb does.
    """
    known = identify(shop, text, here)
    if isinstance(known, Outcome):
        return known
    if known.part is None:
        return home_shown(known.piece, known.home)
    now = shop.clock()
    when = at or now
    if when > now:
        return refusal(known, STILL_TO_COME)
    reasons = insists(insist)
    with change(shop.book, "", now, shop.who, known.piece.tag) as entry:
        state = part_state(shop, known.piece, known.part)
        on = answers.ground(shop, known.piece, state, when)
        wish = Wish(face, step, operations, bool(reasons), skip, cup, wet)
        found = choose(on, wish, when)
        why_not = _why_not(shop, found, skip)
        if why_not or found is None or isinstance(found, Refused):
            return refusal(known, why_not, on_face(face))
        left, lifted = ((), {}) if skip else still_held(found.said.held, reasons)
        if left:
            return _held(known, on, found, left)
        if found.said.checks and not (skip or confirmed):
            return _unconfirmed(known, on, found)
        if reasons and not lifted:
            lifted = {_beyond_the_holds(found): next(iter(reasons.values()))}
        how = _how(found, wish, when, lifted, note)
        names = [f.name for f in found.faces]
        mark(shop, entry, known.piece, known.part, names, found.step, how)
        follow_tape(shop, entry, on, found.faces, found.step, how)
    return _recorded(shop, known, found, skip, when, Wish(face, cup=cup))


def _how(found: Choice, wish: Wish, when: datetime, lifted: Mapping[str, str], note: str) -> Doing:
    mix = wish.mix_for(found.step)
    return Doing(
        when,
        MarkKind.SKIPPED if wish.skip else MarkKind.DONE,
        insist_note(lifted, note),
        insisted=any(lifted),
        cup=mix.id if mix else None,
        sure="" if wish.skip else confirmed_note(found.said.checks),
    )


def _beyond_the_holds(found: Choice) -> str:
    """What a reason answers that no hold asked for: that the step is not due, if anything."""
    due = all(found.step in face.progress.choices for face in found.faces)
    return ANY_HOLD if due else OUT_OF_ORDER


def _why_not(shop: Shop, found: Choice | Refused | None, skip: bool) -> str:
    """Why nothing can be recorded, whatever is insisted upon; "" when something can."""
    if isinstance(found, Refused):
        return found.sentence
    if found is None:
        return EVERY_STEP_DONE
    if skip and not found.step.optional:
        return f"{found.step.name} cannot be left out of this path."
    if not may_do(shop, found.step):
        return does_not_do(shop.who, found.step.operation)
    return ""


def may_do(shop: Shop, step: Step) -> bool:
    """False for a helper who is limited to other operations."""
    if not shop.who:
        return True
    who = next((p for p in people.people(shop) if p.name == shop.who), None)
    return people.may_do(who, step.operation)


def insist_note(lifted: Mapping[str, str], note: str) -> str:
    """The note of the mark: what was insisted upon and why stands in it for ever."""
    return "; ".join(filter(None, (insisted_words(lifted), note.strip())))


def confirmed_note(checks: Sequence[Finding]) -> str:
    """What was confirmed for the batch that begins with this mark."""
    return f"confirmed: {' '.join(f.reason for f in checks)}" if checks else ""


def _held(known: KnownLabel, on: Ground, found: Choice, left: Sequence[Finding]) -> Outcome:
    """The refusal, with the holds that are left; those that a reason lifted already are out."""
    first = shown(known, on.state, found.faces, found.step)
    assert known.part is not None
    refused = answers.worded(first, found.said, refused=True)
    if len(left) < len(found.said.held):
        refused = replace(refused, because="; ".join(dict.fromkeys(f.reason for f in left)))
    told = sentences(f"{found.step.name} was not recorded.", held_words(left, found.said.held))
    return replace(
        refused,
        sentence=f"{known.piece.codename} {known.part.short}: {told}",
        beside=told,
        holds=answers.holds_of(left),
    )


def _unconfirmed(known: KnownLabel, on: Ground, found: Choice) -> Outcome:
    """The question before the first record of a batch: what has to be so."""
    assert known.part is not None
    said = answers.worded(shown(known, on.state, found.faces, found.step), found.said)
    told = sentences(f"{found.step.name} is not recorded yet.", "Is this so?", *said.checks)
    return replace(
        said,
        answer=Answer.STOP,
        tone=Tone.CONFIRM,
        sentence=f"{known.piece.codename} {known.part.short}: {told}",
        beside=told,
        because="",
        source="",
        until=None,
    )


def _recorded(
    shop: Shop, known: KnownLabel, found: Choice, skip: bool, when: datetime, then: Wish
) -> Outcome:
    """What was recorded, and the answer, as of now, for what is next."""
    assert known.part is not None
    short, said = known.part.short, found.said.warnings
    did = f"{short} {found.step.did}."
    if skip:
        did, said = f"{short}: left out {found.step.name}.", ()
    return replace(
        _with_next(shop, known, did, then),
        faces=tuple(f.name for f in found.faces),
        warnings=tuple(f"{f.rule}: {f.reason}" for f in said),
        done_at=when,
    )


def _with_next(shop: Shop, known: KnownLabel, did: str, wish: Wish) -> Outcome:
    """The outcome of a record: what was done (a sentence), what is next, and whether that may be
    done now.

    Of the one face that was asked for, if one was.
    """
    assert known.part is not None
    after, now = part_state(shop, known.piece, known.part), shop.clock()
    on = answers.ground(shop, known.piece, after, now)
    then = choose(on, wish, now)
    lane = lane_of(after, wish.face)
    base = shown(known, after, lane)
    if isinstance(then, Choice):
        base = replace(shown(known, after, then.faces, then.step), then=then.said.answer)
    soon = urgent(on, then.faces if isinstance(then, Choice) else (), now)

    def told(*, named: bool) -> str:
        following = next_words(after, lane, named=named)
        if isinstance(then, Choice):
            following = then_words(then.faces, then.step, then.said, now, named=named)
        return sentences(did, following, *urgent_words(soon, now, named=named))

    return replace(
        base,
        answer=Answer.GO,
        tone=Tone.RECORDED,
        sentence=told(named=True),
        beside=told(named=False),
        recorded=True,
        done_at=now,
    )


@writing
def send_back(
    shop: Shop,
    text: str | KnownLabel,
    step: str,
    reason: str,
    *,
    here: str = "",
    face: str = "",
    accept: bool = False,
    cup: StoredCup | None = None,
) -> Outcome:
    """Return faces to an earlier step, with a reason. Nothing is erased.

    `face` is one, or several (`front, top edge`). Without it all that have the step behind them go
    back, unless they are on different paths: then it is asked which.
    Veneer that went back to bare wood too often already is refused unless `accept`ed: the answer
    says what could be done instead.
    """
    known = identify(shop, text, here)
    if isinstance(known, Outcome) or known.part is None:
        return known if isinstance(known, Outcome) else home_shown(known.piece, known.home)
    if not reason.strip():
        return refusal(known, "Say why it goes back; the reason stays in its history.")
    now = shop.clock()
    with change(shop.book, "", now, shop.who, known.piece.tag) as entry:
        state = part_state(shop, known.piece, known.part)
        asked = on_face(face)
        lane = [f for f in state.faces if f.path.steps and (not asked or f.name in asked)]
        back = [f for f in lane if any(m.step == step for m in f.progress.done)]
        target = next((s for f in back for s in f.path.steps if s.key == step), None)
        if target is None:
            return refusal(known, f"No face of {known.part.short} has that step behind it.")
        which = "" if asked else which_side(known.part.short, back)
        if which:
            return refusal(known, which)
        worn = _worn(answers.ground(shop, known.piece, state, now), back, step)
        if worn and not accept:
            return replace(refusal(known, worn), holds=(Hold("veneer sanded back", worn),))
        how = Doing(now, MarkKind.SENT_BACK, reason.strip())
        mark(shop, entry, known.piece, known.part, [f.name for f in back], target, how)
    did = f"{known.part.short} sent back to {target.name}: {reason.strip()}."
    then = Wish(face if len(asked) == 1 else "", cup=cup)
    return replace(_with_next(shop, known, did, then), faces=tuple(f.name for f in back))


def _worn(on: Ground, faces: Sequence[FaceState], step: str) -> str:
    """Why veneer had better not go back to bare wood once more; "" when it may."""
    for face in faces:
        veneer = on.facts.of(on.state.part.short, face.name).get("veneer") == "yes"
        found = check_sand_back(face.progress, step, veneer)
        if found:
            return f"{on.state.part.spot(face.name)}: {found.reason}."
    return ""


def stated(shop: Shop, text: str) -> datetime | Refused:
    """A time as a person states it; one still to come is refused."""
    return parse_time(text, shop.clock())
