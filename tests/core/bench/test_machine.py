from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.bench.events import (
    Act,
    Answered,
    Hit,
    Kind,
    OfTheWall,
    Passed,
    Scanned,
    Snapshot,
    Took,
    What,
)
from partsbench.core.bench.machine import happens
from partsbench.core.bench.state import State, Waits
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
