"""What a label does on a page, rule by rule: what the acts say, and to which face."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from partsbench.core.bench.events import Hit, Kind, Snapshot, What
from partsbench.core.bench.labels import (
    REFUSED_AGAIN,
    Now,
    bring,
    bring_into,
    bring_or_show,
    fill_home,
    home_waits,
    in_hand,
    look_again,
    record,
    record_of_hand,
    refused_again,
    show,
    show_home,
    take_out,
    tell,
    tick,
)
from partsbench.core.bench.state import Hand, Mode, State, Waits
from partsbench.core.bench.wall import under_verb
from partsbench.core.said_often import NOTHING_RECORDED_YET
from partsbench.core.verbs import REASONS, VERBS, Key, reasons_for

NOW = datetime(2031, 3, 4, 19, 0, tzinfo=UTC)
HERE, D4, D9 = "K7Q4", "K7Q4-D04A?", "K7Q4-D09A?"
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


def hand(waits: Waits = Waits.ARMED, **held: object) -> Hand:
    return replace(in_hand(HIT, NOW, waits), **held)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("code", "load", "what", "number"),
    [(D4, 7, What.RECORD, 0), (D4, 0, What.RECORD, 0), ("load 7", 7, What.LOAD_DONE, 7),
     ("load 7", 8, What.RECORD, 0)],
)  # fmt: skip
def test_what_is_recorded_is_the_part_or_the_load_that_was_refused(
    code: str, load: int, what: What, number: int
) -> None:
    held = hand(code=code, step="wash", lifted=(("a", "so"),))
    act = record_of_hand(State(here=HERE, hand=held, load=load, left_out=(D9,)))
    assert (act.what, act.code, act.number, act.codes) == (what, code, number, (D9,))
    assert (act.step, act.confirmed, act.insists) == ("wash", True, (("a", "so"),))


@pytest.mark.parametrize(
    ("chosen", "of_the_wall", "recorded"),
    [("front", "", "front"), ("", "back", "back"), ("front", "back", "front"), ("", "", "")],
)
def test_a_record_is_of_the_face_that_was_chosen_else_of_the_wall(
    chosen: str, of_the_wall: str, recorded: str
) -> None:
    state = State(here=HERE, hand=hand(face=chosen), face=of_the_wall)
    after, (act,) = record(state, now())
    assert (act.face, after.face) == (recorded, "")


def test_a_tick_says_what_it_did_and_that_nothing_is_recorded() -> None:
    load = State(here=HERE, mode=Mode.LOAD, load=3)
    off, (act,) = tick(load, now())
    assert act.says == f"D4: left out. {NOTHING_RECORDED_YET}"
    _, (act,) = tick(off, now())
    assert act.says == f"D4: coated. {NOTHING_RECORDED_YET}"


@pytest.mark.parametrize(
    ("part", "home", "shows"), [("D4", 0, True), ("", 4, True), ("", 0, False)]
)
def test_only_what_is_in_the_hand_is_looked_at_again(part: str, home: int, shows: bool) -> None:
    state = State(here=HERE, hand=hand(part=part, home=home))
    _, (act,) = look_again(state, now())
    assert (act.what is What.SHOW) is shows
    _, again = refused_again(state, now())
    assert [a.text for a in again] == ([REFUSED_AGAIN] if shows else [])


def test_a_label_that_is_shown_keeps_the_face_of_the_wall_and_a_strange_one_is_told() -> None:
    state = State(here=HERE, face="front", hand=hand())
    after, (act,) = show(state, now())
    assert (act.what, act.face, after.hand.waits) == (What.SHOW, "front", Waits.SHOWN)
    for kind, waits in ((Kind.ELSEWHERE, Waits.ELSEWHERE), (Kind.STRANGE, Waits.STRANGE)):
        after, (act,) = tell(state, now(kind=kind))
        assert (act.what, after.hand.waits) == (What.TELL, waits)


HOME = Hit(Kind.HOME, "K7Q4-H04A?", HERE, home=4)
AT_RETURN = State(here=HERE, mode=Mode.RETURN)


def at_home() -> Now:
    return Now(NOW, Snapshot(1, HOME))


def test_a_part_goes_home_by_its_own_second_scan_or_by_the_label_of_a_home() -> None:
    shown, (act,) = show_home(AT_RETURN, now())
    assert (act.what, shown.hand.waits, shown.hand.host) == (What.WHERE_HOME, Waits.ARMED, D4)
    assert bring(shown, now())[1][0].what is What.HOME
    _, (act,) = bring_into(shown, at_home())
    assert (act.what, act.code, act.onto) == (What.HOME, D4, HOME.code)
    other = replace(shown, hand=replace(shown.hand, host=D9))
    waits, (act,) = bring_into(other, at_home())
    assert (act.what, waits.hand.waits, waits.hand.code) == (
        What.HOME_WAITS, Waits.HOME, HOME.code,
    )  # fmt: skip


def test_a_home_that_waits_takes_the_next_part() -> None:
    waits, _ = home_waits(AT_RETURN, at_home())
    filled, (act,) = fill_home(waits, now())
    assert (act.what, act.code, act.onto) == (What.HOME, D4, HOME.code)
    assert (filled.hand.code, filled.hand.host) == (D4, D4)


@pytest.mark.parametrize(
    ("waits", "carried", "host", "sits_on", "act"),
    [
        (Waits.ARMED, {D9}, "", set(), (What.HOME, D9, D4)),
        (Waits.SHOWN, {D9}, "", set(), (What.WHERE_HOME, D4, "")),
        (Waits.ARMED, set(), "", set(), (What.WHERE_HOME, D4, "")),
        (Waits.RECORDED, set(), D9, {D9}, (What.HOME, D4, D9)),
        (Waits.RECORDED, set(), D9, {"other"}, (What.WHERE_HOME, D4, "")),
        (Waits.RECORDED, set(), "", {D9}, (What.WHERE_HOME, D4, "")),
    ],
)
def test_a_pull_goes_home_with_its_drawer_and_after_it(
    waits: Waits, carried: set[str], host: str, sits_on: set[str], act: tuple[What, str, str]
) -> None:
    state = replace(AT_RETURN, hand=hand(waits, code=D9, host=host))
    sees = Snapshot(1, replace(HIT, sits_on=frozenset(sits_on)), frozenset(carried))
    after, (done,) = bring_or_show(state, Now(NOW, sees))
    assert (done.what, done.code, done.onto) == act
    if act == (What.HOME, D9, D4):
        assert (after.hand.code, after.hand.host) == (D9, D4)
    elif act == (What.HOME, D4, D9):
        assert (after.hand.code, after.hand.host) == (D4, D9)


@pytest.mark.parametrize("waits", [Waits.ARMED, Waits.RECORDED, Waits.SHOWN])
@pytest.mark.parametrize("part", [D4, D9])
def test_a_pull_with_another_drawer_is_asked_for_and_not_shown(waits: Waits, part: str) -> None:
    """The book is asked whether the part goes onto that drawer, and says no."""
    onto = D9 if part == D4 else D4
    state = replace(AT_RETURN, hand=hand(waits, code=D9, host=D9))
    after, (act,) = bring_or_show(state, Now(NOW, Snapshot(1, HIT, mismatch=(part, onto))))
    if waits is Waits.SHOWN:
        assert (act.what, act.code) == (What.WHERE_HOME, D4), "what is no longer armed is no pair"
    else:
        assert (act.what, act.code, act.onto) == (What.HOME, part, onto)
        assert after.hand.code == part


def test_what_is_taken_out_is_out_at_once() -> None:
    after, (act,) = take_out(State(here=HERE, mode=Mode.TEARDOWN), now())
    assert (act.what, act.code, after.hand.waits) == (What.OUT, D4, Waits.SHOWN)
