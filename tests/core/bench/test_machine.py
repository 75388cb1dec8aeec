from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.bench.events import (
    Act,
    Answered,
    Hit,
    Kind,
    OfTheWall,
    Passed,
    Push,
    Pushed,
    Scanned,
    Snapshot,
    Took,
    Touched,
    Turned,
    Undone,
    What,
)
from partsbench.core.bench.machine import happens
from partsbench.core.bench.state import Hand, Mode, State, Waits
from partsbench.core.outcomes import Answer, Hold, Outcome, Tone
from partsbench.core.verbs import FACES, REASONS, VERBS, Key, Sort, WallCode
from tests.support.wall import verb_named

NOW = datetime(2031, 3, 4, 19, 0, tzinfo=UTC)
D4, D9 = "K7Q4-D04A?", "K7Q4-D09A?"
HERE = "K7Q4"


def answer(act: Act, *holds: str) -> Outcome:
    """What a book in which all may be done, or nothing, says of a part."""
    held = tuple(Hold(rule, "because") for rule in holds)
    recorded = act.what is not What.SHOW and not held
    word = Answer.WAIT if held else Answer.GO
    return Outcome(word, Tone.ASK, "said", tag=HERE, part=act.code[6:8], step="wash",
                   code=act.code, recorded=recorded, holds=held)  # fmt: skip


class Bench:
    """Scans three seconds apart, and the acts that follow; `holds` refuse every record."""

    def __init__(self, state: State | None = None) -> None:
        self.state = state or State(here=HERE)
        self.now = NOW
        self.holds: tuple[str, ...] = ()

    def scan(self, scanned: WallCode | str, after: float = 3.0) -> tuple[Act, ...]:
        self.now += timedelta(seconds=after)
        if isinstance(scanned, WallCode):
            event, sees = OfTheWall(scanned), Snapshot()
        else:
            event = Scanned()
            sees = Snapshot(1, Hit(Kind.PART, scanned, HERE, scanned[6:8]))
        self.state, acts = happens(self.state, event, self.now, sees)
        for act in acts:
            if act.code and act.what not in (What.SAY,):
                self.say(act)
        return acts

    def say(self, act: Act) -> None:
        heard = Answered(act, answer(act, *self.holds))
        self.state, _ = happens(self.state, heard, self.now)

    def wait(self, **span: float) -> tuple[Act, ...]:
        self.now += timedelta(**span)
        self.state, acts = happens(self.state, Passed(), self.now)
        return acts

    def verb(self, name: str) -> tuple[Act, ...]:
        return self.scan(WallCode(Sort.VERB, verb_named(name).number))

    def reason(self, name: str) -> tuple[Act, ...]:
        return self.scan(WallCode(Sort.REASON, next(r.number for r in REASONS if r.name == name)))


def with_load(number: int) -> State:
    return happens(State(here=HERE), Took(load=number), NOW)[0]


def whats(acts) -> list[What]:
    return [act.what for act in acts]


def test_a_first_scan_shows_a_second_records_and_a_third_shows_again():
    bench = Bench()
    assert whats(bench.scan(D4)) == [What.SHOW]
    assert whats(bench.scan(D4)) == [What.RECORD]
    assert whats(bench.scan(D4)) == [What.SHOW]


def test_a_bounce_of_the_trigger_counts_once():
    bench = Bench()
    bench.scan(D4)
    assert bench.scan(D4, after=0.8) == ()
    assert whats(bench.scan(D4, after=1.0)) == [What.RECORD]


def test_another_part_between_two_scans_records_neither():
    bench = Bench()
    assert whats(bench.scan(D4)) == [What.SHOW]
    assert whats(bench.scan(D9)) == [What.SHOW]
    assert whats(bench.scan(D4)) == [What.SHOW]


def test_a_verb_holds_for_every_part_after_it_until_another():
    bench = Bench()
    assert whats(bench.verb("SANDED")) == [What.VERB_ON]
    acts = [bench.scan(code)[0] for code in (D4, D9, D4)]
    assert [(a.what, a.verb.name) for a in acts] == [(What.RECORD, "SANDED")] * 3
    bench.verb("OUT")
    assert whats(bench.scan(D4)) == [What.OUT]


