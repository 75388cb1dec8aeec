from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.answer import ANY_HOLD
from partsbench.core.finish.facts import fact_fault
from partsbench.core.finish.steps import Operation
from partsbench.core.piece.codes import CODE_LENGTH, TAG_ALPHABET, Code, new_tag, parse_code
from partsbench.core.piece.parts import FACES as PART_FACES
from partsbench.core.verbs import (
    FACES,
    GROUPS,
    KEEP,
    REASONS,
    VERBS,
    Key,
    Sort,
    WallCode,
    face_numbered,
    find_reason,
    insisted_words,
    insists,
    is_reserved,
    reason_numbered,
    reasons_for,
    verb_numbered,
    wall_code,
    why_insisted,
)


def test_tags_of_the_wall_are_letters_that_a_label_may_bear_but_no_piece_gets():
    for sort in Sort:
        assert len(sort.value) == 4
        assert set(sort.value) <= set(TAG_ALPHABET)
        assert sort.value.isalpha()
    rng = random.Random(7)
    for _ in range(3000):
        assert not is_reserved(new_tag(set(), rng.choice))


@given(st.sampled_from(list(Sort)), st.integers(1, 359))
def test_a_code_of_the_wall_has_the_shape_of_a_label_and_is_read_back(sort, number):
    text = str(WallCode(sort, number))
    assert len(text) == CODE_LENGTH
    assert isinstance(parse_code(text), Code)
    assert wall_code(text) == WallCode(sort, number)
    assert wall_code(text.lower().replace("-", " ")) == WallCode(sort, number)


def test_a_label_and_a_misread_code_are_none_of_the_wall():
    verb = str(WallCode(Sort.VERB, 1))
    assert wall_code("K7Q4-D05A7") is None
    assert wall_code(verb[:-1] + ("A" if verb[-1] != "A" else "B")) is None
    assert wall_code("hello") is None


def test_numbers_and_names_are_each_borne_once():
    assert len({v.number for v in VERBS}) == len(VERBS) == len({v.name for v in VERBS})
    assert len({r.number for r in REASONS}) == len(REASONS) == len({r.name for r in REASONS})
    codes = [v.code for v in VERBS] + [r.code for r in REASONS]
    assert len(set(codes)) == len(codes)


def test_every_operation_has_one_verb_that_records_it():
    for operation in Operation:
        dry = [v for v in VERBS if operation in v.operations and not v.wet]
        assert len(dry) == 1, operation
    assert [v.name for v in VERBS if v.wet] == ["SANDED WET"]


def test_every_face_of_every_family_has_its_code():
    assert {name for names in PART_FACES.values() for name in names} <= set(FACES)
    assert [face_numbered(i) for i in range(1, len(FACES) + 1)] == list(FACES)
    assert face_numbered(0) == face_numbered(len(FACES) + 1) == ""


def test_what_is_not_on_the_wall_is_none():
    assert verb_numbered(999) is None
    assert reason_numbered(999) is None


@pytest.mark.parametrize("asked", ["tried, it is ready", "Tried", "1"])
def test_a_reason_is_found_by_name_start_or_number(asked):
    assert find_reason(asked, Key.INSIST).name == "tried, it is ready"


def test_a_reason_is_found_by_its_code_and_only_for_its_verb():
    run = next(r for r in REASONS if r.name == "run or sag")
    assert find_reason(run.code, Key.SEND_BACK) == run
    assert find_reason(run.code, Key.INSIST) is None
    assert find_reason("", Key.INSIST) is None


def test_a_reason_in_ones_own_words_is_kept_as_it_is_said():
    assert why_insisted("the tin") == "the tin says so"
    assert why_insisted("  the heater   ran all night ") == "the heater ran all night"
    assert why_insisted("") == ""


