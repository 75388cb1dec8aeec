"""The one machine: a state, an event and a snapshot go in; a state and acts come out."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from partsbench.core.bench import wall
from partsbench.core.bench.events import (
    Act,
    Answered,
    Event,
    Hit,
    Kind,
    OfTheWall,
    Passed,
    Pushed,
    Scanned,
    Snapshot,
    Took,
    Touched,
    Turned,
    Undone,
    What,
)
from partsbench.core.bench.keys import NOT_ARMED
from partsbench.core.bench.labels import Now, Turn, nothing
from partsbench.core.bench.state import (
    COUNTS_ONCE,
    Hand,
    Mode,
    State,
    Waits,
    disarmed,
    empty,
    grown_old,
    load_code,
    quiet,
)
from partsbench.core.bench.table import Happens, Label, row_for
from partsbench.core.outcomes import Answer, Outcome

_NOTHING_SEEN = Snapshot()


def happens(state: State, event: Event, at: datetime, sees: Snapshot = _NOTHING_SEEN) -> Turn:
    """What an event does. `at` is now, aware; `sees` what the book knows of it."""
    if isinstance(event, Answered):
        return _answered(state, event, at), ()
    if isinstance(event, Turned):
        return _turned(state, event), ()
    if isinstance(event, Touched):
        return replace(state, last=at), ()
    if isinstance(event, Took):
        return _took(state, event), ()
    if isinstance(event, Undone):
        return replace(_put_down(state), last_code=""), ()
    state, before = _passed(state, at)
    if isinstance(event, Passed):
        return state, before
    if _bounced(state, event, at, sees):
        return state, before
    after, acts = _done(state, event, Now(at, sees), at)
    return after, before + acts


def _done(state: State, event: Event, now: Now, at: datetime) -> Turn:
    if isinstance(event, OfTheWall):
        heard = replace(state, last=at, last_code=str(event.code))
        return wall.of_the_wall(heard, event.code, now)
    if isinstance(event, Scanned):
        label = _label(state, now.hit)
        return _by_table(replace(state, last=at, last_code=now.hit.code), label, now)
    assert isinstance(event, Pushed)
    return _by_table(state, event.push, replace(now, text=event.text, when=event.at))


def _by_table(state: State, what: Happens, now: Now) -> Turn:
    row = row_for(state.rules, state.hand.waits, what)
    return row.rule(state, now) if row else nothing(state, now)


def _label(state: State, hit: Hit) -> Label:
    if hit.kind is Kind.ELSEWHERE:
        return Label.ELSEWHERE
    if hit.kind is Kind.STRANGE:
        return Label.STRANGE
    if state.asks_of_load(hit.code):
        return Label.LAST_LEFT_OUT
    if hit.kind is Kind.HOME:
        # Scanned once more it waits all the same: nothing is done to a home itself.
        return Label.HOME
    return Label.AGAIN if hit.code == state.hand.code else Label.PART


def _bounced(state: State, event: Event, at: datetime, sees: Snapshot) -> bool:
    """One scan that was read twice is one scan."""
    if isinstance(event, OfTheWall):
        code = str(event.code)
    elif isinstance(event, Scanned) and event.trigger:
        code = sees.hit.code if sees.hit else ""
    else:
        return False
    return bool(code) and code == state.last_code and _since(state.last, at) < COUNTS_ONCE


def _since(last: datetime | None, at: datetime) -> timedelta:
    return at - last if last else COUNTS_ONCE


def _passed(state: State, at: datetime) -> Turn:
    """A verb that nothing followed goes off, and that is heard; what was armed is disarmed."""
    state = grown_old(state, at)
    in_force = state.verb or state.face or state.place
    if state.last is None or at - state.last < state.idle or not in_force:
        return state, ()
    return quiet(state), (Act(What.VERB_OFF, verb=state.verb, text="idle"),)


def _turned(state: State, event: Turned) -> State:
    """Another page disarms; another piece empties the hand, and a keyboard's verb ends."""
    if event.tag != state.here:
        if state.keeps:
            state = quiet(state)
        return replace(empty(state), mode=event.mode, here=event.tag, at=None, wet=False)
    return state if event.mode is state.mode else replace(_put_down(state), mode=event.mode)


def _took(state: State, took: Took) -> State:
    """What is in hand besides a label; with another load nothing is left out of it yet."""
    if took.here not in (None, state.here):
        state = replace(empty(state), here=took.here or "")
    if took.load not in (None, state.load):
        state = wall.with_load(state, took.load or 0)
    cup = state.cup if took.cup is None else took.cup
    place = state.place if took.place is None else took.place
    return replace(state, cup=cup, place=place)


