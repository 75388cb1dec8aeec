from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.naming import few, runs, spread, together
from partsbench.core.piece.codes import HIGHEST_NUMBER, Family, short_number
from partsbench.core.piece.spot import Spot


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["P1", "P2", "P3", "P4", "P7"], ["P1–P4", "P7"]),
        (["P1", "P2", "P9", "P10", "P11"], ["P1", "P2", "P9–P11"]),
        (["D5"], ["D5"]),
        ([], []),
        (["P98", "P99", "PA0", "PA1"], ["P98–PA1"]),
        (["D1", "D2", "D3 front", "D4", "D5"], ["D1", "D2", "D3 front", "D4", "D5"]),
        (["D3", "D2", "D1"], ["D3", "D2", "D1"]),
        (["D1", "D2", "G3", "G4", "G5"], ["D1", "D2", "G3–G5"]),
    ],
)
def test_numbers_in_a_row_are_told_by_first_and_last(names: list[str], told: list[str]) -> None:
    assert runs(names) == told


@given(st.sets(st.integers(1, HIGHEST_NUMBER)))
def test_every_number_can_be_told_from_the_runs(numbers: set[int]) -> None:
    spelled = {short_number(Family.PULL, n): n for n in range(1, HIGHEST_NUMBER + 1)}
    found: list[int] = []
    for run in runs(short_number(Family.PULL, n) for n in sorted(numbers)):
        first, _, last = run.partition("–")
        found += range(spelled[first], spelled[last or first] + 1)
    assert found == sorted(numbers)


def test_sixty_drawers_are_one_word() -> None:
    assert together(f"D{n}" for n in range(1, 61)) == "D1–D60"


def test_of_too_many_the_first_stand_and_the_rest_is_counted() -> None:
    odd = [f"D{n}" for n in range(1, 20, 2)]
    assert together(odd) == "D1, D3, D5, D7, D9, D11, D13, D15 and 2 more"
    assert together(odd[:9]) == "D1, D3, D5, D7, D9, D11, D13, D15, D17"
    assert together([*odd[:8], "P1", "P2", "P3"]) == f"{', '.join(odd[:8])} and 3 more"
    assert together(odd, most=2) == "D1, D3 and 8 more"
    assert together([]) == ""


def test_one_text_more_is_told_and_two_are_counted() -> None:
    assert few(["a", "b", "c"], 2) == ("a", "b", "c")
    assert few(["a", "b", "c", "d"], 2) == ("a", "b", "and 2 more")
    assert few(list("abcdefgh")) == (*"abcdef", "and 2 more")


@pytest.mark.parametrize(
    ("name", "spread_out"),
    [
        ("D1–D4", ["D1", "D2", "D3", "D4"]),
        ("d2-4", ["D2", "D3", "D4"]),
        ("P7 - P8 face", ["P7 face", "P8 face"]),
        ("D4-D1", ["D4-D1"]),
        ("D1-L4", ["D1-L4"]),
        ("K7Q4-D05AK", ["K7Q4-D05AK"]),
        ("D1-D401", ["D1-D401"]),
        ("top", ["top"]),
    ],
)
def test_a_run_that_is_typed_means_each_of_its_names(name: str, spread_out: list[str]) -> None:
    assert spread(name) == spread_out


def test_a_run_is_of_one_face() -> None:
    fronts = [Spot(f"D{n}", "front") for n in (1, 2, 3)]
    assert runs([*fronts, Spot("D4", "back"), Spot("D5")]) == ["D1–D3 front", "D4 back", "D5"]
    assert runs([Spot("D1"), Spot("D2"), "D3"]) == ["D1–D3"], "a part as a whole is its number"
    mixed = [Spot("D1", "front"), Spot("D2"), Spot("D3", "front")]
    assert runs(mixed) == ["D1 front", "D2", "D3 front"]


def test_what_is_drawn_together_can_be_typed_again() -> None:
    spots = [Spot(f"D{n}", "front") for n in range(3, 9)]
    (drawn,) = runs(spots)
    assert spread(drawn) == list(map(str, spots))
