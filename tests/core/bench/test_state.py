"""What is in force and in the hand, in words, and what the passing of time takes away."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from partsbench.core.bench.state import (
    ARMED_FOR,
    COUNTS_ONCE,
    USUAL_IDLE,
    WHATEVER_NEXT,
    Hand,
    Mode,
    State,
    Waits,
    disarmed,
    grown_old,
    load_code,
    only,
    quiet,
)
from partsbench.core.verbs import KEEP, WHOLE_PIECE, Key, reasons_for
from tests.support.wall import verb_named

NOW = datetime(2031, 3, 4, 19, 0, tzinfo=UTC)
SANDED, BACK = verb_named("SANDED"), verb_named("SENT BACK")
RUN = reasons_for(Key.SEND_BACK)[0]


@pytest.mark.parametrize(
    ("state", "says", "rules"),
    [
        (State(), "", Mode.BENCH),
        (State(Mode.RETURN), "", Mode.RETURN),
        (State(Mode.RETURN, face="front"), "", Mode.BENCH),
        (State(Mode.RETURN, place=2), "PLACE", Mode.VERB),
        (State(verb=SANDED), "SANDED", Mode.VERB),
        (State(verb=SANDED, place=2), "SANDED", Mode.VERB),
        (State(verb=BACK, reason=RUN), "SENT BACK: run or sag", Mode.VERB),
        (State(verb=KEEP), f"KEEP RECORDING: {WHATEVER_NEXT}", Mode.VERB),
        (State(verb=KEEP, keep_step="sand_between_1"), "KEEP RECORDING: sand between 1", Mode.VERB),
    ],
)
def test_what_is_in_force_and_whose_rules_the_next_scan_follows(
    state: State, says: str, rules: Mode
) -> None:
    assert (state.says, state.rules) == (says, rules)
    assert state.keeps is (state.verb is KEEP)


def test_a_face_of_the_wall_is_told_by_what_it_narrows() -> None:
    assert State(face="front").expects == "Only the front of the next part."
    assert State(face=WHOLE_PIECE).expects == only(WHOLE_PIECE)
    assert only(WHOLE_PIECE) == "Of the whole piece that the next part is of."
    assert State(face="front", place=2).expects == "PLACE: each part scanned now is put there."


@pytest.mark.parametrize(
    ("waits", "holds", "told"),
    [
        (Waits.HELD, ("wrong cup", "away"), "INSIST: scan why, and “wrong cup” is lifted."),
        (Waits.HELD, (), "INSIST: scan why, and what was refused is lifted."),
        (Waits.SHOWN, (), "INSIST: scan why."),
    ],
)  # fmt: skip
def test_what_a_reason_will_lift_is_told(waits: Waits, holds: tuple[str, ...], told: str) -> None:
    assert State(hand=Hand(waits, holds=holds), verb=verb_named("INSIST")).expects == told


@pytest.mark.parametrize("waits", Waits)
@pytest.mark.parametrize("part", ["D4", ""])
def test_small_acts_are_about_a_part_of_the_piece_at_work(waits: Waits, part: str) -> None:
    foreign = waits in (Waits.ELSEWHERE, Waits.STRANGE)
    assert Hand(waits, part=part).ours is (part == "D4" and not foreign)


FORGETS = {Waits.ARMED, Waits.HELD, Waits.ASKED}


@pytest.mark.parametrize("waits", Waits)
def test_what_waits_for_a_second_scan_is_shown_and_a_home_waits_no_longer(waits: Waits) -> None:
    hand = Hand(waits, "K7Q4-D04A?", holds=("a",), lifted=(("b", "so"),))
    after = disarmed(State(hand=hand)).hand
    if waits in FORGETS:
        assert after == replace(hand, waits=Waits.SHOWN, holds=(), lifted=())
    else:
        assert after == (Hand() if waits is Waits.HOME else hand)


def test_quiet_keeps_person_cup_and_load_and_nothing_else_in_force() -> None:
    full = State(Mode.LOAD, "K7Q4", Hand(Waits.ARMED), SANDED, RUN, "front", "wash", ("a",), ("b",),
                 1, 2, 3, 4, NOW, True, NOW, "c")  # fmt: skip
    assert quiet(full) == State(Mode.LOAD, "K7Q4", cup=1, load=2, person=4, at=NOW, wet=True,
                                last=NOW, last_code="c")  # fmt: skip


@pytest.mark.parametrize(
    ("waits", "for_"),
    [
        (Waits.ARMED, timedelta(seconds=60)),
        (Waits.ASKED, timedelta(seconds=60)),
        (Waits.HELD, timedelta(minutes=3)),
        (Waits.HOME, timedelta(minutes=3)),
    ],
)
def test_the_hand_is_disarmed_when_its_time_is_up_and_no_sooner(
    waits: Waits, for_: timedelta
) -> None:
    state = State(hand=Hand(waits, "a", since=NOW))
    assert grown_old(state, NOW + for_ - timedelta(microseconds=1)) == state
    assert grown_old(state, NOW + for_) == disarmed(state)
    assert grown_old(State(hand=Hand(waits, "a")), NOW + for_).hand.waits is waits


@pytest.mark.parametrize("waits", [Waits.SHOWN, Waits.RECORDED, Waits.ELSEWHERE, Waits.STRANGE])
def test_what_is_only_shown_grows_not_old(waits: Waits) -> None:
    state = State(hand=Hand(waits, "a", since=NOW))
    assert grown_old(state, NOW + timedelta(hours=1)) == state


def test_the_times_of_the_bench() -> None:
    """A bounce ends within 1.5 s; a second scan counts for a minute, a verb for three."""
    told = (COUNTS_ONCE, ARMED_FOR, USUAL_IDLE)
    assert [t.total_seconds() for t in told] == [1.5, 60, 180]


def test_a_load_asks_again_by_the_label_that_was_left_out_last() -> None:
    asked = State(hand=Hand(Waits.ASKED, load_code(7)), load=7, left_out=("a", "b"))
    assert asked.asks_of_load("b") and not asked.asks_of_load("a")
    for other in (
        replace(asked, load=8),
        replace(asked, left_out=()),
        replace(asked, hand=Hand(Waits.HELD, load_code(7))),
    ):
        assert not other.asks_of_load("b")