def test_what_the_next_scan_does_is_said_for_every_verb():
    bench = Bench()
    assert bench.state.expects == ""
    for verb in VERBS:
        bench.state = State(here=HERE, load=1, last=NOW)
        bench.verb(verb.name)
        said = bench.state.expects
        assert said.startswith(f"{verb.name}: ") if bench.state.verb else said == "", verb
    bench.verb("SANDED")
    assert bench.state.expects == "SANDED: each part scanned now is recorded so."
    bench.holds = ("not dry yet",)
    bench.scan(D4)
    assert bench.state.expects == "SANDED: each part scanned now is recorded so."
    bench.verb("INSIST")
    assert bench.state.expects == "INSIST: scan why, and “not dry yet” is lifted."
    bench.verb("SENT BACK")
    assert bench.state.expects == "SENT BACK: scan why."
    bench.reason("run or sag")
    assert bench.state.expects == "SENT BACK, run or sag: each part scanned now goes back."
    bench.scan(WallCode(Sort.PLACE, 2))
    assert bench.state.expects == "PLACE: each part scanned now is put there."
    bench.verb("VERB OFF")
    bench.scan(WallCode(Sort.FACE, FACES.index("front") + 1))
    assert bench.state.expects == "Only the front of the next part."


def test_a_verb_goes_off_by_itself_with_an_act_of_its_own():
    bench = Bench()
    bench.verb("SANDED")
    bench.scan(D4)
    before = bench.state
    assert (bench.wait(minutes=2, seconds=59), bench.state) == ((), before)
    assert whats(bench.wait(seconds=1)) == [What.VERB_OFF]
    assert bench.state.verb is None
    assert bench.wait(hours=1) == ()


def test_a_scan_after_the_idle_time_hears_the_verb_go_off_and_only_shows():
    bench = Bench()
    bench.verb("SANDED")
    assert whats(bench.scan(D4, after=600)) == [What.VERB_OFF, What.SHOW]


def test_the_idle_time_can_be_set():
    bench = Bench(State(here=HERE, idle=timedelta(seconds=20)))
    bench.verb("SANDED")
    assert bench.wait(seconds=19) == ()
    assert whats(bench.wait(seconds=1)) == [What.VERB_OFF]


def test_all_except_two_is_three_scans():
    bench = Bench(with_load(7))
    acts = [*bench.verb("ALL EXCEPT 2"), *bench.scan(D4), *bench.scan(D9)]
    done = acts[-1]
    assert (done.what, done.number, done.codes) == (What.LOAD_DONE, 7, (D4, D9))
    assert What.LOAD_DONE not in whats(acts[:-1])
    assert bench.state.verb is None


def test_all_except_without_a_count_ends_with_end_and_counts_a_part_once():
    bench = Bench(with_load(7))
    bench.verb("ALL EXCEPT")
    for code in (D4, D4, D9):
        assert whats(bench.scan(code)) == [What.SAY]
    (done,) = bench.verb("END")
    assert done.codes == (D4, D9)


def test_end_alone_records_the_whole_load():
    (done,) = Bench(with_load(7)).verb("END")
    assert (done.what, done.number, done.codes) == (What.LOAD_DONE, 7, ())


def test_all_except_that_is_left_alone_records_nothing():
    bench = Bench(with_load(7))
    bench.verb("ALL EXCEPT")
    bench.scan(D4)
    assert whats(bench.wait(minutes=5)) == [What.VERB_OFF]
    assert bench.state.left_out == ()


def test_all_except_asks_for_a_load():
    assert whats(Bench().verb("ALL EXCEPT 1")) == [What.SAY]


def test_insist_and_a_reason_record_what_was_just_refused():
    bench = Bench()
    bench.holds = ("not dry yet",)
    bench.scan(D4)
    bench.scan(D4)
    bench.holds = ()
    assert bench.state.hand.waits is Waits.HELD
    assert whats(bench.verb("INSIST")) == [What.VERB_ON]
    (act,) = bench.reason("the tin says so")
    assert (act.what, act.code, act.reason.name) == (What.RECORD, D4, "the tin says so")
    assert bench.state.verb is None


