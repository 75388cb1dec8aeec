from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.sources import Status
from partsbench.core.sums.figure import Figure
from partsbench.core.sums.refusal import wrong
from partsbench.core.sums.units import Measures
from partsbench.core.sums.wood import (
    Cut,
    Moisture,
    Movement,
    Wood,
    find_cut,
    find_wood,
    moisture,
    movement,
)  # fmt: skip
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE

SEEN = Status.READ_IN_A_COPY
PLANK = Wood(
    "plank",
    "plank",
    Figure(0.00190, "a table", SEEN),
    Figure(0.00274, "a table", SEEN),
    Figure(30, "a table", SEEN),
)


def test_moisture_is_said_to_the_half_percent_and_with_its_caution() -> None:
    air = moisture(20, 50)
    assert isinstance(air, Moisture)
    assert air.sentence == "Wood left in this air (20 °C, 50 %) comes to about 9.5 % moisture."
    assert "68 °F" in air.say(Measures.US)
    assert "trend" in air.caution
    assert air.lacks == ()


@pytest.mark.parametrize(("t", "h"), [(20, 3), (20, 98), (-10, 50)])
def test_air_outside_the_handbooks_table_says_so(t: float, h: float) -> None:
    air = moisture(t, h)
    assert isinstance(air, Moisture)
    assert "table ends" in air.lacks[0]


@given(st.floats(-1, 60), st.floats(5, 94), st.floats(0.01, 1))
def test_damper_air_never_gives_drier_wood(t: float, h: float, more: float) -> None:
    one, other = moisture(t, h), moisture(t, h + more)
    assert isinstance(one, Moisture)
    assert isinstance(other, Moisture)
    assert 0 < one.percent < other.percent < 30


@pytest.mark.parametrize("value", NONSENSE)
def test_air_that_cannot_be(value: Any) -> None:
    assert isinstance(moisture(20, value), Refused)
    if value not in (-1.0,):  # minus one degree is a temperature
        assert isinstance(moisture(value, 50), Refused)


def test_movement_says_which_way() -> None:
    grown = movement(180, PLANK, Cut.FLAT, 8, 12)
    assert isinstance(grown, Movement)
    assert grown.change_mm == pytest.approx(180 * 0.00274 * 4)
    assert grown.sentence == "180 mm of plank may grow about 2.0 mm from 8 to 12 % moisture."
    shrunk = movement(180, PLANK, Cut.FLAT, 12, 8)
    assert isinstance(shrunk, Movement)
    assert "shrink about 2.0 mm" in shrunk.sentence
    still = movement(180, PLANK, Cut.FLAT, 8, 8)
    assert isinstance(still, Movement)
    assert "hardly moves" in still.sentence
    assert "overestimates" in grown.caution


def test_mixed_grain_is_the_mean_and_asks_how_it_was_sawn() -> None:
    flat, quarter, mixed = (movement(100, PLANK, cut, 7, 11) for cut in Cut)
    assert isinstance(flat, Movement)
    assert isinstance(quarter, Movement)
    assert isinstance(mixed, Movement)
    assert mixed.change_mm == pytest.approx((flat.change_mm + quarter.change_mm) / 2)
    assert mixed.lacks == ("whether the board is flat or quarter sawn",)


@given(st.floats(1, 2000), st.floats(0, 30), st.floats(0, 30), st.sampled_from(Cut))
def test_there_and_back_is_where_it_began(size: float, a: float, b: float, cut: Cut) -> None:
    """Eq. 13-3 is exact both ways; eq. 13-2, a line, within 0.3 % of the size."""
    there = movement(size, PLANK, cut, a, b)
    assert isinstance(there, Movement)
    back = movement(size + there.change_mm, PLANK, cut, b, a)
    assert isinstance(back, Movement)
    assert there.change_mm + back.change_mm == pytest.approx(0, abs=size * 0.003)
    assert (there.change_mm >= 0) == (b >= a) or there.change_mm == pytest.approx(0)


def test_inside_and_outside_six_to_fourteen_meet() -> None:
    """At 14 % the two forms differ by a few hundredths of the change, no more."""
    inside = movement(200, PLANK, Cut.FLAT, 8, 14)
    outside = movement(200, PLANK, Cut.FLAT, 8, 14.001)
    assert isinstance(inside, Movement)
    assert isinstance(outside, Movement)
    assert inside.sources != outside.sources
    assert outside.change_mm == pytest.approx(inside.change_mm, rel=0.03)