PRINTED = {
    "DONE": 1, "UNDO": 2, "REDO": 3, "INSIST": 4, "SENT BACK": 5, "LEFT OUT": 6, "VERB OFF": 7,
    "NEXT LOAD": 8, "END": 9, "ALL EXCEPT": 10, "ALL EXCEPT 1": 11, "ALL EXCEPT 2": 12,
    "ALL EXCEPT 3": 13, "WASHED": 20, "RINSED": 21, "STRIPPED": 22, "RESIDUE WIPED": 23,
    "FILLED OR MENDED": 24, "SANDED": 25, "CONDITIONED": 26, "STAINED": 27, "WIPED": 28,
    "COAT ON": 29, "BUFFED": 30, "TOUCHED UP": 31, "MASK ON": 32, "MASK OFF": 33,
    "NO MASK NEEDED": 34, "TRIED READY": 35, "TRIED NOT READY": 36, "SANDED WET": 37, "OUT": 40,
    "HOME": 41, "THIS PIECE": 42, "RAGS FLAT": 50, "RAGS IN WATER": 51, "CUP STRAINED": 52,
    "CUP EMPTY": 53, "START WORK": 54, "STOP WORK": 55, "CAMERA": 56, "BARE WOOD": 60, "NEWER": 61,
    "KIT, NO LEAD": 62, "KIT, LEAD": 63, "LAB, NO LEAD": 64, "LAB, LEAD": 65,
    "LEAD NOT KNOWN": 66, "WORKED WET": 67, "BY STRIPPER": 68,
}  # fmt: skip
WHY_PRINTED = {
    "tried, it is ready": 1, "the tin says so": 2, "tried on a test patch": 3,
    "agreed with the client": 4, "done earlier, noted late": 5, "run or sag": 11,
    "dust in the coat": 12, "missed window": 13, "sanded through": 14,
    "blotchy or wrong colour": 15, "damaged": 16,
}  # fmt: skip


def test_a_sheet_that_hangs_on_a_wall_means_the_same_for_ever():
    """A verb taken off the wall leaves its number free; none gets that of another."""
    assert {v.name: v.number for v in VERBS} == PRINTED
    assert {r.name: r.number for r in REASONS} == WHY_PRINTED


def test_each_verb_hangs_on_the_wall_once():
    hung = [number for _, numbers in GROUPS for number in numbers]
    assert sorted(hung) == sorted(v.number for v in VERBS)


def test_what_takes_back_hangs_last_and_away_from_what_is_done():
    assert [verb_numbered(n).name for n in GROUPS[-1][1]] == ["UNDO", "VERB OFF", "REDO"]
    assert GROUPS[0][1][0] == PRINTED["DONE"]


def test_what_is_done_at_once_holds_for_no_part_after_it():
    assert {v.name for v in VERBS if not v.stays} == {
        "UNDO", "REDO", "VERB OFF", "NEXT LOAD", "END", "THIS PIECE", "RAGS FLAT",
        "RAGS IN WATER", "CUP STRAINED", "CUP EMPTY", "START WORK", "STOP WORK", "CAMERA",
    }  # fmt: skip
    assert KEEP.stays and KEEP.number not in PRINTED.values()


def test_all_except_so_many_takes_so_many():
    counts = {v.name: v.count for v in VERBS if v.count}
    assert counts == {f"ALL EXCEPT {n}": n for n in (1, 2, 3)}


def test_only_bare_wood_begins_anew_and_only_where_the_film_is_spoilt_to_it():
    assert [r.name for r in REASONS if r.bare] == ["sanded through", "blotchy or wrong colour"]


def test_a_verb_of_the_old_finish_says_one_answer_that_can_be_given():
    said = [v.says_of_old for v in VERBS if v.key is Key.OLD_FINISH]
    assert all(fact_fault(key, value) is None for key, value in said)
    assert {v.says_of_old for v in VERBS if v.key is not Key.OLD_FINISH} == {("", "")}


def test_reasons_are_those_of_one_verb():
    assert {r.key for r in reasons_for(Key.SEND_BACK)} == {Key.SEND_BACK}
    assert len(reasons_for(Key.SEND_BACK)) + len(reasons_for(Key.INSIST)) == len(REASONS)


@pytest.mark.parametrize(
    ("asked", "lifted"),
    [
        ("the tin", {ANY_HOLD: "the tin says so"}),
        (["the tin"], {ANY_HOLD: "the tin says so"}),
        ("not dry yet: the tin", {"not dry yet": "the tin says so"}),
        ("Not  dry YET: my own", {"not dry yet": "my own"}),
        ("the client said: go on", {ANY_HOLD: "the client said: go on"}),
        ("not dry yet", {ANY_HOLD: "not dry yet"}),
        ("not dry yet:", {}),
        ("", {}),
        (["not dry yet: 1", "wrong cup: agreed"],
         {"not dry yet": "tried, it is ready", "wrong cup": "agreed with the client"}),
        ({"wrong cup": "4", "not dry yet": ""}, {"wrong cup": "agreed with the client"}),
    ],
)  # fmt: skip
def test_a_reason_names_the_hold_it_lifts_or_none(asked, lifted):
    assert insists(asked) == lifted


def test_what_was_insisted_on_is_kept_with_its_hold():
    lifted = {"not dry yet": "the tin says so", ANY_HOLD: "my own"}
    assert insisted_words(lifted) == "the tin says so (not dry yet); my own"
    assert insisted_words({}) == ""