def test_insist_before_a_part_is_for_that_part_alone():
    bench = Bench()
    bench.verb("INSIST")
    assert whats(bench.scan(D4)) == [What.SAY]
    bench.reason("the tin says so")
    assert bench.scan(D4)[0].reason.name == "the tin says so"
    assert whats(bench.scan(D9)) == [What.SHOW]


def test_what_was_refused_long_ago_is_not_insisted_upon():
    bench = Bench()
    bench.holds = ("not dry yet",)
    bench.scan(D4)
    bench.now += timedelta(minutes=10)
    bench.verb("INSIST")
    assert bench.reason("the tin says so")[0].what is What.VERB_ON


def test_sent_back_asks_why_and_holds_for_several_parts():
    bench = Bench()
    bench.verb("SENT BACK")
    assert whats(bench.scan(D4)) == [What.SAY]
    bench.reason("run or sag")
    assert [bench.scan(c)[0].what for c in (D4, D9)] == [What.SEND_BACK] * 2


def test_a_reason_without_its_verb_is_told():
    bench = Bench()
    assert whats(bench.reason("run or sag")) == [What.SAY]
    bench.verb("INSIST")
    assert whats(bench.reason("run or sag")) == [What.SAY]


def test_a_face_narrows_the_next_part_only():
    bench = Bench()
    bench.verb("SANDED")
    bench.scan(WallCode(Sort.FACE, FACES.index("front") + 1))
    assert bench.scan(D4)[0].face == "front"
    assert bench.scan(D9)[0].face == ""


def test_person_and_cup_stay_while_verbs_come_and_go():
    bench = Bench()
    bench.scan(WallCode(Sort.PERSON, 2))
    bench.scan(WallCode(Sort.CUP, 5))
    bench.verb("SANDED")
    bench.verb("VERB OFF")
    bench.wait(hours=1)
    assert (bench.state.person, bench.state.cup) == (2, 5)


def test_a_place_takes_the_parts_after_it():
    bench = Bench()
    bench.scan(WallCode(Sort.PLACE, 3))
    assert [(a.what, a.number) for a in bench.scan(D4)] == [(What.PUT, 3)]
    assert [(a.what, a.number) for a in bench.scan(D4)] == [(What.PUT, 3)]
    bench.verb("SANDED")
    assert whats(bench.scan(D4)) == [What.RECORD]


def test_undo_works_under_any_verb_and_leaves_it_on():
    bench = Bench()
    bench.verb("SANDED")
    assert whats(bench.verb("UNDO")) == [What.UNDO]
    assert whats(bench.scan(D4)) == [What.RECORD]


def test_a_number_that_is_not_on_the_wall_is_told():
    assert whats(Bench().scan(WallCode(Sort.VERB, 359))) == [What.SAY]


ANY = st.one_of(
    st.sampled_from([D4, D9]),
    st.builds(WallCode, st.just(Sort.VERB), st.sampled_from([v.number for v in VERBS])),
    st.builds(WallCode, st.just(Sort.REASON), st.sampled_from([r.number for r in REASONS])),
    st.builds(WallCode, st.sampled_from(list(Sort)), st.integers(1, 359)),
)


@given(st.lists(st.tuples(ANY, st.floats(0.1, 400)), max_size=40))
def test_nothing_is_ever_recorded_by_a_first_scan_without_a_verb(scans):
    """In any order of scans, a part without a verb is recorded only right after it was shown."""
    bench, shown = Bench(), ""
    for scanned, after in scans:
        verb_was = bench.state.verb
        for act in bench.scan(scanned, after):
            if act.what is What.RECORD and act.verb is None:
                assert act.code == shown
            if act.what is What.RECORD and act.verb is not None:
                assert verb_was is not None
                assert act.reason is None or act.reason.key is Key.INSIST
            shown = act.code if act.what is What.SHOW else ""


