from __future__ import annotations

from itertools import combinations, pairwise
from math import ceil
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.piece.spot import Spot
from partsbench.core.sums.mix import (
    Mix,
    Rate,
    Recipe,
    Surface,
    film_rate,
    how_much,
    recipe,
    wiped_rate,
)
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE

HUNDRED = Rate(100, 100)
"""ml a m²: 65 µm at 65 %."""
FRONT = [
    Surface(Spot("D1"), 0.1, "top"),
    Surface(Spot("D2"), 0.1, "top"),
    Surface(Spot("D3"), 0.2, "middle"),
    Surface(Spot("D4"), 0.2, "middle"),
    Surface(Spot("D5"), 0.3, "bottom"),
]


def loads_of(*named: str) -> list[tuple[Spot, ...]]:
    """`D1 D2`, `D3`: the parts of each filling."""
    return [tuple(map(Spot, names.split())) for names in named]


def test_one_square_metre_at_one_micron_is_one_millilitre() -> None:
    """3.4 m² at 109 µm and 65 % are 570 ml."""
    assert film_rate(1, 100) == Rate(1, 1)
    assert film_rate(65, 65) == HUNDRED
    assert 3.4 * answered(Rate, film_rate(109, 65)).most == pytest.approx(570, abs=0.5)


def test_what_is_wiped_takes_from_a_litre_by_the_area_it_goes_over() -> None:
    """At 12.5 to 20 m² a litre: 50 to 80 ml a m². A coat on 0.9 m² is 45 to 72 ml."""
    rate = answered(Rate, wiped_rate(12.5, 20))
    assert (rate.least, rate.most) == (50, 80)
    answer = answered(Mix, how_much(FRONT, rate, 50, coats=2))
    assert (answer.least_ml, answer.coat_ml) == (pytest.approx(45), pytest.approx(72))
    assert (answer.least_total_ml, answer.total_ml) == (pytest.approx(90), pytest.approx(144))
    assert [load.ml for load in answer.loads] == [pytest.approx(48), pytest.approx(24)]
    assert sum(load.ml for load in answer.loads) == pytest.approx(72)
    shared = answered(Mix, how_much([Surface(Spot("top"), 1.0)], rate, 60))
    assert [load.ml for load in shared.loads] == [pytest.approx(40)] * 2
    assert "more than" in refused(wiped_rate(1001, 1002)) and refused(wiped_rate(0.09, 1))
    assert refused(wiped_rate(2, 1)) and answered(Rate, wiped_rate(0.1, 0.1)).most == 10_000


def test_loads_break_between_rows_though_a_fuller_first_cup_would_not() -> None:
    """100 ml a m²: rows of 20, 40 and 30 ml. A 50 ml cup would take D1 to D3 and split a row."""
    answer = answered(Mix, how_much(FRONT, HUNDRED, 50, coats=2))
    assert [load.faces for load in answer.loads] == loads_of("D1 D2", "D3 D4", "D5")
    assert not any(load.breaks_row for load in answer.loads)
    assert answer.coat_ml == pytest.approx(90)
    assert answer.total_ml == pytest.approx(180)


def test_a_row_is_broken_only_where_no_cup_holds_it() -> None:
    small = answered(Mix, how_much(FRONT[:4], HUNDRED, 31))
    assert [load.faces for load in small.loads] == loads_of("D1 D2", "D3", "D4")
    assert [load.breaks_row for load in small.loads] == [False, True, False]


def test_a_face_larger_than_a_cup_is_shared_out() -> None:
    answer = answered(Mix, how_much([Surface(Spot("top"), 1.0)], HUNDRED, 60))
    assert [load.faces for load in answer.loads] == [
        (Spot("top", "(1 of 2)"),),
        (Spot("top", "(2 of 2)"),),
    ]
    assert [load.ml for load in answer.loads] == [pytest.approx(50)] * 2
    one = answered(Mix, how_much([Surface(Spot("top"), 0.5)], HUNDRED, 60))
    assert [load.faces for load in one.loads] == [(Spot("top"),)]


@given(
    st.lists(st.floats(0.05, 0.5), min_size=1, max_size=7),
    st.lists(st.sampled_from("ab"), min_size=7, max_size=7),
)
def test_no_other_split_has_fewer_breaks_or_loads(areas: list[float], rows: list[str]) -> None:
    """Every way to cut the order into loads, enumerated."""
    faces = [
        Surface(Spot(f"D{i}"), m2, row)
        for i, (m2, row) in enumerate(zip(areas, rows, strict=False))
    ]
    answer = answered(Mix, how_much(faces, HUNDRED, 50))
    assert [name for load in answer.loads for name in load.faces] == [face.name for face in faces]
    assert all(load.ml <= 50 + 1e-6 for load in answer.loads)
    ranks = []
    for count in range(len(faces)):
        for cuts in combinations(range(1, len(faces)), count):
            ends = [0, *cuts, len(faces)]
            if all(sum(areas[a:b]) * 100 <= 50 for a, b in pairwise(ends)):
                ranks.append((sum(rows[cut - 1] == rows[cut] for cut in cuts), count + 1))
    assume(ranks)
    assert (sum(load.breaks_row for load in answer.loads), len(answer.loads)) == min(ranks)


@given(st.floats(1, 500), st.floats(1, 99), st.floats(0.1, 1))
def test_less_transfer_takes_more_mix(wet: float, share: float, less: float) -> None:
    here, wasteful = film_rate(wet, share + less), film_rate(wet, share)
    assert answered(Rate, wasteful).most > answered(Rate, here).most
    assert answered(Rate, wasteful).least == answered(Rate, wasteful).most


