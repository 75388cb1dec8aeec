"""What a label does on a page, rule by rule: what the acts say, and to which face."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from partsbench.core.bench.events import Hit, Kind, Snapshot, What
from partsbench.core.bench.labels import Now, in_hand, look_again, tick
from partsbench.core.bench.state import Mode, State, Waits
from partsbench.core.bench.wall import under_verb
from partsbench.core.verbs import REASONS, VERBS, Key, reasons_for

NOW = datetime(2031, 3, 4, 19, 0, tzinfo=UTC)
HERE, D4 = "K7Q4", "K7Q4-D04A?"
HIT = Hit(Kind.PART, D4, HERE, "D4", in_load=True)


def now(**hit: object) -> Now:
    return Now(NOW, Snapshot(1, replace(HIT, **hit)))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("chosen", "of_the_wall", "shown"),
    [("front", "", "front"), ("", "back", "back"), ("front", "back", "front"), ("", "", "")],
)
def test_what_is_shown_again_is_of_the_face_that_was_chosen_else_of_the_wall(
    chosen: str, of_the_wall: str, shown: str
) -> None:
    hand = replace(in_hand(HIT, NOW, Waits.HELD), face=chosen, step="wash", holds=("not dry yet",))
    state, (act,) = look_again(State(here=HERE, hand=hand, face=of_the_wall), now())
    assert (act.what, act.face, act.step) == (What.SHOW, shown, "wash")
    assert (state.hand.waits, state.hand.holds) == (Waits.SHOWN, ())


def test_a_tick_goes_off_and_on_of_a_face_in_the_load_that_is_taken() -> None:
    load = State(here=HERE, mode=Mode.LOAD, load=3)
    off, (act,) = tick(load, now())
    assert (act.what, act.text, off.left_out) == (What.SAY, "left out", (D4,))
    on, (act,) = tick(off, now())
    assert (act.text, on.left_out) == ("coated", ())


@pytest.mark.parametrize(("load", "in_load"), [(0, True), (3, False), (0, False)])
def test_what_is_in_no_load_that_is_taken_is_shown(load: int, in_load: bool) -> None:
    state = State(here=HERE, mode=Mode.LOAD, load=load)
    after, (act,) = tick(state, now(in_load=in_load))
    assert (act.what, after.left_out) == (What.SHOW, ())


@pytest.mark.parametrize(("key", "gives"), [(Key.INSIST, True), (Key.SEND_BACK, False)])
def test_a_reason_lifts_a_hold_under_insist_only(key: Key, gives: bool) -> None:
    reason = reasons_for(key)[0]
    verb = next(v for v in VERBS if v.key is key)
    state = State(here=HERE, verb=verb, reason=reason, hand=in_hand(HIT, NOW))
    _, (act,) = under_verb(state, now())
    assert act.insists == ((("", reason.name),) if gives else ())


def test_a_verb_that_stays_lifts_nothing_by_a_reason_that_still_stands() -> None:
    verb = next(v for v in VERBS if v.key is Key.DO)
    state = State(here=HERE, verb=verb, reason=REASONS[0], hand=in_hand(HIT, NOW))
    _, (act,) = under_verb(state, now())
    assert act.insists == ()