def test_what_was_held_is_looked_at_again_and_never_recorded_by_that() -> None:
    """The wait may be over by now: that has to be seen before a scan records it."""
    bench = Bench()
    bench.holds = ("not dry yet",)
    bench.scan(D4)
    bench.holds = ()
    assert bench.state.hand.waits is Waits.HELD
    assert whats(bench.scan(D4)) == [What.SHOW]
    assert bench.state.hand.waits is Waits.ARMED
    assert whats(bench.scan(D4)) == [What.RECORD]


def test_a_trigger_bounces_for_a_second_and_a_half_and_a_press_never_does() -> None:
    for after, counts in ((1.4, False), (1.5, True)):
        bench = Bench()
        bench.scan(D4)
        assert bool(bench.scan(D4, after=after)) is counts
    bench = Bench()
    bench.scan(D4)
    sees = Snapshot(1, Hit(Kind.PART, D4, HERE, "D4"))
    _, acts = happens(bench.state, Scanned(trigger=False), bench.now, sees)
    assert whats(acts) == [What.RECORD]


def test_a_code_of_the_wall_bounces_too() -> None:
    bench = Bench()
    face = WallCode(Sort.FACE, 1)
    assert whats(bench.scan(face)) == [What.SAY]
    assert bench.scan(face, after=0.5) == ()


def test_somebody_who_answers_a_question_is_there_and_a_verb_stays() -> None:
    bench = Bench()
    bench.verb("SANDED")
    bench.state, acts = happens(bench.state, Touched(), bench.now + timedelta(minutes=2))
    assert acts == ()
    assert bench.wait(minutes=4) == ()
    assert whats(bench.wait(minutes=1)) == [What.VERB_OFF]


def test_another_page_disarms_and_keeps_the_verb_and_another_piece_empties_the_hand() -> None:
    bench = Bench()
    bench.verb("SANDED")
    bench.verb("VERB OFF")
    bench.scan(D4)
    assert bench.state.hand.waits is Waits.ARMED
    same, _ = happens(bench.state, Turned(Mode.BENCH, HERE), bench.now)
    assert same == bench.state
    page, _ = happens(bench.state, Turned(Mode.RETURN, HERE), bench.now)
    assert (page.mode, page.hand.waits, page.hand.code) == (Mode.RETURN, Waits.SHOWN, D4)
    stated = replace(bench.state, at=NOW, wet=True)
    other, _ = happens(stated, Turned(Mode.BENCH, "XE9Q"), bench.now)
    assert (other.here, other.hand, other.at, other.wet) == ("XE9Q", Hand(), None, False)


def test_keep_recording_ends_with_its_piece_and_takes_each_part_once() -> None:
    bench = Bench()
    bench.state, _ = happens(bench.state, Pushed(Push.KEEP, "wash"), bench.now)
    (act,) = bench.scan(D4)
    assert (act.what, act.step, bench.state.run) == (What.RECORD, "wash", (D4,))
    (said,) = bench.scan(D4)
    assert (said.what, said.says) == (
        What.SAY,
        "04 is recorded in this run already.",
    )
    assert whats(bench.scan(D9)) == [What.RECORD]
    assert bench.state.run == (D4, D9)
    page, _ = happens(bench.state, Turned(Mode.RETURN, HERE), bench.now)
    assert page.keeps
    other, _ = happens(bench.state, Turned(Mode.BENCH, "XE9Q"), bench.now)
    assert not other.keeps and other.run == ()


def test_what_is_taken_up_stays_until_another_is_and_nought_puts_it_down() -> None:
    state = State(here=HERE, load=7, cup=5, place=2, left_out=(D4,))
    assert happens(state, Took(), NOW)[0] == state
    assert happens(state, Took(load=7), NOW)[0].left_out == (D4,)
    assert happens(state, Took(load=8), NOW)[0].left_out == ()
    down, _ = happens(state, Took(load=0, cup=0, place=0), NOW)
    assert (down.load, down.cup, down.place) == (0, 0, 0)
    gone, _ = happens(replace(state, hand=Hand(Waits.ARMED, D4)), Took(here="XE9Q"), NOW)
    assert (gone.here, gone.hand) == ("XE9Q", Hand())