def test_the_same_mix_again_for_a_touch_up() -> None:
    answer = answered(Recipe, recipe({"clear": 520, "colour": 60, "water": 20}, 60, 2))
    assert answer.sentence == "For 60 ml: 52 clear, 6 colour, 2 water."
    assert answer.worst_error == pytest.approx(0)


def test_a_coarse_cup_takes_a_little_more_to_keep_the_ratio() -> None:
    answer = answered(Recipe, recipe({"clear": 2, "water": 1}, 100, 25))
    assert answer.amounts == (("clear", 100), ("water", 50))


@given(
    st.dictionaries(st.sampled_from("abcd"), st.floats(1, 20), min_size=1),
    st.floats(20, 3000),
    st.sampled_from([1.0, 2.0, 5.0, 10.0]),
)
def test_each_part_is_kept_within_one_percent_of_itself(
    ratio: dict[str, float], target: float, step: float
) -> None:
    answer = recipe(ratio, target, step)
    if isinstance(answer, Refused):
        assert "too little" in answer.sentence
        assert target * min(ratio.values()) / sum(ratio.values()) < 5  # 0.05 of 5 ml is 1 %
        return
    assert answer.step_ml in (step, 0.5, 0.1)
    assert bool(answer.lacks) == (answer.step_ml != step)
    # Half as much again, in whole steps of the cup, and a step more for each product.
    least = ceil(target / answer.step_ml)
    most = (ceil(least * 1.5) + len(ratio)) * answer.step_ml
    assert target - 1e-3 <= answer.total_ml <= most + 1e-3
    for name, ml in answer.amounts:
        assert ml / answer.step_ml == pytest.approx(round(ml / answer.step_ml), abs=1e-6)
        part = ratio[name] / sum(ratio.values())
        assert abs(ml / answer.total_ml - part) <= (0.01 + 1e-6) * part


def test_a_little_tint_is_as_exact_as_the_clear() -> None:
    """2 of 102 in a cup of 2 ml: 10 in 500 is 2 % off, 10 in 506 is not 1 %."""
    answer = answered(Recipe, recipe({"clear": 100, "tint": 2}, 500, 2))
    assert answer.amounts == (("clear", 496), ("tint", 10))
    assert 0.007 < answer.worst_error <= 0.01


def test_what_the_cup_cannot_show_is_taken_with_a_syringe() -> None:
    answer = answered(Recipe, recipe({"clear": 52, "colour": 6, "water": 2}, 7, 2))
    assert answer.amounts == (("clear", 7.8), ("colour", 0.9), ("water", 0.3))
    assert "syringe" in answer.lacks[0]


@pytest.mark.parametrize("value", NONSENSE)
def test_mixes_that_cannot_be(value: Any) -> None:
    assert "area of D1" in refused(how_much([Surface(Spot("D1"), value)], HUNDRED, 50))
    refused(film_rate(value, 65))
    refused(film_rate(65, value))
    refused(wiped_rate(value, 15))
    refused(wiped_rate(12, value))
    refused(how_much(FRONT, HUNDRED, value))
    refused(how_much(FRONT, HUNDRED, 50, value)) if value is not True else None
    refused(recipe({"clear": 1}, value, 1))
    refused(recipe({"clear": 1}, 60, value))
    if value != 1e30:
        refused(recipe({"clear": value}, 60, 1))


def test_nothing_to_mix_and_far_too_small_a_cup() -> None:
    assert refused(how_much([], HUNDRED, 50)) == "faces: there are none to coat."
    assert "far too small" in refused(how_much([Surface(Spot("top"), 50)], Rate(5000, 5000), 1))
    assert refused(recipe({}, 60, 1)) == "recipe: names no product."
    assert "10 ml is too little" in refused(recipe({"clear": 4000, "tint": 1}, 10, 2))


def test_a_trace_is_weighed_and_hundreds_of_cups_are_counted() -> None:
    assert "one in 10,000" in refused(recipe({"a": 1, "b": 1e-7}, 100_000, 0.1))
    rate = answered(Rate, film_rate(10_000, 65))
    many = answered(Mix, how_much([Surface(Spot("top"), 0.6)], rate, 14))
    assert len(many.loads) == 660


def test_of_as_few_cups_the_even_ones_are_mixed() -> None:
    """Four fronts of 10 ml and cups of 30 ml: two and two, not three and one."""
    fronts = [Surface(Spot(f"D{i}"), 0.1) for i in range(1, 6)]
    sizes = [
        [len(load.faces) for load in answered(Mix, how_much(fronts[:count], HUNDRED, 30)).loads]
        for count in (3, 4, 5)
    ]
    assert sizes[:2] == [[3], [2, 2]]
    assert sorted(sizes[2]) == [2, 3]


def test_a_step_left_over_is_given_once() -> None:
    """Thirds of 100 would be 33, 33 and 34, which is 2 % too much of one: 102 are even."""
    thirds = answered(Recipe, recipe({"clear": 1, "colour": 1, "water": 1}, 100, 1))
    assert [ml for _, ml in thirds.amounts] == [34, 34, 34]
    near = answered(Recipe, recipe({"clear": 2, "colour": 1}, 200, 1))
    assert near.amounts == (("clear", 133), ("colour", 67))


def test_a_step_left_over_goes_to_the_part_that_lacks_most_of_one() -> None:
    """Of 400 two thirds are 266.67 and one third 133.33; of 200 they are 133.33 and 66.67."""
    for target, parts in ((400, (267, 133)), (200, (133, 67))):
        found = answered(Recipe, recipe({"clear": 2, "colour": 1}, target, 1))
        assert tuple(ml for _, ml in found.amounts) == parts
