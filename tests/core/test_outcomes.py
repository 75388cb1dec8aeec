from __future__ import annotations

import pytest

from partsbench.core.outcomes import Answer, HalfDone, Hold, NotYours, Outcome, Refused, Tone
from partsbench.core.sums.shown import Measures

WIDE = Refused("width: 12 mm is too wide.", about="width", us='width: 1/2" is too wide.')


def test_a_no_is_told_in_the_units_of_the_shop() -> None:
    assert WIDE.say() == WIDE.told_in(Measures.METRIC).sentence == "width: 12 mm is too wide."
    assert WIDE.say(Measures.US) == WIDE.told_in(Measures.US).sentence == 'width: 1/2" is too wide.'
    plain = Refused("There is no part D9.")
    assert plain.told_in(Measures.US) == plain


def test_who_knows_the_place_puts_it_before() -> None:
    there = WIDE.at("front.columns")
    assert there.sentence == "front.columns: width: 12 mm is too wide."
    assert there.say(Measures.US) == 'front.columns: width: 1/2" is too wide.'
    assert there.about == "width"
    assert Refused("No.").at("paths").say(Measures.US) == "paths: No."


def test_what_it_is_about_and_other_units_make_no_other_no() -> None:
    assert Refused("width: 12 mm is too wide.") == WIDE


def test_a_no_that_is_answered_in_its_own_way_stays_what_it_is() -> None:
    assert NotYours("Ash did that.", 7).at("here") == NotYours("here: Ash did that.", 7)
    assert isinstance(HalfDone("One of two is in.").told_in(Measures.US), HalfDone)


def told(tone: Tone, **how: object) -> Outcome:
    return Outcome(Answer.GO, tone, "So it is.", **how)  # type: ignore[arg-type]


FRONT = {"part": "D1", "faces": ("front",)}


@pytest.mark.parametrize(
    ("outcome", "finished", "planless"),
    [
        (told(Tone.QUIET, **FRONT), True, False),
        (told(Tone.QUIET, **FRONT, step="colour_1"), False, False),
        (told(Tone.RECORDED, **FRONT, recorded=True), True, False),
        (told(Tone.RECORDED, **FRONT, recorded=True, then=Answer.WAIT), False, False),
        (told(Tone.RECORDED, **FRONT), False, False),
        (told(Tone.ASK, **FRONT), False, False),
        (told(Tone.QUIET, part="D1"), False, True),
        (told(Tone.QUIET, part="D1", recorded=True), False, False),
        (told(Tone.RECORDED, part="D1"), False, False),
        (told(Tone.QUIET, faces=("front",)), False, False),
        (told(Tone.QUIET), False, False),
    ],
)
def test_a_part_is_finished_or_gets_no_finish_at_all(
    outcome: Outcome, finished: bool, planless: bool
) -> None:
    assert (outcome.finished, outcome.planless) == (finished, planless)


@pytest.mark.parametrize(
    ("outcome", "asks"),
    [
        (told(Tone.CONFIRM, checks=("Is it dry?",)), True),
        (told(Tone.CONFIRM), False),
        (told(Tone.HOLD, checks=("Is it dry?",)), False),
        (told(Tone.CONFIRM, checks=("Is it dry?",), recorded=True), False),
    ],
)
def test_a_record_waits_for_a_yes_where_nothing_else_stands_against_it(
    outcome: Outcome, asks: bool
) -> None:
    assert outcome.unconfirmed is asks


def test_an_answer_records_nothing_and_is_of_no_home_unless_it_says_so() -> None:
    plain = told(Tone.ASK)
    assert (plain.recorded, plain.home, plain.held) == (False, 0, ())
    assert told(Tone.HOLD, holds=(Hold("wrong cup", "it is blue"),)).held == ("wrong cup",)
