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
    WHOLE_PIECE,
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
    OLD_FINISH = "old finish"
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
    confirmed: bool = False
    """What has to be so first was asked, and this is the answer to it."""
    insists: tuple[tuple[str, str], ...] = ()
    """Hold and reason; a hold "" is the only one there is."""


@dataclass(frozen=True, slots=True)
class State:
    """Where the bench stands. `shown` is the code that a second scan records, from `shown_at` on.

    held: the code whose record was refused and may be insisted upon; `holds` what refused it, the
    gravest first, `lifted` what was insisted upon already, hold by hold. asked: the code whose
    record asked to be confirmed, by scanning it again. cup, load, place, person: what was last
    scanned of each, 0 for none; they stay while verbs come and go.
    """

    verb: Verb | None = None
    reason: Reason | None = None
    face: str = ""
    shown: str = ""
    shown_at: datetime | None = None
    held: str = ""
    holds: tuple[str, ...] = ()
    lifted: tuple[tuple[str, str], ...] = ()
    asked: str = ""
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

    def asks_of_load(self, code: str) -> bool:
        """This label was left out of the load last, and the load then asked what has to be so."""
        return self.asked == load_code(self.load) and code in self.left_out[-1:]

    @property
    def expects(self) -> str:
        """What the next scan of a part does, while something is in force: `SANDED: each part
        scanned now is recorded so.`; "" when nothing is."""
        if self.verb is None and not self.place:
            return _only(self.face) if self.face else ""
        key, name = self.verb.key if self.verb else None, self.says.replace(": ", ", ")
        if key is Key.INSIST and self.held:
            what = f"“{self.holds[0]}”" if self.holds else "what was refused"
            return f"{name}: scan why, and {what} is lifted."
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
        state = replace(state, shown="")
        after, acts = _WALL[scanned.sort](state, scanned.number)
    return after, before + acts


def was_held(state: State, act: Act, holds: tuple[str, ...] = ()) -> State:
    """A record was refused: INSIST and a reason lift the first of `holds`."""
    return replace(
        state, held=_of(act), holds=holds, lifted=act.insists, left_out=act.codes, shown=""
    )


def was_asked(state: State, act: Act, now: datetime) -> State:
    """A record asked what has to be so; scanned again, a moment later, that is said."""
    return replace(state, asked=_of(act), lifted=act.insists, left_out=act.codes, shown="",
                   shown_at=now)  # fmt: skip


def _of(act: Act) -> str:
    return act.code or load_code(act.number)


def with_load(state: State, number: int) -> State:
    """The load now in hand."""
    return replace(state, load=number, left_out=())


def _quiet(state: State) -> State:
    """Nothing in force; person, cup and load stay in hand."""
    return replace(
        state, verb=None, reason=None, face="", shown="", shown_at=None, held="", holds=(),
        lifted=(), asked="", left_out=(), place=0,
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
    confirmed = state.asked == code
    if confirmed and _too_soon(state, now):
        return state, ()
    why = state.reason.name if key is Key.INSIST and state.reason else ""
    pairs = (("", why),) if why else state.lifted if confirmed else ()
    act = Act(_FOR_PARTS[key], code, state.verb, state.reason, state.face, confirmed=confirmed,
              insists=pairs)  # fmt: skip
    if key is Key.INSIST or not state.verb.stays:
        return _quiet(state), (act,)
    return replace(_disarmed(state), face=""), (act,)


def _disarmed(state: State) -> State:
    """Nothing waits for a second scan or for a reason."""
    return replace(state, shown="", shown_at=None, held="", holds=(), lifted=(), asked="")


def _too_soon(state: State, now: datetime) -> bool:
    """One scan that was read twice is one scan."""
    return state.shown_at is not None and now - state.shown_at < COUNTS_ONCE


def _without_verb(state: State, code: str, now: datetime) -> Step:
    """The first scan shows; one more of the same, a moment later, records."""
    if state.asks_of_load(code):
        # The last part that was left out of the load, once more: what was asked is so.
        return (state, ()) if _too_soon(state, now) else _end(state)
    again = code in (state.shown, state.asked) and state.shown_at is not None
    if again and _too_soon(state, now):
        return state, ()
    if again:
        # What the record stands on was on the screen, with what has to be so before it.
        act = Act(What.RECORD, code, face=state.face, confirmed=True, insists=state.lifted)
        return replace(_disarmed(state), face=""), (act,)
    shown = replace(_disarmed(state), shown=code, shown_at=now)
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
    confirmed = state.asked == load_code(state.load)
    return Act(What.LOAD_DONE, number=state.load, codes=codes, confirmed=confirmed,
               insists=state.lifted if confirmed else ())  # fmt: skip


def load_code(number: int) -> str:
    """What stands for a load where else the code of a part stands."""
    return f"load {number}"


def _verb(state: State, number: int) -> Step:
    verb = verb_numbered(number)
    if verb is None:
        return state, (Act(What.SAY, says="No verb of the wall has that number."),)
    if verb.key in _AT_ONCE:
        return _disarmed(state), (Act(_AT_ONCE[verb.key], verb=verb, number=state.cup),)
    if verb.key is Key.OFF:
        return _quiet(state), (Act(What.VERB_OFF, verb=state.verb),)
    if verb.key is Key.END:
        return _end(state)
    if verb.key is Key.EXCEPT and not state.load:
        return state, (Act(What.SAY, says="Scan the load first: its strip, or NEXT LOAD."),)
    on = replace(_quiet(state), verb=verb, face=state.face)
    if verb.key is Key.INSIST:
        on = replace(on, held=state.held, holds=state.holds, lifted=state.lifted,
                     left_out=state.left_out)  # fmt: skip
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
        lifted = (*state.lifted, (state.holds[0] if state.holds else "", reason.name))
        act = Act(What.RECORD, state.held, state.verb, reason, state.face, codes=state.left_out,
                  insists=lifted)  # fmt: skip
        return _quiet(state), (act,)
    says = f"{state.verb.name}, {reason.name}: now the part."
    return replace(state, reason=reason), (Act(What.VERB_ON, verb=state.verb, says=says),)


def _face(state: State, number: int) -> Step:
    name = face_numbered(number)
    says = _only(name) if name else "No face of the wall has that number."
    return replace(state, face=name, shown=""), (Act(What.SAY, face=name, says=says),)


def _only(face: str) -> str:
    if face == WHOLE_PIECE:
        return "Of the whole piece that the next part is of."
    return f"Only the {face} of the next part."


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
    Key.OLD_FINISH: "said of each part scanned now; after WHOLE PIECE, of all of its piece.",
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
}
"""Verbs that need no part."""
