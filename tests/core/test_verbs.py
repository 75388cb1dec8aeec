from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.steps import Operation
from partsbench.core.piece.codes import CODE_LENGTH, TAG_ALPHABET, Code, new_tag, parse_code
from partsbench.core.piece.parts import FACES as PART_FACES
from partsbench.core.verbs import (
    FACES,
    REASONS,
    VERBS,
    Key,
    Sort,
    WallCode,
    face_numbered,
    find_reason,
    is_reserved,
    reason_numbered,
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
