"""A path's text edited by step: what was not meant stays letter by letter."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.finish.durations import parse_duration
from partsbench.core.finish.path_text import (
    AddStep,
    DropStep,
    MoveStep,
    SayOfStep,
    apply_edit,
    block_for,
    blocks,
    free_key,
    listed,
    quoted,
    written,
)
from partsbench.core.toml_text import read_toml

HEAD = '# ours\nkey = "p"\n\n'
A = '[[step]]\nkey = "a"\ncautions = [\n  "dust",\n  "lead",\n]\nearliest = "1 h"\n\n'
B = '# why b\n[[step]]\nkey = "b"\nmissed = { step = "b", say = "b" }\n\n'
C = '[[step]]\nkey = "c"\n[[step.after]]\nstep = "a"\nearliest = "2 h"\n\n'
C += '[[step.after]]\nstep = "b"\n'
TEXT = HEAD + A + B + C


def keys(text: str) -> list[str]:
    doc = read_toml(text)
    assert isinstance(doc, dict), doc
    return [s["key"] for s in doc["step"]]


def test_blocks_are_the_whole_text_and_a_comment_goes_with_the_step_below_it() -> None:
    assert blocks(TEXT) == (HEAD, [A, B, C])


@pytest.mark.parametrize(
    ("edit", "left"),
    [
        (MoveStep(2, 0), "cab"), (MoveStep(0, 1), "bac"), (MoveStep(0, 2), "bca"),
        (DropStep(1), "ac"), (AddStep(3, '[[step]]\nkey = "d"'), "abcd"),
        (AddStep(0, '[[step]]\nkey = "d"'), "dabc"), (DropStep(3), "abc"), (DropStep(-1), "abc"),
    ],
)  # fmt: skip
def test_steps_are_moved_taken_out_and_added(edit: MoveStep, left: str) -> None:
    new = apply_edit(TEXT, edit)
    assert keys(new) == list(left)
    assert new.startswith("# ours\n")
    assert ("# why b\n[[step]]" in new) is ("b" in left)


def test_a_word_is_replaced_added_and_taken_out_and_all_else_stays() -> None:
    assert apply_edit(TEXT, SayOfStep(0, "earliest", '"3 h"')) == TEXT.replace("1 h", "3 h")
    without = apply_edit(TEXT, SayOfStep(0, "cautions", ""))
    assert without == HEAD + '[[step]]\nkey = "a"\nearliest = "1 h"\n\n' + B + C
    added = apply_edit(TEXT, SayOfStep(2, "earliest", '"5 h"'))
    assert added == HEAD + A + B + C.replace('"c"\n', '"c"\nearliest = "5 h"\n')

    last = SayOfStep(0, "latest", '"9 h"')
    bare = HEAD + A.replace('earliest = "1 h"\n', "")
    assert apply_edit(bare, last) == bare.replace("]\n\n", ']\nlatest = "9 h"\n\n')


def test_a_block_for_another_path_has_its_own_key_and_no_wait_from_what_is_not_there() -> None:
    new = block_for(C, "c", ["a", "c", "c_2"], ["a"])
    assert 'key = "c_3"' in new
    assert new.count("[[step.after]]") == 1
    assert 'step = "a"' in new
    assert 'step = "b_2", say' in block_for(B, "b", ["b"], [])


@pytest.mark.parametrize("minutes", [0, 10, 90, 190, 1440, 2160, 0.5])
def test_a_time_is_written_as_it_is_read(minutes: float) -> None:
    length = timedelta(minutes=minutes)
    assert parse_duration(written(length)) == length
    assert written(timedelta(days=1, hours=12)) == "1 d 12 h"
    assert written(None) == ""


@pytest.mark.parametrize("words", ['say "no"', "a\\b", "tab\there", "é “x”"])
def test_any_words_can_be_quoted(words: str) -> None:
    assert read_toml(f"x = {quoted(words)}") == {"x": " ".join(words.split())}


def test_a_list_of_no_words_is_no_text_and_one_of_words_is_a_list():
    assert listed(()) == ""
    assert listed(("dust", 'a "new" grit')) == '["dust", "a \\"new\\" grit"]'


@pytest.mark.parametrize(
    ("row", "left"), [(-1, "dabc"), (0, "dabc"), (2, "abdc"), (3, "abcd"), (4, "abcd")]
)
def test_a_step_is_put_in_at_the_nearest_row_there_is(row: int, left: str) -> None:
    assert keys(apply_edit(TEXT, AddStep(row, '[[step]]\nkey = "d"'))) == list(left)


@pytest.mark.parametrize("row", [-1, 3])
def test_a_row_that_is_not_there_changes_nothing(row: int) -> None:
    for edit in (MoveStep(row, 0), DropStep(row), SayOfStep(row, "note", '"x"')):
        assert apply_edit(TEXT, edit) == TEXT


@pytest.mark.parametrize(
    ("minutes", "text"),
    [
        (0, "0 min"), (59.5, "59.5 min"), (60, "1 h"), (61, "1 h 1 min"), (1439, "23 h 59 min"),
        (1440, "1 d"), (1501, "1 d 1 h 1 min"), (1 / 3, "0.33 min"),
    ],
)  # fmt: skip
def test_a_time_is_written_in_days_hours_and_minutes(minutes: float, text: str) -> None:
    assert written(timedelta(minutes=minutes)) == text


def test_text_without_a_step_is_all_head() -> None:
    assert blocks(HEAD) == (HEAD, [])
    assert blocks("") == ("", [])


@pytest.mark.parametrize(
    ("taken", "free"), [([], "a"), (["b"], "a"), (["a"], "a_2"), (["a", "a_2", "a_4"], "a_3")]
)
def test_a_key_that_nobody_has(taken: list[str], free: str) -> None:
    assert free_key("a", taken) == free