@pytest.mark.parametrize("value", NONSENSE)
def test_sizes_and_moistures_that_cannot_be(value: Any) -> None:
    assert isinstance(movement(value, PLANK, Cut.FLAT, 8, 12), Refused)
    assert isinstance(movement(180, PLANK, Cut.FLAT, value, 12), Refused)
    assert isinstance(movement(180, PLANK, Cut.FLAT, 8, value), Refused)


def test_green_wood_is_refused_by_name() -> None:
    refused = movement(180, PLANK, Cut.FLAT, 8, 31)
    assert refused == wrong("moisture at the end", "31 % is more than 30 %")


@pytest.mark.parametrize(
    ("asked", "key"),
    [
        ("black walnut", "walnut-black"),
        ("Walnut, black", "walnut-black"),
        ("walnut-black", "walnut-black"),
        ("red oak", "oak-red"),
        ("poplar", "yellow-poplar"),
        ("teak", "teak"),
    ],
)
def test_a_wood_is_found_by_its_words(woods: dict[str, Wood], asked: str, key: str) -> None:
    found = find_wood(woods, asked)
    assert isinstance(found, Wood)
    assert found.key == key


@pytest.mark.parametrize(
    ("asked", "why"),
    [("", "missing"), ("oak", "several"), ("wallnut", "did you mean walnut"), ("xq", "not in")],
)
def test_a_wood_not_found(woods: dict[str, Wood], asked: str, why: str) -> None:
    refused = find_wood(woods, asked)
    assert isinstance(refused, Refused)
    assert why in refused.sentence


@pytest.mark.parametrize(
    ("asked", "key"),
    [
        ("MDF", "mdf"),
        ("chipboard", "particleboard"),
        ("birch plywood", "plywood"),
        ("oak veneered plywood", "plywood"),
        ("Veneer on MDF", "veneer on mdf"),
        ("walnut veneer on chipboard", "walnut veneer on particleboard"),
        ("walnut on poplar", "walnut on yellow-poplar"),
        ("pear 0.0025", "pear 0.0025"),
        ("0,25 %", "0,25 %"),
        ("pear 1 %", "pear 1 %"),
        ("veneer on pear 0.0025", "veneer on pear 0.0025"),
    ],
)
def test_boards_veneers_and_woods_of_ones_own(woods: dict[str, Wood], asked: str, key: str) -> None:
    found = find_wood(woods, asked)
    assert isinstance(found, Wood)
    assert found.key == key
    assert find_wood(woods, found.key) == found, "what is kept is found again"


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        ("veneer", "write it as in “veneer on plywood”"),
        ("veneer on", "write it as in"),
        ("veneer on oak", "several"),
        ("pear", "with a coefficient of your own"),
        ("pear 0.25", "write 0.0025, or 0.25 %"),
        ("pear 0", "not over 0"),
        ("pear 1.01 %", "not over 0 and up to 0.01"),
        ("pear -0.002", "not in the table"),
    ],
)
def test_what_is_no_board_veneer_or_coefficient(
    woods: dict[str, Wood], asked: str, why: str
) -> None:
    refused = find_wood(woods, asked)
    assert isinstance(refused, Refused)
    assert why in refused.sentence


@pytest.mark.parametrize(("board", "grown"), [("plywood", 1.008), ("mdf", 2.16)])
def test_a_board_moves_by_one_figure_at_any_moisture(
    woods: dict[str, Wood], board: str, grown: float
) -> None:
    """By hand: 400 mm from 6 to 18 %: 400 × 0.00021 × 12 and 400 × 0.00045 × 12."""
    for cut in Cut:
        found = movement(400, woods[board], cut, 6, 18)
        assert isinstance(found, Movement)
        assert found.change_mm == pytest.approx(grown)
        assert found.lacks == ()
        assert "differ by make" in found.caution and "one figure" in found.valid
    green = movement(400, woods[board], Cut.FLAT, 8, 31)
    assert green == wrong("moisture at the end", "31 % is more than 30 %")


