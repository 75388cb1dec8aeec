"""Against PsychroLib 2.5 (ASHRAE Handbook Fundamentals 2017, ch. 1) and published dew points."""

from __future__ import annotations

import psychrolib
import pytest

from partsbench.core.sums.climate import DewPoint, deficit_hpa, dew_point, saturation_hpa

PUBLISHED = [  # °C, %, °C after the constants of WMO-No. 8, annex 4.B
    (20, 50, 9.255), (21, 65, 14.166), (25, 50, 13.852), (25, 85, 22.300),
    (10, 80, 6.706), (30, 40, 14.925), (15, 90, 13.372),
]  # fmt: skip


@pytest.fixture(autouse=True)
def metric() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize(("t", "h", "dew"), PUBLISHED)
def test_worked_values(t: float, h: float, dew: float) -> None:
    answer = dew_point(t, h)
    assert isinstance(answer, DewPoint)
    assert answer.celsius == pytest.approx(dew, abs=0.0006)


def test_psychrolib_over_the_workshops_range() -> None:
    """Within 0.04 °C from 0 to 40 °C while dew, not frost, forms."""
    compared = 0
    for t in range(0, 41, 2):
        for h in range(10, 101, 5):
            theirs = psychrolib.GetTDewPointFromRelHum(float(t), h / 100)
            ours = dew_point(t, h)
            assert isinstance(ours, DewPoint)
            if theirs > 0:
                assert ours.celsius == pytest.approx(theirs, abs=0.04)
                compared += 1
    assert compared > 250


def test_saturation_pressure_and_deficit() -> None:
    """Within 0.3 % of PsychroLib's saturation pressure from 0 to 40 °C."""
    for t in range(1, 41):
        theirs = psychrolib.GetSatVapPres(float(t)) / 100
        assert saturation_hpa(t) == pytest.approx(theirs, rel=0.003)
        assert deficit_hpa(t, 60) == pytest.approx(theirs * 0.4, rel=0.003)
