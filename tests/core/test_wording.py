from __future__ import annotations

import pytest

from partsbench.core.wording import (
    and_list,
    capital,
    clauses,
    listed,
    notes,
    nth,
    or_list,
    plural,
    sentences,
    then_list,
    within,
)


@pytest.mark.parametrize(
    ("count", "said"), [(0, "many"), (1, "one"), (1.0, "one"), (1.5, "many"), (2, "many")]
)
def test_one_is_one_and_all_else_is_many(count: float, said: str) -> None:
    assert plural(count, "one", "many") == said


@pytest.mark.parametrize(
    ("names", "all_of", "one_of"),
    [
        ([], "", ""),
        (["A"], "A", "A"),
        (["A", "B"], "A and B", "A or B"),
        (["A", "B", "C"], "A, B and C", "A, B or C"),
        (["{first}", "{last}"], "{first} and {last}", "{first} or {last}"),
    ],
)
def test_names_in_a_row(names: list[str], all_of: str, one_of: str) -> None:
    assert and_list(names) == and_list(iter(names)) == all_of
    assert or_list(names) == one_of


def test_one_after_another() -> None:
    assert then_list([]) == ""
    assert then_list(["sand"]) == "sand"
    assert then_list(["sand", "wipe", "coat"]) == "sand, then wipe, then coat"


@pytest.mark.parametrize(
    ("place", "said"),
    [(1, "1st"), (2, "2nd"), (3, "3rd"), (4, "4th"), (11, "11th"), (12, "12th"), (13, "13th"),
     (20, "20th"), (21, "21st"), (22, "22nd"), (33, "33rd"), (101, "101st"), (112, "112th")],
)  # fmt: skip
def test_which_one_in_a_row(place: int, said: str) -> None:
    assert nth(place) == said


def test_what_is_empty_is_left_out() -> None:
    assert sentences("One.", "", "Two.") == "One. Two."
    assert notes("until 14:00", "", "insisted") == "until 14:00, insisted"
    assert listed(["", "A"]) == "A"
    assert clauses(["one reason", "", "another"]) == "one reason; another"
    assert sentences() == notes() == clauses([]) == ""


def test_a_sentence_within_another_ends_nowhere() -> None:
    assert within("It is home.") == within("It is home") == "It is home"
    assert within("Print labels…") == "Print labels"
    assert within("Is it home?") == "Is it home?"


def test_only_the_first_letter_is_made_large() -> None:
    assert capital("the mDF of D1") == "The mDF of D1"
    assert capital("") == ""