def test_what_was_taken_back_leaves_the_part_shown_and_no_result_to_give() -> None:
    state = State(here=HERE, hand=Hand(Waits.RECORDED, D4, HERE, "D4", fits=True, host=D4),
                  last_code=D4)  # fmt: skip
    after, _ = happens(state, Undone(), NOW)
    assert (after.hand.waits, after.hand.fits, after.hand.host) == (Waits.SHOWN, False, "")
    assert after.last_code == ""


@pytest.mark.parametrize(
    ("what", "recorded", "clears"),
    [
        (What.RECORD, True, True),
        (What.SKIP, True, True),
        (What.RECORD, False, False),
        (What.SEND_BACK, True, False),
        (What.SHOW, False, False),
    ],
)
def test_a_stated_time_is_of_one_record(what: What, recorded: bool, clears: bool) -> None:
    state = State(here=HERE, hand=Hand(Waits.ARMED, D4, HERE, "D4"), at=NOW, wet=True)
    said = Outcome(Answer.GO, Tone.ASK, "said", tag=HERE, part="D4", code=D4, recorded=recorded)
    after, _ = happens(state, Answered(Act(what, D4), said), NOW)
    assert (after.at is None, not after.wet) == (clears, clears)


@pytest.mark.parametrize(
    ("what", "said", "waits"),
    [
        (What.SHOW, {"step": "wash"}, Waits.ARMED),
        (What.SHOW, {}, Waits.SHOWN),
        (What.SHOW, {"step": "wash", "answer": Answer.WAIT}, Waits.SHOWN),
        (What.SHOW, {"step": "wash", "text": "not armed"}, Waits.SHOWN),
        (What.SHOW, {"step": "wash", "mode": Mode.RETURN}, Waits.SHOWN),
        (What.GO_TO, {"step": "wash"}, Waits.ARMED),
        (What.RECORD, {"recorded": True}, Waits.RECORDED),
        (What.RECORD, {"holds": (Hold("a", "b"),)}, Waits.HELD),
        (What.RECORD, {"checks": ("a",), "tone": Tone.CONFIRM}, Waits.ASKED),
        (What.RECORD, {"step": "wash"}, Waits.SHOWN),
        (What.WHERE_HOME, {}, Waits.ARMED),
        (What.WHERE_HOME, {"answer": Answer.STOP}, Waits.SHOWN),
        (What.WHERE_HOME, {"answer": Answer.OTHER_JOB}, Waits.ELSEWHERE),
    ],
)
def test_what_the_label_in_the_hand_waits_for_after_an_answer(
    what: What, said: dict[str, object], waits: Waits
) -> None:
    said = dict(said)
    mode, text = said.pop("mode", Mode.BENCH), str(said.pop("text", ""))
    word, tone = said.pop("answer", Answer.GO), said.pop("tone", Tone.ASK)
    state = State(mode, HERE, Hand(Waits.SHOWN, D4, HERE, "D4"))  # type: ignore[arg-type]
    outcome = Outcome(word, tone, "said", tag=HERE, part="D4", code=D4, **said)  # type: ignore[arg-type]
    after, _ = happens(state, Answered(Act(what, D4, text=text), outcome), NOW)
    assert after.hand.waits is waits


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        ({"holds": (Hold("b", "because"),)}, (("a", "so"),)),
        ({"checks": ("a",), "tone": Tone.CONFIRM}, (("a", "so"), ("", "first"))),
        ({"recorded": True}, ()),
    ],
)
def test_a_reason_that_names_no_hold_is_kept_only_where_it_lifted_one(
    said: dict[str, object], kept: tuple[tuple[str, str], ...]
) -> None:
    """Given before the holds were read it must not lift the last of them unseen."""
    state = State(here=HERE, hand=Hand(Waits.SHOWN, D4, HERE, "D4"))
    act = Act(What.RECORD, D4, insists=(("a", "so"), ("", "first")))
    said = dict(said)
    outcome = Outcome(Answer.STOP, said.pop("tone", Tone.HOLD), "said", tag=HERE, part="D4",  # type: ignore[arg-type]
                      code=D4, **said)  # type: ignore[arg-type]  # fmt: skip
    after, _ = happens(state, Answered(act, outcome), NOW)
    assert after.hand.lifted == kept