def _put_down(state: State) -> State:
    """What was answered no longer stands; the part stays shown."""
    state = disarmed(state)
    waits = Waits.SHOWN if state.hand.waits is Waits.RECORDED else state.hand.waits
    return replace(state, hand=replace(state.hand, waits=waits, fits=False, host=""))


# What an act was answered with

_OF_A_PART = frozenset(
    {What.SHOW, What.RECORD, What.SKIP, What.SEND_BACK, What.OUT, What.WHERE_HOME, What.HOME,
     What.LOAD_DONE, What.GO_TO, What.PUT, What.NO_MASK, What.OLD_FINISH, What.TRIED}
)  # fmt: skip
_SHOWS = frozenset({What.SHOW, What.GO_TO})
_LEAVES_THE_HAND = frozenset(
    {What.SAY, What.TELL, What.VERB_ON, What.VERB_OFF, What.CUP, What.PERSON, What.PLACE,
     What.HOME_WAITS, What.PROOF, What.OLD_FINISH_ASKED}
)  # fmt: skip


def _answered(state: State, event: Answered, at: datetime) -> State:
    act, said = event.act, event.outcome
    state = _took(state, event.took)
    if act.what is What.UNDO or act.what is What.REDO:
        return replace(_put_down(state), last_code="")
    if act.what not in _OF_A_PART:
        return state if act.what in _LEAVES_THE_HAND else _put_down(state)
    hand = _hand_after(state, event, at)
    state = replace(state, hand=hand)
    if act.what is What.LOAD_DONE and said.recorded:
        state = replace(state, load=0, left_out=())
    if said.recorded and act.what in (What.RECORD, What.SKIP):
        if state.keeps:
            return replace(state, run=(*state.run, act.code))
        state = replace(state, at=None, wet=False)
    return state


def _hand_after(state: State, event: Answered, at: datetime) -> Hand:
    """The hand, once it is known how the act was answered."""
    act, said, old = event.act, event.outcome, state.hand
    if said.answer is Answer.OTHER_JOB:
        return Hand(Waits.ELSEWHERE, said.code, said.tag, said.part, said.home, at)
    if act.what is What.LOAD_DONE:
        code, part = load_code(act.number), ""
    elif _is_ours(state, act, said):
        code, part = said.code or old.code or act.code, said.part
    elif said.part or said.home or act.what not in _SHOWS:
        of_here = old.tag in ("", state.here)
        waits = Waits.SHOWN if of_here else Waits.ELSEWHERE
        return replace(old, waits=waits, since=at, holds=(), lifted=())
    else:
        return Hand(Waits.STRANGE, act.code, since=at)
    chosen = not said.recorded
    return Hand(
        _waits_after(state, act, said),
        code,
        state.here if part else "",
        part,
        said.home or old.home,
        at,
        old.face if chosen else "",
        old.step if chosen else "",
        said.step or "",
        said.held,
        _still_meant(act, said),
        old.host if said.answer is not Answer.STOP else "",
        old.fits and said.recorded and said.answer is Answer.GO,
    )


def _still_meant(act: Act, said: Outcome) -> tuple[tuple[str, str], ...]:
    """The reasons that count when the same is asked for once more.

    One that named no hold lifted none where several were refused: it was given before they were
    read, and must not lift the last of them unseen.
    """
    if said.unconfirmed:
        return act.insists
    return tuple(pair for pair in act.insists if pair[0]) if said.held else ()


def _is_ours(state: State, act: Act, said: Outcome) -> bool:
    """About a part of the piece at work that was read well, whatever may be done to it now."""
    read = said.answer is Answer.GO or bool(said.step) or act.what not in _SHOWS
    return read and bool(said.part) and said.tag == state.here


def _waits_after(state: State, act: Act, said: Outcome) -> Waits:
    if said.recorded:
        return Waits.RECORDED
    if said.unconfirmed:
        return Waits.ASKED
    if said.holds:
        return Waits.HELD
    if act.what is What.WHERE_HOME and said.answer is not Answer.STOP:
        return Waits.ARMED
    ready = act.what in _SHOWS and act.text != NOT_ARMED and said.answer is Answer.GO and said.step
    return Waits.ARMED if ready and state.rules is Mode.BENCH else Waits.SHOWN
