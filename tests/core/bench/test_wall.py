"""Codes of the wall one by one, and what a label does under each verb."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from partsbench.core.bench.events import Act, Hit, Kind, Snapshot, What
from partsbench.core.bench.labels import Now, in_hand
from partsbench.core.bench.state import Mode, State, Waits, load_code
from partsbench.core.bench.wall import confirm, end_load, of_the_wall, under_verb
from partsbench.core.verbs import FACES, KEEP, VERBS, Key, Sort, WallCode, reasons_for
from tests.support.wall import verb_named

NOW = datetime(2031, 3, 4, 19, 0, tzinfo=UTC)
HERE, D4, D9 = "K7Q4", "K7Q4-D04A?", "K7Q4-D09A?"
HIT = Hit(Kind.PART, D4, HERE, "D4")
AT_ONCE = {
    "UNDO": What.UNDO, "REDO": What.REDO, "NEXT LOAD": What.NEXT_LOAD, "RAGS FLAT": What.RAGS,
    "RAGS IN WATER": What.RAGS, "CUP STRAINED": What.STRAINED, "CUP EMPTY": What.CUP_EMPTY,
    "START WORK": What.WORK_STARTS, "STOP WORK": What.WORK_ENDS, "CAMERA": What.CAMERA,
}  # fmt: skip
FOR_PARTS = {
    Key.DO: What.RECORD, Key.SEND_BACK: What.SEND_BACK, Key.SKIP: What.SKIP, Key.OUT: What.OUT,
    Key.HOME: What.HOME, Key.PIECE: What.PIECE, Key.NO_MASK: What.NO_MASK,
    Key.OLD_FINISH: What.OLD_FINISH, Key.TRIED_READY: What.TRIED, Key.TRIED_NOT: What.TRIED,
}  # fmt: skip


def scanned(state: State, sort: Sort, number: int) -> tuple[State, Act]:
    after, (act,) = of_the_wall(state, WallCode(sort, number), Now(NOW, Snapshot()))
    return after, act


def verb(state: State, name: str) -> tuple[State, Act]:
    return scanned(state, Sort.VERB, verb_named(name).number)


def under(state: State, hit: Hit = HIT) -> tuple[State, Act]:
    after, (act,) = under_verb(state, Now(NOW, Snapshot(1, hit)))
    return after, act


def holding(waits: Waits = Waits.SHOWN, code: str = D4, **hand: object) -> State:
    return State(here=HERE, hand=replace(in_hand(HIT, NOW, waits), code=code, **hand))  # type: ignore[arg-type]


@pytest.mark.parametrize(("name", "what"), AT_ONCE.items())
def test_what_needs_no_part_is_done_at_once_and_leaves_the_verb_in_force(
    name: str, what: What
) -> None:
    state = replace(holding(Waits.HELD, holds=("a",)), verb=verb_named("SANDED"), cup=3)
    after, act = verb(state, name)
    assert (act.what, act.number, act.verb) == (what, 3, verb_named(name))
    assert after.verb == verb_named("SANDED")
    assert (after.hand.waits, after.hand.holds) == (Waits.SHOWN, ())


@pytest.mark.parametrize("name", [v.name for v in VERBS if v.key in FOR_PARTS])
def test_a_verb_does_its_own_to_each_part_and_stays_if_it_does(name: str) -> None:
    its = verb_named(name)
    on, act = verb(replace(State(here=HERE), face="front"), name)
    assert (act.what, act.says, on.verb, on.face) == (What.VERB_ON, its.says, its, "front")
    reason = reasons_for(Key.SEND_BACK)[0] if its.key is Key.SEND_BACK else None
    after, act = under(replace(on, reason=reason))
    assert (act.what, act.code, act.verb, act.face) == (FOR_PARTS[its.key], D4, its, "front")
    assert (act.confirmed, act.insists) == (False, ())
    assert after.face == "" and after.hand.code == D4
    assert (after.verb is its) is its.stays


def test_under_home_a_home_waits_for_what_goes_in_and_a_part_alone_goes_to_its_own() -> None:
    home = Hit(Kind.HOME, "K7Q4-H01A?", HERE, "", 1)
    on = replace(State(here=HERE), verb=verb_named("HOME"))
    waiting, act = under(on, home)
    assert (act.what, act.code) == (What.HOME_WAITS, home.code)
    assert (waiting.hand.waits, waiting.hand.home) == (Waits.HOME, 1)
    filled, act = under(waiting)
    assert (act.what, act.code, act.onto) == (What.HOME, D4, home.code)
    assert filled.verb is on.verb and filled.hand.waits is not Waits.HOME
    _, act = under(filled)
    assert (act.what, act.code, act.onto) == (What.HOME, D4, "")


def test_no_other_verb_waits_at_a_home() -> None:
    home = Hit(Kind.HOME, "K7Q4-H01A?", HERE, "", 1)
    _, act = under(replace(State(here=HERE), verb=verb_named("OUT")), home)
    assert act.what is What.OUT


@pytest.mark.parametrize(("sort", "what", "kept"), [
    (Sort.CUP, What.CUP, "cup"), (Sort.PERSON, What.PERSON, "person"),
    (Sort.PLACE, What.PLACE, "place"), (Sort.LOAD, What.LOAD, "load"),
])  # fmt: skip
def test_cup_person_place_and_load_are_taken_by_their_numbers(
    sort: Sort, what: What, kept: str
) -> None:
    state = replace(holding(Waits.ARMED), left_out=(D9,), verb=verb_named("SANDED"))
    after, act = scanned(state, sort, 5)
    assert (act.what, act.number, getattr(after, kept)) == (what, 5, 5)
    assert after.left_out == (() if sort in (Sort.LOAD, Sort.PLACE) else (D9,))
    assert (after.verb is None) is (sort is Sort.PLACE)


def test_a_face_of_the_wall_narrows_and_one_that_is_none_is_told() -> None:
    after, act = scanned(State(), Sort.FACE, 1)
    assert (after.face, act.face, act.says) == (FACES[0],) * 2 + (
        "Only the front of the next part.",
    )
    after, act = scanned(State(face="front"), Sort.FACE, 300)
    assert (after.face, act.says) == ("", "No face of the wall has that number.")


def test_a_number_that_no_verb_or_reason_has_is_told() -> None:
    for sort in (Sort.VERB, Sort.REASON):
        state = replace(State(), verb=verb_named("INSIST"))
        after, act = scanned(state, sort, 300)
        assert (after, act.what) == (state, What.SAY)


@pytest.mark.parametrize(("kind", "key", "told"), [
    (Kind.ELSEWHERE, Key.OUT, True), (Kind.ELSEWHERE, Key.PIECE, False),
    (Kind.ELSEWHERE, None, False), (Kind.STRANGE, Key.OUT, True), (Kind.STRANGE, Key.PIECE, True),
    (Kind.STRANGE, None, True), (Kind.PART, Key.OUT, False),
])  # fmt: skip
def test_a_part_of_another_job_is_told_but_for_a_rack_and_its_own_piece(
    kind: Kind, key: Key | None, told: bool
) -> None:
    its = next((v for v in VERBS if v.key is key), None)
    after, act = under(State(here=HERE, verb=its, place=2), replace(HIT, kind=kind))
    assert (act.what is What.TELL) is told
    if told:
        assert after.hand.waits is (Waits.ELSEWHERE if kind is Kind.ELSEWHERE else Waits.STRANGE)
    elif its is None:
        assert (act.what, act.number) == (What.PUT, 2)


@pytest.mark.parametrize("name", ["INSIST", "SENT BACK"])
@pytest.mark.parametrize("same", [True, False])
def test_a_part_before_its_reason_is_told_and_another_one_is_then_meant(
    name: str, same: bool
) -> None:
    held = replace(holding(Waits.HELD, D4 if same else D9, holds=("a",)), verb=verb_named(name))
    after, act = under(held)
    assert (act.what, act.says) == (What.SAY, f"D4. {name}: scan why first.")
    assert (after.hand.waits is Waits.HELD) is same
    assert after.hand.code == D4


@pytest.mark.parametrize(("waits", "code", "confirmed"), [
    (Waits.ASKED, D4, True), (Waits.ASKED, D9, False), (Waits.HELD, D4, False),
])  # fmt: skip
def test_a_part_that_was_asked_about_confirms_by_its_own_second_scan(
    waits: Waits, code: str, confirmed: bool
) -> None:
    state = replace(holding(waits, code, lifted=(("a", "so"),)), verb=verb_named("SANDED"))
    _, act = under(state)
    assert (act.confirmed, bool(act.insists)) == (confirmed, confirmed)


def test_enter_confirms_what_the_verb_asked() -> None:
    state = replace(holding(Waits.ASKED), verb=verb_named("SANDED"))
    _, (act,) = confirm(state, Now(NOW, Snapshot()))
    assert (act.what, act.code, act.confirmed) == (What.RECORD, D4, True)


def test_under_keep_recording_a_part_of_the_run_is_told_and_its_step_is_kept() -> None:
    state = State(here=HERE, verb=KEEP, keep_step="wash", run=(D9,))
    _, act = under(state)
    assert (act.what, act.step) == (What.RECORD, "wash")
    _, act = under(replace(state, run=(D9, D4)))
    assert (act.what, act.says) == (What.SAY, "D4 is recorded in this run already.")


@pytest.mark.parametrize(("load", "ends"), [(7, What.LOAD_DONE), (0, What.VERB_OFF)])
@pytest.mark.parametrize("of", [None, "ALL EXCEPT", "SANDED"])
def test_end_records_a_load_unless_another_verb_is_to_end(
    load: int, ends: What, of: str | None
) -> None:
    its = verb_named(of) if of else None
    state = State(here=HERE, load=load, verb=its, left_out=(D9,))
    after, act = verb(state, "END")
    other = of == "SANDED"
    assert act.what is (What.VERB_OFF if other else ends)
    assert after.verb is None
    if act.what is What.LOAD_DONE:
        assert (act.number, act.codes, after.left_out) == (7, (D9,), (D9,))
    else:
        assert act.verb is its and after.left_out == ()


@pytest.mark.parametrize(("count", "left_out", "done"), [
    ("ALL EXCEPT 1", (), True), ("ALL EXCEPT 2", (), False), ("ALL EXCEPT 2", (D9,), True),
    ("ALL EXCEPT 3", (D9,), False), ("ALL EXCEPT", (D9,), False), ("ALL EXCEPT 2", (D4,), False),
])  # fmt: skip
def test_all_except_is_done_with_as_many_as_it_takes(
    count: str, left_out: tuple[str, ...], done: bool
) -> None:
    state = State(here=HERE, load=7, verb=verb_named(count), left_out=left_out)
    after, act = under(state)
    assert (act.what is What.LOAD_DONE) is done
    codes = left_out if D4 in left_out else (*left_out, D4)
    assert after.left_out == codes
    if not done:
        assert act.says == f"D4. {count}: {len(codes)} left out. END records the others."


def test_the_last_one_left_out_once_more_confirms_the_load() -> None:
    state = replace(holding(Waits.ASKED, load_code(7), lifted=(("a", "so"),)), load=7,
                    left_out=(D9, D4), verb=verb_named("ALL EXCEPT"))  # fmt: skip
    _, act = under(state)
    assert (act.what, act.confirmed, act.insists) == (What.LOAD_DONE, True, (("a", "so"),))
    _, (act,) = end_load(replace(state, verb=None), Now(NOW, Snapshot()))
    assert (act.confirmed, act.codes) == (True, (D9, D4))
    _, act = verb(replace(state, hand=replace(state.hand, waits=Waits.HELD)), "END")
    assert (act.confirmed, act.insists) == (False, ())


@pytest.mark.parametrize(("code", "load", "what"), [
    (D4, 7, What.RECORD), (load_code(7), 7, What.LOAD_DONE), (load_code(7), 8, What.RECORD),
])  # fmt: skip
def test_a_reason_records_what_was_held_part_or_load(code: str, load: int, what: What) -> None:
    held = holding(Waits.HELD, code, holds=("b", "c"), lifted=(("a", "so"),), step="wash")
    state = replace(held, verb=verb_named("INSIST"), load=load, face="back", left_out=(D9,))
    after, act = scanned(state, Sort.REASON, reasons_for(Key.INSIST)[0].number)
    name = reasons_for(Key.INSIST)[0].name
    assert (act.what, act.code, act.face, act.step) == (what, code, "back", "wash")
    assert act.insists == after.hand.lifted == (("a", "so"), ("b", name))
    assert not act.confirmed
    assert (after.verb, after.left_out) == (None, (D9,))


def test_insist_keeps_what_was_refused_in_the_hand_and_other_verbs_do_not() -> None:
    held = replace(holding(Waits.HELD, holds=("a",)), left_out=(D9,))
    on, _ = verb(held, "INSIST")
    assert (on.hand, on.left_out) == (held.hand, (D9,))
    on, _ = verb(held, "SANDED")
    assert (on.hand.code, on.left_out) == ("", ())
    armed, _ = verb(holding(Waits.ARMED), "INSIST")
    assert armed.hand.waits is Waits.SHOWN, "what was only shown is not refused"


@pytest.mark.parametrize(
    ("before", "name", "ended"),
    [("DONE", "INSIST", "DONE"), ("INSIST", "INSIST", ""), ("DONE", "SANDED", ""),
     ("", "INSIST", "")],
)  # fmt: skip
def test_insist_names_the_verb_that_it_ends(before: str, name: str, ended: str) -> None:
    state = replace(holding(Waits.HELD), verb=verb_named(before) if before else None)
    on, act = verb(state, name)
    assert (on.verb, act.text) == (verb_named(name), ended)


def test_the_rules_of_a_page_come_back_when_the_verb_goes() -> None:
    state = State(Mode.RETURN, HERE, verb=verb_named("SANDED"), place=2)
    off, act = verb(state, "VERB OFF")
    assert (act.what, act.verb, off.rules) == (What.VERB_OFF, verb_named("SANDED"), Mode.RETURN)
