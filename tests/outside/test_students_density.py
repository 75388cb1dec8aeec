"""The weight of a misfit against scipy's own densities of Student's distribution."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import t

from partsbench.core.sums.plays import Gap, expected

PLAYS = st.lists(st.floats(0.5, 6), max_size=8)
OFF = st.floats(-15, 15)


@given(PLAYS, OFF, OFF)
def test_a_misfit_is_how_much_less_likely_it_is_than_the_usual(
    seen: list[float], mean: float, uneven: float
) -> None:
    play = expected("height", [Gap(mm, mm, mm - 3) for mm in seen])

    def below_the_peak(off: float, spread: float, sure: float) -> float:
        return float(t.logpdf(0, sure, scale=spread) - t.logpdf(off, sure, scale=spread))

    of_mean = below_the_peak(mean - play.usual_mm, play.spread_mm, play.sure)
    of_ends = below_the_peak(uneven, play.uneven_mm, play.sure_of_ends)
    assert play.misfit(Gap(mean, 0.0, uneven)) == pytest.approx(of_mean + of_ends, abs=1e-9)
    wider = (play.spread_mm**2 + play.uneven_mm**2 / 4) ** 0.5
    alone = below_the_peak(mean - play.usual_mm, wider, play.sure)
    assert play.misfit(Gap(mean, 0.0)) == pytest.approx(alone, abs=1e-9)
