"""What a key or button does to what is in the hand, key by key."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from partsbench.core.bench import keys
from partsbench.core.bench.events import Act, Hit, Kind, Snapshot, What
from partsbench.core.bench.labels import Now, in_hand
from partsbench.core.bench.state import Mode, State, Waits, load_code
from partsbench.core.finish.holds import EARLY_RULE, OLD_FINISH_RULE
from partsbench.core.verbs import KEEP, VERBS, Key

NOW = datetime(2031, 3, 4, 19, 0, tzinfo=UTC)
HERE, D4, D9 = "K7Q4", "K7Q4-D04A?", "K7Q4-D09A?"
HIT, NEXT = Hit(Kind.PART, D4, HERE, "D4"), Hit(Kind.PART, D9, HERE, "D9")
NOTHING_IN_HAND = "Scan a part first."


def holding(waits: Waits = Waits.SHOWN, mode: Mode = Mode.BENCH, **hand: object) -> State:
    held = replace(in_hand(HIT, NOW, waits), **hand)  # type: ignore[arg-type]
    return State(mode, HERE, held)


def sees(hit: Hit | None = None, text: str = "", **known: object) -> Now:
    return Now(NOW, Snapshot(1, hit, **known), text)  # type: ignore[arg-type]


EMPTY = State(here=HERE)


def told(acts: tuple[Act, ...]) -> str:
    (act,) = acts
    assert act.what is What.SAY
    return act.says


def test_esc_empties_the_hand_and_takes_back_all_that_was_stated() -> None:
    full = replace(holding(Waits.ARMED), at=NOW, wet=True, face="front", cup=3)
    after, acts = keys.leave(full, sees())
    assert (after, acts) == (replace(EMPTY, cup=3), ())


def test_the_piece_of_a_part_of_another_job_is_gone_to() -> None:
    verb = next(v for v in VERBS if v.key is Key.OUT)
    state = replace(holding(Waits.ELSEWHERE, tag="XE9Q"), verb=verb, left_out=(D9,))
    after, acts = keys.go_to(state, sees())
    assert after == State(here="XE9Q")
    assert acts == (Act(What.GO_TO, D4, text="XE9Q"),)


def test_enter_asks_what_is_on_it_only_where_that_holds_it() -> None:
    asks = holding(Waits.HELD, holds=(EARLY_RULE, OLD_FINISH_RULE))
    assert keys.held_enter(asks, sees()) == (asks, (Act(What.OLD_FINISH_ASKED, D4),))
    _, (act,) = keys.held_enter(holding(Waits.HELD, holds=(EARLY_RULE,)), sees())
    assert act.what is What.SHOW


@pytest.mark.parametrize(
    ("hand", "of_the_wall", "face", "step"),
    [
        ({}, "", "", ""),
        ({"due": "fill"}, "back", "back", "fill"),
        ({"face": "front", "step": "scuff", "due": "fill"}, "back", "front", "scuff"),
    ],
)
def test_what_is_left_out_is_the_step_that_is_shown(
    hand: dict[str, str], of_the_wall: str, face: str, step: str
) -> None:
    after, acts = keys.skip(replace(holding(**hand), face=of_the_wall), sees())
    assert acts == (Act(What.SKIP, D4, face=face, step=step),)
    assert after.face == ""


@pytest.mark.parametrize("state", [EMPTY, holding(Waits.STRANGE), holding(Waits.ELSEWHERE)])
def test_nothing_of_ours_in_the_hand_has_nothing_to_leave_out(state: State) -> None:
    after, acts = keys.skip(state, sees())
    assert (after, told(acts)) == (state, NOTHING_IN_HAND)


def test_a_reason_lifts_the_gravest_hold_and_those_lifted_before_stay_lifted() -> None:
    held = holding(Waits.HELD, holds=("b", "c"), lifted=(("a", "why"),))
    after, (act,) = keys.insist(held, sees(text="so"))
    assert after.hand.lifted == act.insists == (("a", "why"), ("b", "so"))
    assert (act.what, act.code, act.text, act.confirmed) == (What.RECORD, D4, "so", True)
    _, (act,) = keys.insist(holding(Waits.HELD), sees(text="so"))
    assert act.insists == (("", "so"),)


def test_a_face_or_a_step_that_is_chosen_is_shown_and_a_face_forgets_the_step() -> None:
    state = holding(face="back", step="wash")
    after, (act,) = keys.face(state, sees(text="front"))
    assert (act.what, act.face, act.step, after.hand.step) == (What.SHOW, "front", "", "")
    after, (act,) = keys.step(state, sees(text="fill"))
    assert (act.what, act.face, act.step, after.hand.face) == (What.SHOW, "back", "fill", "back")


def test_wet_goes_on_and_off_and_shows_what_is_in_the_hand() -> None:
    wet, (act,) = keys.wet(holding(), sees())
    assert (wet.wet, act.what) == (True, What.SHOW)
    assert keys.wet(wet, sees())[0].wet is False
    assert keys.wet(EMPTY, sees()) == (replace(EMPTY, wet=True), ())


def test_a_time_is_stated_for_the_next_record() -> None:
    when = NOW - timedelta(hours=1)
    assert keys.at(EMPTY, Now(NOW, Snapshot(), when=when)) == (replace(EMPTY, at=when), ())


def test_keep_recording_goes_on_with_a_step_and_off_again() -> None:
    on, acts = keys.keep(holding(Waits.ARMED), sees(text="wash"))
    assert (on.verb, on.keep_step, on.last, on.hand.code) == (KEEP, "wash", NOW, "")
    assert acts == (Act(What.VERB_ON, verb=KEEP, says=KEEP.says),)
    off, acts = keys.keep(replace(on, at=NOW), sees(text=keys.KEEP_OFF))
    assert (off.verb, off.keep_step, off.at) == (None, "", None)
    assert acts == (Act(What.VERB_OFF, verb=KEEP),)


def test_a_part_that_is_turned_to_is_shown_and_not_armed() -> None:
    after, acts = keys.turn_to(EMPTY, sees(HIT))
    assert (after.hand.code, after.hand.waits) == (D4, Waits.SHOWN)
    assert acts == (Act(What.SHOW, D4, text=keys.NOT_ARMED),)


def test_a_verb_goes_off_after_as_many_minutes_as_are_set() -> None:
    assert keys.idle(EMPTY, sees(text="2.5"))[0].idle == timedelta(seconds=150)


OUT = State(Mode.TEARDOWN, HERE)


@pytest.mark.parametrize(
    ("hand", "to_pull", "pressed", "is_out"),
    [
        (None, NEXT, NEXT, True),
        (None, NEXT, HIT, False),
        (None, None, HIT, False),
        (Waits.ARMED, NEXT, HIT, True),
        (Waits.ARMED, NEXT, NEXT, False),
        (Waits.SHOWN, NEXT, NEXT, True),
        (Waits.SHOWN, NEXT, HIT, False),
        (Waits.ELSEWHERE, NEXT, NEXT, False),
        (Waits.STRANGE, NEXT, NEXT, False),
    ],
)
def test_only_the_part_at_hand_is_out_by_a_press_another_one_is_first_shown(
    hand: Waits | None, to_pull: Hit | None, pressed: Hit, is_out: bool
) -> None:
    state = OUT if hand is None else holding(hand, Mode.TEARDOWN)
    after, acts = keys.choose(state, sees(pressed, to_pull=to_pull))
    assert acts == ((Act(What.OUT, pressed.code),) if is_out else ())
    assert after.hand.code == pressed.code
    assert after.hand.waits is (Waits.SHOWN if is_out else Waits.ARMED)


def test_enter_after_a_homes_label_pulls_nothing_until_it_comes_again() -> None:
    home = in_hand(Hit(Kind.HOME, "K7Q4-H01A?", HERE, "", 1), NOW)
    after, acts = keys.pull(State(Mode.TEARDOWN, HERE, home), sees(to_pull=NEXT))
    assert "nothing is recorded" in told(acts)
    assert keys.pull(after, sees(to_pull=NEXT))[1] == (Act(What.OUT, D9),)


def test_enter_pulls_the_one_that_was_chosen_else_the_next_one_to_pull() -> None:
    chosen = holding(Waits.ARMED, Mode.TEARDOWN)
    assert keys.pull(chosen, sees(to_pull=NEXT))[1] == (Act(What.OUT, D4),)
    after, acts = keys.pull(holding(Waits.SHOWN, Mode.TEARDOWN), sees(to_pull=NEXT))
    assert (after.hand.code, acts) == (D9, (Act(What.OUT, D9),))
    assert keys.pull(OUT, sees()) == (OUT, (Act(What.GO_TO, text=""),))


def test_the_same_one_stays_in_where_that_is_pressed() -> None:
    chosen = holding(Waits.ARMED, Mode.TEARDOWN)
    assert keys.stays(chosen, sees(to_pull=NEXT)) == (OUT, (Act(What.STAYS, D4),))
    shown = holding(Waits.SHOWN, Mode.TEARDOWN)
    assert keys.stays(shown, sees(to_pull=NEXT)) == (OUT, (Act(What.STAYS, D9),))
    assert keys.stays(shown, sees()) == (shown, ())


def test_all_that_is_left_stays_in_or_is_home_by_elimination() -> None:
    for rest in (keys.rest_stays, keys.eliminate):
        assert rest(holding(), sees()) == (EMPTY, (Act(What.REST),))


def test_the_proof_sheet_comes_when_everything_is_home() -> None:
    state = holding(mode=Mode.RETURN)
    assert keys.prove(state, sees(complete=True)) == (state, (Act(What.PROOF),))
    assert told(keys.prove(state, sees())[1]) == NOTHING_IN_HAND


def test_how_it_runs_is_said_once_of_what_has_just_come_home() -> None:
    home = holding(Waits.RECORDED, Mode.RETURN, fits=True)
    after, acts = keys.fit(home, sees(text="tight"))
    assert acts == (Act(What.FIT, D4, text="tight"),)
    assert told(keys.fit(after, sees(text="tight"))[1]) == NOTHING_IN_HAND
    assert not after.hand.fits


def test_enter_takes_the_next_load_and_records_the_one_that_is_taken() -> None:
    none = State(Mode.LOAD, HERE)
    assert keys.load(none, sees()) == (none, (Act(What.NEXT_LOAD),))
    taken = replace(none, load=7, left_out=(D4,))
    _, (act,) = keys.load(taken, sees())
    assert act == Act(What.LOAD_DONE, load_code(7), number=7, codes=(D4,))


@pytest.mark.parametrize(
    ("waits", "code", "confirmed", "lifts"),
    [
        (Waits.ASKED, "load 7", True, True),
        (Waits.HELD, "load 7", False, True),
        (Waits.ASKED, D4, False, False),
        (Waits.ASKED, "load 8", False, False),
    ],
)
def test_a_load_is_confirmed_only_where_it_was_the_one_that_asked(
    waits: Waits, code: str, confirmed: bool, lifts: bool
) -> None:
    state = replace(holding(waits, Mode.LOAD, code=code, lifted=(("a", "so"),)), load=7)
    _, (act,) = keys.load(state, sees())
    assert (act.confirmed, bool(act.insists)) == (confirmed, lifts)


def test_what_is_not_of_this_piece_is_told_so() -> None:
    assert "no part of this piece" in told(keys.not_now(holding(Waits.ELSEWHERE), sees())[1])
