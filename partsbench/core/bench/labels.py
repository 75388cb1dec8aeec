"""What a label does on each page while no verb is in force."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

from partsbench.core.bench.events import Act, Hit, Kind, Snapshot, What
from partsbench.core.bench.state import Hand, State, Waits, load_code
from partsbench.core.said_often import NOTHING_RECORDED_YET
from partsbench.core.wording import sentences

Turn = tuple[State, tuple[Act, ...]]


@dataclass(frozen=True, slots=True)
class Now:
    """The event at hand, for a rule: when, what the book knows, and what was pressed or said."""

    at: datetime
    sees: Snapshot
    text: str = ""
    when: datetime | None = None

    @property
    def hit(self) -> Hit:
        assert self.sees.hit is not None
        return self.sees.hit


BenchRule = Callable[[State, Now], Turn]


def in_hand(hit: Hit, now: datetime, waits: Waits = Waits.SHOWN) -> Hand:
    """The label just scanned, in place of whatever was in the hand."""
    return Hand(waits, hit.code, hit.tag, hit.part, hit.home, now, fits=hit.fits)


def show(state: State, now: Now) -> Turn:
    """show it; nothing is recorded"""
    state = replace(state, hand=in_hand(now.hit, now.at))
    return state, (Act(What.SHOW, now.hit.code, face=state.face),)


def tell(state: State, now: Now) -> Turn:
    """tell what it is; what was in the hand is no longer armed"""
    waits = Waits.ELSEWHERE if now.hit.kind is Kind.ELSEWHERE else Waits.STRANGE
    state = replace(state, hand=in_hand(now.hit, now.at, waits))
    return state, (Act(What.TELL, now.hit.code, answer=now.hit.says),)


def record(state: State, now: Now) -> Turn:
    """record the step that is shown"""
    return replace(state, face=""), (record_of_hand(state),)


def record_of_hand(state: State) -> Act:
    """The record of what is in the hand: of a part, or of the load that was refused or asked."""
    hand = state.hand
    of_load = hand.code == load_code(state.load)
    return Act(What.LOAD_DONE if of_load else What.RECORD, hand.code,
               face=hand.face or state.face, step=hand.step, number=state.load if of_load else 0,
               codes=state.left_out, confirmed=True, insists=hand.lifted)  # fmt: skip


def look_again(state: State, now: Now) -> Turn:
    """show it again"""
    if not (state.hand.part or state.hand.home):
        return nothing(state, now)
    hand = replace(state.hand, waits=Waits.SHOWN, since=now.at, holds=(), lifted=())
    act = Act(What.SHOW, hand.code, face=hand.face or state.face, step=hand.step)
    return replace(state, hand=hand), (act,)


def nothing(state: State, now: Now) -> Turn:
    """it is told, and nothing is changed"""
    return state, (Act(What.SAY, says="Scan a part first."),)


REFUSED_AGAIN = "refused again"


def refused_again(state: State, now: Now) -> Turn:
    """say once more what refuses the record; show it again once nothing does"""
    shown, acts = look_again(state, now)
    return shown, tuple(replace(act, text=REFUSED_AGAIN) for act in acts if act.code)


# Teardown: the page itself is the verb


def take_out(state: State, now: Now) -> Turn:
    """it is out"""
    state = replace(state, hand=in_hand(now.hit, now.at))
    return state, (Act(What.OUT, now.hit.code),)


# Return


def show_home(state: State, now: Now) -> Turn:
    """show its home; again, Enter or its home's label brings it home"""
    hand = replace(in_hand(now.hit, now.at, Waits.ARMED), host=now.hit.code)
    return replace(state, hand=hand), (Act(What.WHERE_HOME, now.hit.code),)


def bring(state: State, now: Now) -> Turn:
    """it is home"""
    return state, (Act(What.HOME, state.hand.code),)


def home_waits(state: State, now: Now) -> Turn:
    """the home waits for the part that goes in"""
    hand = in_hand(now.hit, now.at, Waits.HOME)
    return replace(state, hand=hand), (Act(What.HOME_WAITS, now.hit.code),)


def bring_into(state: State, now: Now) -> Turn:
    """a part whose home was shown went into that home; else the home waits"""
    if state.hand.host != state.hand.code:
        return home_waits(state, now)
    return state, (Act(What.HOME, state.hand.code, onto=now.hit.code),)


def fill_home(state: State, now: Now) -> Turn:
    """the part went into the home that waited"""
    onto = state.hand.code
    hand = replace(in_hand(now.hit, now.at), host=now.hit.code)
    return replace(state, hand=hand), (Act(What.HOME, now.hit.code, onto=onto),)


def bring_or_show(state: State, now: Now) -> Turn:
    """with the drawer that it sits on: it is home; with another drawer: that is refused; else show
    its home"""
    hand = state.hand
    if now.sees.mismatch and hand.waits in (Waits.ARMED, Waits.RECORDED):
        code, onto = now.sees.mismatch
        held = hand if code == hand.code else in_hand(now.hit, now.at)
        return replace(state, hand=held), (Act(What.HOME, code, onto=onto),)
    if hand.waits is Waits.ARMED and hand.code in now.sees.carried:
        state = replace(state, hand=replace(hand, host=now.hit.code))
        return state, (Act(What.HOME, hand.code, onto=now.hit.code),)
    if hand.host and hand.host in now.hit.sits_on:
        mine = replace(in_hand(now.hit, now.at), host=hand.host)
        return replace(state, hand=mine), (Act(What.HOME, now.hit.code, onto=hand.host),)
    return show_home(state, now)


# Load: a tick is no record


def tick(state: State, now: Now) -> Turn:
    """of the load: its tick goes off or on; nothing is recorded"""
    hit = now.hit
    if not (state.load and hit.in_load):
        return show(state, now)
    out = tuple(c for c in state.left_out if c != hit.code)
    coated = hit.code in state.left_out
    state = replace(state, hand=in_hand(hit, now.at), left_out=out if coated else (*out, hit.code))
    word = "coated" if coated else "left out"
    out_now, coated_now = f"{hit.part}: left out.", f"{hit.part}: coated."
    says = sentences(coated_now if coated else out_now, NOTHING_RECORDED_YET)
    return state, (Act(What.SAY, hit.code, text=word, says=says),)