def test_a_load_that_is_recorded_is_no_longer_in_the_hand() -> None:
    state = State(here=HERE, load=7, left_out=(D4,))
    for recorded in (True, False):
        said = Outcome(Answer.GO, Tone.ASK, "said", recorded=recorded)
        after, _ = happens(state, Answered(Act(What.LOAD_DONE, "load 7", number=7), said), NOW)
        assert (after.load, after.left_out) == ((0, ()) if recorded else (7, (D4,)))
        assert after.hand.code == "load 7"


def test_how_it_runs_is_asked_of_what_came_home_and_can_be_tried() -> None:
    for answer_, recorded, asks in (
        (Answer.GO, True, True), (Answer.GO, False, False), (Answer.LATE, True, False),
    ):  # fmt: skip
        state = State(Mode.RETURN, HERE, Hand(Waits.ARMED, D4, HERE, "D4", fits=True, host=D4))
        said = Outcome(answer_, Tone.ASK, "said", tag=HERE, part="D4", code=D4, recorded=recorded)
        after, _ = happens(state, Answered(Act(What.HOME, D4), said), NOW)
        assert after.hand.fits is asks
        assert after.hand.host == D4
    said = Outcome(Answer.STOP, Tone.HOLD, "said", tag=HERE, part="D4", code=D4)
    after, _ = happens(state, Answered(Act(What.HOME, D4), said), NOW)
    assert after.hand.host == ""


@pytest.mark.parametrize("recorded", [True, False])
def test_a_face_and_a_step_that_were_chosen_stay_chosen_until_they_are_recorded(
    recorded: bool,
) -> None:
    held = Hand(Waits.ARMED, D4, HERE, "D4", home=4, face="front", step="wash")
    said = Outcome(Answer.GO, Tone.ASK, "said", tag=HERE, part="D4", code=D4, recorded=recorded,
                   step="rinse")  # fmt: skip
    after, _ = happens(State(here=HERE, hand=held), Answered(Act(What.RECORD, D4), said), NOW)
    chosen = ("", "") if recorded else ("front", "wash")
    assert (after.hand.face, after.hand.step) == chosen
    assert (after.hand.due, after.hand.home, after.hand.since) == ("rinse", 4, NOW)


def test_the_hand_bears_the_part_and_home_that_the_answer_is_about() -> None:
    old = Hand(Waits.SHOWN, D9, HERE, "D9", home=9)
    said = Outcome(Answer.GO, Tone.ASK, "said", tag=HERE, part="D4", code=D4, home=4)
    after, _ = happens(State(here=HERE, hand=old), Answered(Act(What.SHOW, D4), said), NOW)
    assert (after.hand.code, after.hand.part, after.hand.home) == (D4, "D4", 4)


@pytest.mark.parametrize(
    ("tag", "part", "what", "waits"),
    [
        (HERE, "", What.SHOW, Waits.STRANGE),
        ("XE9Q", "D4", What.SHOW, Waits.SHOWN),
        (HERE, "", What.RECORD, Waits.SHOWN),
    ],
)
def test_an_answer_about_nothing_of_this_piece_leaves_nothing_to_record(
    tag: str, part: str, what: What, waits: Waits
) -> None:
    old = Hand(Waits.ARMED, D9, HERE, "D9", holds=("a",))
    said = Outcome(Answer.STOP, Tone.UNKNOWN, "said", tag=tag, part=part, code=D4)
    after, _ = happens(State(here=HERE, hand=old), Answered(Act(what, D4), said), NOW)
    assert after.hand.waits is waits
    assert after.hand.code == (D4 if waits is Waits.STRANGE else D9)
    assert after.hand.holds == ()
