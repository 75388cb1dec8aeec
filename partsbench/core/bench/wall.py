"""Codes of the wall, and what a label does under them: a whole evening by scanner alone."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from partsbench.core.bench.events import Act, Hit, Kind, What
from partsbench.core.bench.labels import Now, Turn, fill_home, home_waits, in_hand, tell
from partsbench.core.bench.state import Hand, State, Waits, disarmed, load_code, only, quiet
from partsbench.core.verbs import (
    Key,
    Sort,
    WallCode,
    face_numbered,
    reason_numbered,
    verb_numbered,
)


def of_the_wall(state: State, code: WallCode, now: Now) -> Turn:
    """What a code of the wall does. Whatever lies between two scans of a part, the second only
    shows it again."""
    if state.hand.waits is Waits.ARMED:
        state = disarmed(state)
    return _SORTS[code.sort](state, code.number, now)


def under_verb(state: State, now: Now) -> Turn:
    """what the verb says of it"""
    hit, verb = now.hit, state.verb
    # A rack takes parts of every job, and THIS PIECE is told by a part of another one.
    any_job = hit.kind is Kind.ELSEWHERE and (verb is None or verb.key is Key.PIECE)
    if hit.kind in (Kind.ELSEWHERE, Kind.STRANGE) and not any_job:
        return tell(state, now)
    if verb is not None and verb.key is Key.HOME:
        # As on the Return page: what goes into a home that was scanned is checked against it.
        if hit.kind is Kind.HOME:
            return home_waits(state, now)
        if state.hand.waits is Waits.HOME:
            return fill_home(state, now)
    if verb is None:
        put = Act(What.PUT, hit.code, number=state.place)
        return replace(state, hand=in_hand(hit, now.at)), (put,)
    if verb.key is Key.EXCEPT:
        return _except(state, now)
    if verb.key in (Key.INSIST, Key.SEND_BACK) and state.reason is None:
        # Another part was scanned: what was refused before it is no longer meant.
        if hit.code != state.hand.code:
            state = replace(state, hand=in_hand(hit, now.at))
        return state, (Act(What.SAY, hit.code, says=f"{hit.part}. {verb.name}: scan why first."),)
    if verb.key is Key.KEEP and hit.code in state.run:
        state = replace(state, hand=in_hand(hit, now.at))
        return state, (
            Act(What.SAY, hit.code, says=f"{hit.part} is recorded in this run already."),
        )
    hand = state.hand
    confirmed = hand.waits is Waits.ASKED and hand.code == hit.code
    why = state.reason.name if verb.key is Key.INSIST and state.reason else ""
    pairs = (("", why),) if why else hand.lifted if confirmed else ()
    act = Act(_FOR_PARTS[verb.key], hit.code, verb, state.reason, state.face,
              state.keep_step, confirmed=confirmed, insists=pairs)  # fmt: skip
    state = replace(state, hand=in_hand(hit, now.at), face="")
    if verb.key is Key.INSIST or not verb.stays:
        kept = state.hand
        state = replace(quiet(state), hand=kept)
    return state, (act,)


def confirm(state: State, now: Now) -> Turn:
    """what was asked is so: what the verb says of the part in the hand"""
    hand = state.hand
    hit = Hit(Kind.PART, hand.code, hand.tag, hand.part, hand.home, fits=hand.fits)
    return under_verb(state, replace(now, sees=replace(now.sees, hit=hit)))


def end_load(state: State, now: Now) -> Turn:
    """the last part left out of the load, once more: what was asked is so"""
    return _end(state)


def _except(state: State, now: Now) -> Turn:
    verb, code = state.verb, now.hit.code
    assert verb is not None
    if state.asks_of_load(code):
        return _end(state)
    codes = state.left_out if code in state.left_out else (*state.left_out, code)
    if verb.count and len(codes) >= verb.count:
        done = _load_done(state, codes)
        return replace(quiet(state), left_out=codes), (done,)
    says = f"{now.hit.part}. {verb.name}: {len(codes)} left out. END records the others."
    state = replace(state, left_out=codes, hand=in_hand(now.hit, now.at))
    return state, (Act(What.SAY, code, verb, says=says),)


def _load_done(state: State, codes: tuple[str, ...] = ()) -> Act:
    hand = state.hand
    confirmed = hand.waits is Waits.ASKED and hand.code == load_code(state.load)
    return Act(What.LOAD_DONE, load_code(state.load), number=state.load, codes=codes,
               confirmed=confirmed, insists=hand.lifted if confirmed else ())  # fmt: skip


def _verb(state: State, number: int, now: Now) -> Turn:
    verb = verb_numbered(number)
    if verb is None:
        return state, (Act(What.SAY, says="No verb of the wall has that number."),)
    if verb.key in _AT_ONCE:
        return disarmed(state), (Act(_AT_ONCE[verb.key], verb=verb, number=state.cup),)
    if verb.key is Key.OFF:
        return quiet(state), (Act(What.VERB_OFF, verb=state.verb),)
    if verb.key is Key.END:
        return _end(state)
    if verb.key is Key.EXCEPT and not state.load:
        return state, (Act(What.SAY, says="Scan the load first: its strip, or NEXT LOAD."),)
    on = replace(quiet(state), verb=verb, face=state.face)
    before = ""
    if verb.key is Key.INSIST:
        on = replace(on, hand=state.hand, left_out=state.left_out)
        # It is for one record: whoever scanned DONE before it may think that it comes back after.
        before = state.verb.name if state.verb and state.verb is not verb else ""
    return on, (Act(What.VERB_ON, verb=verb, text=before, says=verb.says),)


def _end(state: State) -> Turn:
    """The load is coated, but for what ALL EXCEPT took out; without a load a verb ends."""
    in_load = state.load and (state.verb is None or state.verb.key is Key.EXCEPT)
    if in_load:
        done = _load_done(state, state.left_out)
        return replace(quiet(state), left_out=state.left_out), (done,)
    return quiet(state), (Act(What.VERB_OFF, verb=state.verb),)


def _reason(state: State, number: int, now: Now) -> Turn:
    reason = reason_numbered(number)
    if reason is None or state.verb is None or state.verb.key is not reason.key:
        says = "A reason belongs to INSIST or SENT BACK: scan that first."
        return state, (Act(What.SAY, says=says),)
    hand = state.hand
    if reason.key is Key.INSIST and hand.waits is Waits.HELD:
        lifted = (*hand.lifted, (hand.holds[0] if hand.holds else "", reason.name))
        act = Act(_record_of(hand, state.load), hand.code, state.verb, reason,
                  hand.face or state.face, hand.step, state.load, state.left_out,
                  confirmed=False, insists=lifted)  # fmt: skip
        kept = replace(hand, lifted=lifted)
        return replace(quiet(state), hand=kept, left_out=state.left_out), (act,)
    says = f"{state.verb.name}, {reason.name}: now the part."
    return replace(state, reason=reason), (Act(What.VERB_ON, verb=state.verb, says=says),)


def _record_of(hand: Hand, load: int) -> What:
    return What.LOAD_DONE if load and hand.code == load_code(load) else What.RECORD


def _face(state: State, number: int, now: Now) -> Turn:
    name = face_numbered(number)
    says = only(name) if name else "No face of the wall has that number."
    return replace(state, face=name), (Act(What.SAY, face=name, says=says),)


def _cup(state: State, number: int, now: Now) -> Turn:
    return replace(state, cup=number), (Act(What.CUP, number=number),)


def _load(state: State, number: int, now: Now) -> Turn:
    return with_load(state, number), (Act(What.LOAD, number=number),)


def _person(state: State, number: int, now: Now) -> Turn:
    return replace(state, person=number), (Act(What.PERSON, number=number),)


def _place(state: State, number: int, now: Now) -> Turn:
    return replace(quiet(state), place=number), (Act(What.PLACE, number=number),)


def with_load(state: State, number: int) -> State:
    """The load now in hand."""
    return replace(state, load=number, left_out=())


_SORTS: Mapping[Sort, Callable[[State, int, Now], Turn]] = {
    Sort.VERB: _verb,
    Sort.REASON: _reason,
    Sort.FACE: _face,
    Sort.CUP: _cup,
    Sort.LOAD: _load,
    Sort.PERSON: _person,
    Sort.PLACE: _place,
}
_FOR_PARTS = {
    Key.DO: What.RECORD,
    Key.KEEP: What.RECORD,
    Key.INSIST: What.RECORD,
    Key.SEND_BACK: What.SEND_BACK,
    Key.SKIP: What.SKIP,
    Key.OUT: What.OUT,
    Key.HOME: What.HOME,
    Key.PIECE: What.PIECE,
    Key.NO_MASK: What.NO_MASK,
    Key.OLD_FINISH: What.OLD_FINISH,
    Key.TRIED_READY: What.TRIED,
    Key.TRIED_NOT: What.TRIED,
}
_AT_ONCE = {
    Key.UNDO: What.UNDO,
    Key.REDO: What.REDO,
    Key.LOAD: What.NEXT_LOAD,
    Key.RAGS_FLAT: What.RAGS,
    Key.RAGS_WATER: What.RAGS,
    Key.STRAINED: What.STRAINED,
    Key.CUP_EMPTY: What.CUP_EMPTY,
    Key.START: What.WORK_STARTS,
    Key.STOP: What.WORK_ENDS,
    Key.CAMERA: What.CAMERA,
}
"""Verbs that need no part."""
