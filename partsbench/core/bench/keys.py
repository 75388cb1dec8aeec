"""What keys and buttons do: always to the label that was scanned last and is shown."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from partsbench.core.bench.events import Act, What
from partsbench.core.bench.labels import (
    Now,
    Turn,
    in_hand,
    look_again,
    nothing,
    record_of_hand,
)
from partsbench.core.bench.state import Hand, State, Waits, empty, load_code, quiet
from partsbench.core.finish.holds import OLD_FINISH_RULE
from partsbench.core.verbs import KEEP

NOT_ARMED = "not armed"
KEEP_OFF = "off"
"""In place of a step: KEEP RECORDING goes off."""


def leave(state: State, now: Now) -> Turn:
    """the hand is empty, and nothing is stated"""
    return replace(empty(state), at=None, wet=False, face=""), ()


def go_to(state: State, now: Now) -> Turn:
    """its piece is at work, and it is shown there"""
    hand = state.hand
    state = replace(quiet(state), here=hand.tag, hand=Hand(), left_out=())
    return state, (Act(What.GO_TO, hand.code, text=hand.tag),)


def held_enter(state: State, now: Now) -> Turn:
    """ask what is on it, where that holds it; else look again"""
    if OLD_FINISH_RULE in state.hand.holds:
        return state, (Act(What.OLD_FINISH_ASKED, state.hand.code),)
    return look_again(state, now)


def skip(state: State, now: Now) -> Turn:
    """leave out the step in the headline, if it may be"""
    hand = state.hand
    if not hand.ours:
        return nothing(state, now)
    act = Act(What.SKIP, hand.code, face=hand.face or state.face, step=hand.step or hand.due)
    return replace(state, face=""), (act,)


def insist(state: State, now: Now) -> Turn:
    """the gravest hold is lifted with that reason; record it once none is left"""
    hand = state.hand
    rule = hand.holds[0] if hand.holds else ""
    lifted = (*hand.lifted, (rule, now.text))
    state = replace(state, hand=replace(hand, lifted=lifted))
    return state, (replace(record_of_hand(state), text=now.text),)


def face(state: State, now: Now) -> Turn:
    """only that face; show it again"""
    return look_again(replace(state, hand=replace(state.hand, face=now.text, step="")), now)


def step(state: State, now: Now) -> Turn:
    """that step of those that may be done; show it again"""
    return look_again(replace(state, hand=replace(state.hand, step=now.text)), now)


def wet(state: State, now: Now) -> Turn:
    """it is sanded wet, or it is not; show it again"""
    state = replace(state, wet=not state.wet)
    return look_again(state, now) if state.hand.ours else (state, ())


def at(state: State, now: Now) -> Turn:
    """the next record is of that time"""
    return replace(state, at=now.when), ()


def keep(state: State, now: Now) -> Turn:
    """KEEP RECORDING is in force, or off: each part scanned is recorded so, once"""
    if now.text == KEEP_OFF:
        off = Act(What.VERB_OFF, verb=state.verb)
        return replace(quiet(state), at=None), (off,)
    on = replace(quiet(state), verb=KEEP, keep_step=now.text, last=now.at)
    return on, (Act(What.VERB_ON, verb=KEEP, says=KEEP.says),)


def turn_to(state: State, now: Now) -> Turn:
    """show it, not armed"""
    state = replace(state, hand=in_hand(now.hit, now.at))
    return state, (Act(What.SHOW, now.hit.code, text=NOT_ARMED),)


def idle(state: State, now: Now) -> Turn:
    """a verb goes off after so many minutes with nothing scanned"""
    return replace(state, idle=timedelta(minutes=float(now.text))), ()


# Teardown


def choose(state: State, now: Now) -> Turn:
    """the part at hand is out; another one is first shown"""
    hit, hand = now.hit, state.hand
    at_hand = hand.code if hand.waits is Waits.ARMED else _to_pull(now)
    if hit.code == at_hand and hand.waits not in (Waits.ELSEWHERE, Waits.STRANGE):
        return replace(state, hand=in_hand(hit, now.at)), (Act(What.OUT, hit.code),)
    return replace(state, hand=in_hand(hit, now.at, Waits.ARMED)), ()


def pull(state: State, now: Now) -> Turn:
    """the one that was chosen is out, else the next one to pull"""
    hit = now.sees.to_pull
    if state.hand.home and not state.hand.part:
        # It was stopped at, and Enter may only mean that this was read.
        return empty(state), (Act(What.SAY, says="A home was scanned last, so nothing is "
                                  "recorded. Enter once more: the next part is out."),)  # fmt: skip
    if state.hand.waits is Waits.ARMED:
        code = state.hand.code
    elif hit is not None:
        code = hit.code
        state = replace(state, hand=in_hand(hit, now.at))
    else:
        return state, (Act(What.GO_TO, text=""),)
    return state, (Act(What.OUT, code),)


def stays(state: State, now: Now) -> Turn:
    """the one that was chosen stays in, else the next one to pull"""
    code = state.hand.code if state.hand.waits is Waits.ARMED else _to_pull(now)
    if not code:
        return state, ()
    return empty(state), (Act(What.STAYS, code),)


def rest_stays(state: State, now: Now) -> Turn:
    """all that is left stays in"""
    return empty(state), (Act(What.REST),)


def _to_pull(now: Now) -> str:
    return now.sees.to_pull.code if now.sees.to_pull else ""


# Return


def prove(state: State, now: Now) -> Turn:
    """the proof sheet, when everything is home"""
    return (state, (Act(What.PROOF),)) if now.sees.complete else nothing(state, now)


def fit(state: State, now: Now) -> Turn:
    """how it runs"""
    if not state.hand.fits:
        return nothing(state, now)
    act = Act(What.FIT, state.hand.code, text=now.text)
    return replace(state, hand=replace(state.hand, fits=False)), (act,)


def eliminate(state: State, now: Now) -> Turn:
    """the rest is home by elimination"""
    return empty(state), (Act(What.REST),)


# Load


def load(state: State, now: Now) -> Turn:
    """record the load that is taken; without one take the next"""
    if not state.load:
        return state, (Act(What.NEXT_LOAD),)
    hand = state.hand
    mine = hand.code == load_code(state.load)
    confirmed = mine and hand.waits is Waits.ASKED
    act = Act(What.LOAD_DONE, load_code(state.load), number=state.load, codes=state.left_out,
              confirmed=confirmed, insists=hand.lifted if mine else ())  # fmt: skip
    return state, (act,)


# Without a row


def not_now(state: State, now: Now) -> Turn:
    """told: what was scanned last is not of this piece"""
    return state, (Act(What.SAY, says="What was scanned last is no part of this piece: scan one, "
                                      "or press Esc."),)  # fmt: skip
