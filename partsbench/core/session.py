"""What a scan means, given the verb in force: a whole evening's work by scanner alone.

Pure: the state goes in with a scan and the time, and comes out with what is to be done. A first
scan of a part shows, a second records; a verb holds for the parts after it and goes off by itself
when nothing was scanned for a while.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

from partsbench.core.verbs import (
    Key,
    Reason,
    Sort,
    Verb,
    WallCode,
    face_numbered,
    reason_numbered,
    verb_numbered,
)

USUAL_IDLE = timedelta(minutes=3)
COUNTS_ONCE = timedelta(seconds=1.5)


class What(StrEnum):
    """What is to be done after a scan."""

    SHOW = "show"
    RECORD = "record"
    SKIP = "skip"
    SEND_BACK = "send back"
    LOAD_DONE = "load done"
    NEXT_LOAD = "next load"
    OUT = "out"
    HOME = "home"
    PUT = "put"
    NO_MASK = "no mask"
    TRIED = "tried"
    PIECE = "piece"
    UNDO = "undo"
    REDO = "redo"
    RAGS = "rags"
    CUP = "cup"
    LOAD = "load"
    PERSON = "person"
    PLACE = "place"
    STRAINED = "strained"
    CUP_EMPTY = "cup empty"
    WORK_STARTS = "work starts"
    WORK_ENDS = "work ends"
    VERB_ON = "verb on"
    VERB_OFF = "verb off"
    SAY = "say"


@dataclass(frozen=True, slots=True)
class Act:
    """One thing to do: with which code, verb, reason or number; `says` is for the screen."""

    what: What
    code: str = ""
    verb: Verb | None = None
    reason: Reason | None = None
    face: str = ""
    number: int = 0
    codes: tuple[str, ...] = ()
    says: str = ""


@dataclass(frozen=True, slots=True)
class State:
    """Where the bench stands. `shown` is the code that a second scan records, from `shown_at` on.

    held: the code whose record was refused and may be insisted upon. cup, load, place, person:
    what was last scanned of each, 0 for none; they stay while verbs come and go.
    """

    verb: Verb | None = None
    reason: Reason | None = None
    face: str = ""
    shown: str = ""
    shown_at: datetime | None = None
    held: str = ""
    left_out: tuple[str, ...] = ()
    cup: int = 0
    load: int = 0
    place: int = 0
    person: int = 0
    last: datetime | None = None
    idle: timedelta = USUAL_IDLE

    @property
    def says(self) -> str:
        """The verb in force for the screen: `ALL EXCEPT: D4, D9`; "" for none."""
        if self.place and self.verb is None:
            return "PLACE"
        if self.verb is None:
            return ""
        more = [self.reason.name] if self.reason else []
        return ": ".join((self.verb.name, *more))

    @property
    def expects(self) -> str:
        """What the next scan of a part does, while something is in force: `SANDED: each part
        scanned now is recorded so.`; "" when nothing is."""
        if self.verb is None and not self.place:
            return f"Only the {self.face} of the next part." if self.face else ""
        key, name = self.verb.key if self.verb else None, self.says.replace(": ", ", ")
        if key is Key.INSIST and self.held:
            return f"{name}: scan why, and what was refused is recorded."
        if key in (Key.INSIST, Key.SEND_BACK) and self.reason is None:
            return f"{name}: scan why."
        return f"{name}: {_EXPECTS.get(key, _RECORDED)}"


Step = tuple[State, tuple[Act, ...]]


def tick(state: State, now: datetime) -> Step:
    """The passing of time: a verb that nothing followed goes off, and that is heard."""
    waiting = state.verb or state.face or state.place or state.held
    if state.last is None or not waiting or now - state.last < state.idle:
        return state, ()
    heard = state.verb or state.place or state.face
    off = Act(What.VERB_OFF, verb=state.verb, says="")
    return _quiet(state), (off,) if heard else ()


def scan(state: State, scanned: WallCode | str, now: datetime) -> Step:
    """A scan that counts: a code of the wall, or the text of a label."""
    state, before = tick(state, now)
    state = replace(state, last=now)
    if isinstance(scanned, str):
        after, acts = _label(state, scanned, now)
    else:
        # Whatever lies between two scans of a part, the second only shows it again.
        state = replace(state, shown="", shown_at=None)
        after, acts = _WALL[scanned.sort](state, scanned.number)
    return after, before + acts


def was_held(state: State, code: str) -> State:
    """The record of `code` was refused: INSIST and a reason would record it."""
    return replace(state, held=code, shown="")


def with_load(state: State, number: int) -> State:
    """The load now in hand."""
    return replace(state, load=number, left_out=())


def _quiet(state: State) -> State:
    """Nothing in force; person, cup and load stay in hand."""
    return replace(
        state, verb=None, reason=None, face="", shown="", shown_at=None, held="", left_out=(),
        place=0,
    )  # fmt: skip


def _label(state: State, code: str, now: datetime) -> Step:
    if state.place:
        return state, (Act(What.PUT, code, number=state.place),)
    if state.verb is None:
        return _without_verb(state, code, now)
    key = state.verb.key
    if key is Key.EXCEPT:
        return _except(state, code)
    if key in (Key.INSIST, Key.SEND_BACK) and state.reason is None:
        return state, (Act(What.SAY, code, says=f"{state.verb.name}: scan why first."),)
    act = Act(_FOR_PARTS[key], code, state.verb, state.reason, state.face)
    if key is Key.INSIST or not state.verb.stays:
        return _quiet(state), (act,)
    return replace(state, face="", shown="", held=""), (act,)


def _without_verb(state: State, code: str, now: datetime) -> Step:
    """The first scan shows; one more of the same, a moment later, records."""
    again = state.shown == code and state.shown_at is not None
    if again and state.shown_at is not None and now - state.shown_at < COUNTS_ONCE:
        return state, ()
    if again:
        act = Act(What.RECORD, code, face=state.face)
        return replace(state, shown="", shown_at=None, face="", held=""), (act,)
    shown = replace(state, shown=code, shown_at=now, held="")
    return shown, (Act(What.SHOW, code, face=state.face),)


def _except(state: State, code: str) -> Step:
    verb = state.verb
    assert verb is not None
    codes = state.left_out if code in state.left_out else (*state.left_out, code)
    if verb.count and len(codes) >= verb.count:
        return _quiet(state), (_load_done(state, codes),)
    says = f"{verb.name}: {len(codes)} left out. END records the others."
    return replace(state, left_out=codes), (Act(What.SAY, code, verb, says=says),)


def _load_done(state: State, codes: tuple[str, ...] = ()) -> Act:
    return Act(What.LOAD_DONE, number=state.load, codes=codes)


def _verb(state: State, number: int) -> Step:
    verb = verb_numbered(number)
    if verb is None:
        return state, (Act(What.SAY, says="No verb of the wall has that number."),)
    if verb.key in _AT_ONCE:
        kept = replace(state, shown="", held="")
        return kept, (Act(_AT_ONCE[verb.key], verb=verb, number=state.cup),)
    if verb.key is Key.OFF:
        return _quiet(state), (Act(What.VERB_OFF, verb=state.verb),)
    if verb.key is Key.END:
        return _end(state)
    if verb.key is Key.EXCEPT and not state.load:
        return state, (Act(What.SAY, says="Scan the load first: its strip, or NEXT LOAD."),)
    held = state.held if verb.key is Key.INSIST else ""
    on = replace(_quiet(state), verb=verb, held=held, face=state.face)
    return on, (Act(What.VERB_ON, verb=verb, says=verb.says),)


def _end(state: State) -> Step:
    """The load is coated, but for what ALL EXCEPT took out; without a load a verb ends."""
    in_load = state.load and (state.verb is None or state.verb.key is Key.EXCEPT)
    if in_load:
        return _quiet(state), (_load_done(state, state.left_out),)
    return _quiet(state), (Act(What.VERB_OFF, verb=state.verb),)


def _reason(state: State, number: int) -> Step:
    reason = reason_numbered(number)
    if reason is None or state.verb is None or state.verb.key is not reason.key:
        says = "A reason belongs to INSIST or SENT BACK: scan that first."
        return state, (Act(What.SAY, says=says),)
    if state.held:
        act = Act(What.RECORD, state.held, state.verb, reason, state.face)
        return _quiet(state), (act,)
    says = f"{state.verb.name}, {reason.name}: now the part."
    return replace(state, reason=reason), (Act(What.VERB_ON, verb=state.verb, says=says),)


def _face(state: State, number: int) -> Step:
    name = face_numbered(number)
    says = f"Only the {name} of the next part." if name else "No face of the wall has that number."
    return replace(state, face=name, shown=""), (Act(What.SAY, face=name, says=says),)


def _cup(state: State, number: int) -> Step:
    return replace(state, cup=number), (Act(What.CUP, number=number),)


def _load(state: State, number: int) -> Step:
    return with_load(state, number), (Act(What.LOAD, number=number),)


def _person(state: State, number: int) -> Step:
    return replace(state, person=number), (Act(What.PERSON, number=number),)


def _place(state: State, number: int) -> Step:
    return replace(_quiet(state), place=number), (Act(What.PLACE, number=number),)


_RECORDED = "each part scanned now is recorded so."
_EXPECTS = {
    None: "each part scanned now is put there.",
    Key.INSIST: "the next part scanned is recorded all the same.",
    Key.SEND_BACK: "each part scanned now goes back.",
    Key.SKIP: "of each part scanned now the next step is left out.",
    Key.EXCEPT: "each part scanned now is left out; END records the others.",
    Key.NO_MASK: "each part scanned now needs no cover.",
    Key.TRIED_READY: "each part scanned now was tried and is ready for its next step.",
    Key.TRIED_NOT: "each part scanned now was tried and is not ready for its next step.",
    Key.PIECE: "the piece of the next part is at work.",
}
_WALL = {
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
    Key.INSIST: What.RECORD,
    Key.SEND_BACK: What.SEND_BACK,
    Key.SKIP: What.SKIP,
    Key.OUT: What.OUT,
    Key.HOME: What.HOME,
    Key.PIECE: What.PIECE,
    Key.NO_MASK: What.NO_MASK,
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
}
"""Verbs that need no part."""
