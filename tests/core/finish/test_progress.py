from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.path import parse_paths
from partsbench.core.finish.progress import (
    Mark,
    MarkKind,
    MarkRefusal,
    least_advanced,
    may_mark,
    progress,
)
from partsbench.core.finish.steps import LEAVE, RAW, FinishPath, Operation, PathKind, Step
from partsbench.trade import load_paths

START = datetime(2031, 3, 3, 8, 0, tzinfo=UTC)
PATHS = parse_paths(load_paths())
PATH = FinishPath(
    "small",
    "Small",
    PathKind.PAINT,
    (
        Step("wash", "Wash", "washed", Operation.WASH),
        Step("fill", "Fill", "filled", Operation.FILL, optional=True),
        Step("prime", "Prime", "primed", Operation.PRIME, optional=True),
        Step("colour", "Colour", "coloured", Operation.COLOUR),
        Step("clear", "Clear", "cleared", Operation.CLEAR),
    ),
)


def marks(*words: str) -> list[Mark]:
    """'wash', 'skip fill', 'back wash', 'insist clear': one mark a word, an hour apart."""
    kinds = {"skip": MarkKind.SKIPPED, "back": MarkKind.SENT_BACK}
    made = []
    for hour, word in enumerate(words):
        verb, _, step = word.rpartition(" ")
        kind = kinds.get(verb, MarkKind.DONE)
        made.append(Mark(step, START + timedelta(hours=hour), kind, verb == "insist"))
    return made


def test_a_fresh_face_is_at_its_first_step():
    now = progress(PATH, [])
    assert now.next is PATH.steps[0]
    assert (now.index, now.of, now.finished, now.last) == (0, 3, False, None)
    assert (now.left, progress(PATH, marks("wash")).left) == (3, 2)


def test_the_next_step_follows_the_last_one_done():
    now = progress(PATH, marks("wash", "fill"))
    assert now.next.key == "colour"
    assert [s.key for s in now.choices] == ["prime", "colour"]
    assert now.last.step == "fill"
    assert [m.step for m in now.done] == ["wash", "fill"]


def test_optional_steps_may_be_passed_over_or_skipped():
    assert [s.key for s in progress(PATH, marks("wash")).choices] == ["fill", "prime", "colour"]
    assert progress(PATH, marks("wash", "colour")).next.key == "clear"
    skipped = progress(PATH, marks("wash", "skip fill"))
    assert [s.key for s in skipped.choices] == ["prime", "colour"]
    assert may_mark(PATH, marks("wash", "skip fill"), "fill") is MarkRefusal.BEHIND
    assert [m.step for m in skipped.done] == ["wash"]


def test_refusals_say_why():
    at_wash = marks("wash")
    assert may_mark(PATH, at_wash, "colour") is MarkRefusal.ALLOWED
    assert not may_mark(PATH, at_wash, "fill")
    assert may_mark(PATH, at_wash, "clear") is MarkRefusal.AHEAD
    assert may_mark(PATH, at_wash, "wash") is MarkRefusal.BEHIND
    assert may_mark(PATH, at_wash, "varnish") is MarkRefusal.UNKNOWN
    assert may_mark(PATH, at_wash, "colour", MarkKind.SKIPPED) is MarkRefusal.NOT_OPTIONAL
    assert may_mark(PATH, at_wash, "colour", MarkKind.SENT_BACK) is MarkRefusal.NOT_REACHED
    assert may_mark(PATH, at_wash, "fill", MarkKind.SENT_BACK) is MarkRefusal.NOT_REACHED
    assert may_mark(PATH, at_wash, "wash", MarkKind.SENT_BACK) is MarkRefusal.ALLOWED
    assert may_mark(PATH, marks("wash", "colour", "clear"), "clear") is MarkRefusal.FINISHED


def test_illegal_marks_are_kept_apart_and_move_nothing():
    now = progress(PATH, marks("colour", "varnish", "wash", "clear", "wash"))
    assert now.next.key == "colour"
    assert [m.step for m in now.ignored] == ["colour", "varnish", "clear", "wash"]
    assert [m.step for m in now.history] == ["wash"]


def test_what_was_insisted_stands():
    now = progress(PATH, marks("wash", "insist clear"))
    assert now.finished
    assert now.ignored == ()
    again = progress(PATH, marks("wash", "colour", "insist wash"))
    assert again.next.key == "clear"
    assert len(again.history) == 3
    assert progress(PATH, marks("insist varnish")).ignored[0].step == "varnish"


