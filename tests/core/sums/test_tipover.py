from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.tipover import (
    Scope,
    Space,
    Tipover,
    enclosed_dm3,
    say_limits,
    tipover,
)
from partsbench.core.sums.units import Measures, show_mass
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


def test_all_three_must_be_reached(scope: Scope) -> None:
    for tall, heavy, roomy in product((685, 686), (13.5, 13.7), (90, 91)):
        answer = answered(Tipover, tipover(scope, tall, heavy, roomy))
        assert answer.covered is (tall == 686 and heavy == 13.7 and roomy == 91)


def test_the_thresholds_themselves_are_inside(scope: Scope) -> None:
    """27 in, 30 lb and 3.2 ft³ in metric."""
    answer = answered(Tipover, tipover(scope, 27 * 25.4, 30 * 0.45359237, 3.2 * 28.316846592))
    assert answer.covered is True


def test_one_below_is_enough_to_be_outside_and_it_still_tips(scope: Scope) -> None:
    answer = answered(Tipover, tipover(scope, 600, None, None))
    assert answer.covered is False
    assert (
        "Below the scope of ASTM F2057-23 in overall height; it can still tip." in answer.sentence
    )
    assert "Fix it to the wall" in answer.sentence
    assert answer.lacks == ("mass", "enclosed volume")


def test_not_known_is_not_no(scope: Scope) -> None:
    answer = answered(Tipover, tipover(scope, 1200, 40, None))
    assert answer.covered is None
    assert "Not enough is known" in answer.sentence


@given(st.none() | st.floats(1, 2000), st.none() | st.floats(1, 200), st.none() | st.floats(1, 900))
def test_every_answer_advises_to_fix_it_and_claims_no_compliance(
    scope: Scope, height: float | None, mass: float | None, volume: float | None
) -> None:
    said = answered(Tipover, tipover(scope, height, mass, volume)).sentence.lower()
    assert "fix it to the wall" in said
    assert "safe" not in said
    assert "compl" not in said


def test_drawers_count_in_full_and_shelves_by_half(scope: Scope) -> None:
    drawer, shelf = Space(1000, 100 - 3.2, 100), Space(1000, 100, 100, drawer=False)
    assert enclosed_dm3(scope, [drawer]) == pytest.approx(10)
    assert enclosed_dm3(scope, [shelf]) == pytest.approx(5)
    assert enclosed_dm3(scope, [drawer, shelf]) == pytest.approx(15)


def test_limits_in_either_measure(scope: Scope) -> None:
    assert say_limits(scope) == "686 mm high overall, 13.6 kg, 90.6 dm³ enclosed: all three"
    assert say_limits(scope, Measures.US) == '27" high overall, 30 lb, 3.2 ft³ enclosed: all three'


@pytest.mark.parametrize("value", [v for v in NONSENSE if v is not None])
def test_measures_that_cannot_be(scope: Scope, value: Any) -> None:
    assert "height" in refused(tipover(scope, value, 20, 100))
    assert "mass" in refused(tipover(scope, 800, value, 100))
    assert "enclosed volume" in refused(tipover(scope, 800, 20, value))
    assert "depth" in refused(enclosed_dm3(scope, [Space(100, 100, value)]))


def test_no_spaces(scope: Scope) -> None:
    assert refused(enclosed_dm3(scope, [])) == "spaces: there are none."


def test_a_hundred_pounds() -> None:
    """One pound is 0.45359237 kg exactly (NIST Special Publication 811)."""
    assert show_mass(45.359237, Measures.US) == "100 lb"
    assert show_mass(45.359237) == "45.4 kg"
