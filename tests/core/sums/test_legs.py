from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.legs import LegCorner, Shim, Shimming, from_heights, from_rock
from partsbench.core.sums.units import Measures
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE

EVEN = dict.fromkeys(LegCorner, 150.0)


def out_of_plane(heights: dict[LegCorner, float]) -> float:
    one = heights[LegCorner.FRONT_LEFT] + heights[LegCorner.REAR_RIGHT]
    return one - heights[LegCorner.FRONT_RIGHT] - heights[LegCorner.REAR_LEFT]


def test_the_short_foot_gets_the_shim() -> None:
    answer = answered(Shimming, from_heights(EVEN | {LegCorner.REAR_LEFT: 148.5}))
    assert answer.sentence == "Shim rear left 1.5 mm."
    assert answer.level == (Shim(LegCorner.REAR_LEFT, 1.5),)
    assert answer.say(Measures.US) == "Shim rear left 0.060 in."


def test_a_long_leg_rocks_over_the_other_diagonal() -> None:
    answer = answered(Shimming, from_heights(EVEN | {LegCorner.REAR_LEFT: 152.0}))
    assert answer.steady is not None
    assert answer.steady.corner in (LegCorner.FRONT_LEFT, LegCorner.REAR_RIGHT)
    assert answer.steady.mm == pytest.approx(2)
    assert len(answer.level) == 3


def test_leaning_is_not_rocking() -> None:
    tilted = EVEN | {LegCorner.REAR_LEFT: 145.0, LegCorner.REAR_RIGHT: 145.0}
    answer = answered(Shimming, from_heights(tilted))
    assert answer.steady is None
    assert answer.sentence == "All four feet stand."
    assert len(answer.level) == 2


@given(st.lists(st.floats(100, 160), min_size=4, max_size=4))
def test_the_shim_brings_all_four_into_one_plane(sizes: list[float]) -> None:
    heights = dict(zip(LegCorner, sizes, strict=True))
    answer = answered(Shimming, from_heights(heights))
    if answer.steady is not None:
        heights[answer.steady.corner] += answer.steady.mm
    assert abs(out_of_plane(heights)) < 0.3


def test_the_rock_at_one_foot_is_its_shim() -> None:
    assert (
        answered(Shimming, from_rock(LegCorner.FRONT_RIGHT, 2)).sentence
        == "Shim front right 2.0 mm."
    )
    assert answered(Shimming, from_rock(LegCorner.FRONT_RIGHT, 0.2)).steady is None


@pytest.mark.parametrize("value", NONSENSE)
def test_heights_that_cannot_be(value: Any) -> None:
    assert "height rear left" in refused(from_heights(EVEN | {LegCorner.REAR_LEFT: value}))
    if value is not True:
        assert "gap under the foot" in refused(from_rock(LegCorner.REAR_LEFT, value))


def test_a_height_left_out() -> None:
    three = {corner: 150.0 for corner in LegCorner if corner is not LegCorner.REAR_RIGHT}
    assert refused(from_heights(three)) == "height rear right: is missing."


def test_three_tenths_are_shimmed_and_less_is_left_to_the_floor() -> None:
    rear = LegCorner.REAR_LEFT
    assert answered(Shimming, from_rock(rear, 0.3)).steady == Shim(rear, 0.3)
    assert answered(Shimming, from_rock(rear, 0.29)).steady is None
    low = answered(Shimming, from_heights(EVEN | {rear: 149.69}))
    assert low.steady is not None and [shim.corner for shim in low.level] == [rear]
    assert answered(Shimming, from_heights(EVEN | {rear: 149.71})) == Shimming(None, (), low.lacks)