def test_sent_back_makes_the_step_next_again_and_keeps_the_history():
    now = progress(PATH, marks("wash", "fill", "colour", "back fill"))
    assert now.choices[0].key == "fill"
    assert now.sent_back == 1
    assert [m.step for m in now.done] == ["wash"]
    assert [m.step for m in now.history] == ["wash", "fill", "colour", "fill"]
    again = progress(PATH, marks("wash", "fill", "colour", "back fill", "fill", "colour"))
    assert (again.place, again.index, again.next.key) == (4, 2, "clear")


def test_a_finished_face_may_be_sent_back():
    whole = marks("wash", "colour", "clear")
    assert progress(PATH, whole).finished
    assert not may_mark(PATH, whole, "colour", MarkKind.SENT_BACK)
    assert progress(PATH, marks("wash", "colour", "clear", "back colour")).next.key == "colour"


def test_faces_without_a_finish_are_done():
    for path in (RAW, LEAVE):
        now = progress(path, marks("wash"))
        assert (now.finished, now.next, now.fraction, now.left) == (True, None, 1.0, 0)


def test_a_part_is_where_its_least_advanced_face_is():
    done = progress(PATH, marks("wash", "colour", "clear"))
    half = progress(PATH, marks("wash", "colour"))
    fresh = progress(PATH, [])
    raw = progress(RAW, [])
    assert least_advanced({"front": done, "edge": half, "box": raw, "back": fresh}) == "back"
    assert least_advanced({"front": half, "box": raw}) == "front"
    assert least_advanced({"box": raw}) == "box"
    assert least_advanced({}) is None


def test_of_two_fresh_faces_the_longer_path_is_behind():
    short, long = progress(PATHS["clear"], []), progress(PATHS["stain"], [])
    assert long.of > short.of
    assert least_advanced({"short": short, "long": long}) == "long"


def test_a_face_is_finished_when_only_optional_steps_are_left():
    paint = PATHS["paint"]
    needed = marks(*(s.key for s in paint.steps if not s.optional))
    now = progress(paint, needed)
    assert (now.finished, now.next, now.fraction) == (True, None, 1.0)
    assert "topcoat_3" in [s.key for s in now.choices]
    assert not may_mark(paint, needed, "topcoat_3")
    three = paint.given(frozenset({"third_topcoat"}))
    assert progress(three, needed).next.key == "sand_between_2"


ANY_MARK = st.builds(
    Mark,
    st.sampled_from([*(s.key for s in PATHS["paint"].steps), "varnish"]),
    st.just(START),
    st.sampled_from(MarkKind),
)


@given(st.lists(ANY_MARK, max_size=40))
def test_no_order_of_marks_reaches_a_state_that_the_path_forbids(tried):
    path = PATHS["paint"]
    kept: list[Mark] = []
    for mark in tried:
        if not may_mark(path, kept, mark.step, mark.kind):
            kept.append(mark)
    now = progress(path, kept)
    assert now.ignored == ()
    standing = [path.index(m.step) for m in now.done]
    assert standing == sorted(set(standing))
    behind = {s.key for s in path.steps[: now.place] if not s.optional}
    assert behind <= {m.step for m in now.done}
    assert all(i < now.place for i in standing)


@given(st.lists(ANY_MARK, max_size=40))
def test_ungated_marks_reach_the_same_state_as_gated_ones(tried):
    path = PATHS["paint"]
    kept: list[Mark] = []
    for mark in tried:
        if not may_mark(path, kept, mark.step, mark.kind):
            kept.append(mark)
    loose, gated = progress(path, tried), progress(path, kept)
    assert (loose.place, loose.done, loose.history) == (gated.place, gated.done, gated.history)
    assert len(loose.ignored) + len(loose.history) == len(tried)


CASED = FinishPath(
    "cased",
    "Cased",
    PathKind.PAINT,
    (
        Step("wash", "Wash", "washed", Operation.WASH),
        Step("prime", "Prime", "primed", Operation.PRIME, optional=True, only_when="bleeds"),
        Step("colour", "Colour", "coloured", Operation.COLOUR),
        Step("clear", "Clear", "cleared", Operation.CLEAR),
    ),
)


def test_a_case_that_is_said_later_takes_no_work_away():
    """A coat that was on before somebody said that the wood bleeds is on; from a step before it
    the face then goes through what its case asks."""
    bleeds = CASED.given(frozenset({"bleeds"}))
    assert not bleeds.step("prime").optional
    done = marks("wash", "colour")
    assert may_mark(bleeds, done[:1], "colour") is MarkRefusal.AHEAD
    now = progress(bleeds, done)
    assert (now.ignored, now.next.key) == ((), "clear")
    assert progress(bleeds, marks("wash", "colour", "back wash", "wash")).next.key == "prime"
    assert progress(bleeds, marks("wash", "clear")).ignored == (marks("wash", "clear")[1],)
