from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.sums.climate import (
    DewCheck,
    DewPoint,
    Limits,
    Stretch,
    dew_point,
    stretch,
    surface,
)  # fmt: skip
from partsbench.core.sums.units import Measures
from tests.core.sums.answers import answered
from tests.core.sums.nonsense import NONSENSE


def test_a_cold_damp_shop(limits: Limits) -> None:
    """14 °C and 75 %: deficit ratio 3.96 against 25 °C and 50 %, dew point 9.6 °C, by hand."""
    answer = stretch(limits, 14, 75)
    assert isinstance(answer, Stretch)
    assert answer.factor == pytest.approx(3.96, abs=0.01)
    assert answer.sentence == (
        "14 °C and 75 %: water-borne may need up to 4 times the tin's time; "
        "the surface must be over 12.6 °C."
    )
    assert answer.stretched(4) == pytest.approx(15.85, abs=0.05)


def test_good_air_never_shortens_the_tins_time(limits: Limits) -> None:
    answer = stretch(limits, 30, 30)
    assert isinstance(answer, Stretch)
    assert answer.factor == 1
    assert answer.stretched(4) == 4
    assert "no longer than the tin says" in answer.sentence


@given(st.floats(5, 40), st.floats(20, 90), st.floats(0.1, 5))
def test_colder_or_damper_is_never_quicker(limits: Limits, t: float, h: float, step: float) -> None:
    here, damper, colder = (stretch(limits, *air) for air in ((t, h), (t, h + step), (t - step, h)))
    assert isinstance(here, Stretch)
    assert isinstance(damper, Stretch)
    assert isinstance(colder, Stretch)
    assert 1 <= here.factor <= min(damper.factor, colder.factor)


@given(st.floats(-20, 50), st.floats(1, 100))
def test_dew_point_is_never_above_the_air(t: float, h: float) -> None:
    answer = dew_point(t, h)
    assert isinstance(answer, DewPoint)
    assert answer.celsius <= t + 1e-9


@pytest.mark.parametrize(("humidity", "fit"), [(82.8, True), (83.0, False)])
def test_three_degrees_over_the_dew_point(limits: Limits, humidity: float, fit: bool) -> None:
    """At 20 °C the spread is 3 °C at 82.9 %, worked out by hand."""
    answer = surface(limits, 20, humidity)
    assert isinstance(answer, DewCheck)
    assert answer.fit_to_coat is fit
    assert answer.lacks == ("the temperature of the surface itself",)


def test_air_too_damp_whatever_the_surface(limits: Limits) -> None:
    answer = surface(limits, 20, 86, 40)
    assert isinstance(answer, DewCheck)
    assert answer.sentence == "Do not coat: the air is over 85 % humid."
    assert not answer.fit_to_coat


def test_the_limits_themselves_still_serve(limits: Limits) -> None:
    """ISO 8502-4 asks for at least 3 °C over the dew point, and not more than 85 %."""
    assert answered(DewCheck, surface(limits, 20, 85, 40)).fit_to_coat
    least = answered(DewCheck, surface(limits, 20, 50)).least_c
    assert answered(DewCheck, surface(limits, 20, 50, least)).fit_to_coat
    assert not answered(DewCheck, surface(limits, 20, 50, least - 0.01)).fit_to_coat
    assert isinstance(surface(limits, 20, 100.5), Refused)


def test_a_cold_surface_in_warm_air(limits: Limits) -> None:
    answer = surface(limits, 20, 50, 12)
    assert isinstance(answer, DewCheck)
    assert answer.sentence == "Do not coat: the surface must be over 12.3 °C."


def test_dew_point_in_words() -> None:
    answer = dew_point(14, 75)
    assert isinstance(answer, DewPoint)
    assert answer.sentence == "Dew forms on anything colder than 9.6 °C."
    assert answer.say(Measures.US).endswith("49 °F.")


def test_saturated_air_dries_nothing(limits: Limits) -> None:
    refused = stretch(limits, 20, 100)
    assert isinstance(refused, Refused)
    assert "nothing dries" in refused.sentence


@pytest.mark.parametrize("value", NONSENSE)
def test_air_that_cannot_be(limits: Limits, value: Any) -> None:
    assert isinstance(dew_point(20, value), Refused)
    assert isinstance(stretch(limits, 20, value), Refused)
    assert isinstance(surface(limits, 20, value), Refused)
    if value not in (-1.0,):
        assert isinstance(dew_point(value, 50), Refused)
        if value is not None:  # None: the surface was not measured
            assert isinstance(surface(limits, 20, 50, value), Refused)


def test_a_dew_point_below_the_formula_is_told() -> None:
    assert answered(DewPoint, dew_point(0.5, 1.5)).lacks == (
        "below freezing frost forms a little earlier",
        "the formula ends at -45 °C",
    )
    assert answered(DewPoint, dew_point(20, 50)).lacks == ()


def test_frost_is_told_below_freezing_only() -> None:
    """Saturated air has its dew point at its own temperature."""
    assert answered(DewPoint, dew_point(0, 100)).lacks == ()
    assert answered(DewPoint, dew_point(0.5, 100)).lacks == ()
    assert len(answered(DewPoint, dew_point(-0.5, 100)).lacks) == 1
    assert len(answered(DewPoint, dew_point(-44.5, 100)).lacks) == 1
    assert len(answered(DewPoint, dew_point(-44.7, 95)).lacks) == 2


@pytest.mark.parametrize(("humidity", "said"), [(51, "no longer"), (52, "no longer"), (53, "1.5")])
def test_a_few_hundredths_longer_are_not_once_the_tins_time(
    limits: Limits, humidity: float, said: str
) -> None:
    """25 °C: 51 % is 50 / 49 of the label's time, 1.02; 52 % 1.04; 53 % 1.06."""
    told = answered(Stretch, stretch(limits, 25, humidity)).sentence
    assert said in told
    assert "up to 1 times" not in told