def test_a_wood_of_ones_own_moves_by_what_was_typed(woods: dict[str, Wood]) -> None:
    pear = find_wood(woods, "pear 0.25 %")
    assert isinstance(pear, Wood)
    found = movement(180, pear, Cut.MIXED, 8, 12)
    assert isinstance(found, Movement)
    assert found.sentence == "180 mm of pear may grow about 1.8 mm from 8 to 12 % moisture."
    assert found.sources == ("pear, 0.0025 for each 1 % of moisture (your own figure)",)
    assert found.lacks == () and "your own" in found.caution


def test_cuts() -> None:
    assert find_cut("Flat-sawn") is Cut.FLAT
    assert find_cut("quartersawn") is Cut.QUARTER
    assert isinstance(find_cut("across"), Refused)


@pytest.mark.parametrize(
    ("f", "h", "told"),
    [
        (68, 5, False), (68, 4.5, True), (68, 5.5, False),
        (68, 95, False), (68, 95.5, True), (68, 94.5, False),
        (30, 50, False), (29, 50, True), (33, 50, False),
    ],
)  # fmt: skip
def test_the_handbooks_table_runs_from_5_to_95_percent_and_from_30_f(
    f: float, h: float, told: bool
) -> None:
    """Wood Handbook, FPL-GTR-282 (2021), Table 4-2: its first and last row and column."""
    assert bool(answered(Moisture, moisture((f - 32) / 1.8, h)).lacks) is told


def test_fog_is_air_and_more_than_all_the_water_is_not() -> None:
    assert isinstance(moisture(20, 100), Moisture)
    assert isinstance(moisture(20, 0), Moisture)
    assert refused(moisture(20, 100.5)) == "humidity: 100.5 % is more than 100 %."


def test_a_small_change_has_a_direction_too() -> None:
    said = answered(Movement, movement(50, PLANK, Cut.FLAT, 8, 12)).sentence
    assert said == "50 mm of plank may grow about 0.5 mm from 8 to 12 % moisture."


@pytest.mark.parametrize(("start", "end"), [(4, 12), (8, 16), (4, 16), (16, 4)])
def test_mixed_grain_lies_halfway_in_very_dry_and_very_damp_wood_too(
    start: float, end: float
) -> None:
    """Eq. 13-3 bends a little, so halfway holds to one part in a hundred."""
    flat, quarter, mixed = (
        answered(Movement, movement(100, PLANK, cut, start, end)).change_mm for cut in Cut
    )
    assert mixed == pytest.approx((flat + quarter) / 2, rel=0.01)
    assert sorted((flat, mixed, quarter))[1] == mixed


@pytest.mark.parametrize(("start", "end"), [(4, 12), (12, 4), (8, 15), (5.9, 14), (6, 14.1)])
def test_one_end_outside_six_to_fourteen_takes_the_other_equation(start: float, end: float) -> None:
    assert "13-3" in answered(Movement, movement(100, PLANK, Cut.FLAT, start, end)).sources[0]


def test_six_and_fourteen_themselves_are_inside() -> None:
    assert "13-2" in answered(Movement, movement(100, PLANK, Cut.FLAT, 6, 14)).sources[0]


@pytest.mark.parametrize("cut", Cut)
def test_a_wood_without_shrinkage_moves_by_its_line_from_ten_percent(cut: Cut) -> None:
    """The two equations have one slope at 10 %: what is worked back must give the line again."""
    answer = answered(Movement, movement(1000, PLANK, cut, 10, 20))
    assert answer.change_mm == pytest.approx(1000 * PLANK.coefficient(cut) * 10, rel=0.01)
    if cut is not Cut.MIXED:
        assert answer.change_mm == pytest.approx(1000 * PLANK.coefficient(cut) * 10)


def test_the_figure_of_the_cut_is_the_one_that_is_cited() -> None:
    wood = replace(PLANK, radial=Figure(0.0019, "across the rays", SEEN))
    assert "rays" in movement_sources(wood, Cut.QUARTER)
    assert "rays" not in movement_sources(wood, Cut.FLAT)


def movement_sources(wood: Wood, cut: Cut) -> str:
    return " ".join(answered(Movement, movement(100, wood, cut, 8, 12)).sources)
