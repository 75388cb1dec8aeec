"""Coverage against print and its definition (NIST Handbook 44, app. C: 231 in³ to the gallon)."""

from __future__ import annotations

import pytest

from partsbench.core.sums.film import FT2_MIL_PER_GALLON, Coverage, coverage
from partsbench.core.sums.units import M2_PER_FT2, ML_PER_GALLON


def test_a_gallon_covers_1604_square_feet_at_one_mil() -> None:
    assert pytest.approx(1604.1667, abs=0.0001) == FT2_MIL_PER_GALLON
    answer = coverage(100, 25.4, 100)
    assert isinstance(answer, Coverage)
    assert answer.ft2_per_gal == pytest.approx(1604.1667, abs=0.0001)


def test_the_printed_example() -> None:
    """A coatings magazine (Oct 2003): 52 % solids, 30 % transfer, 1.5 mil: 167 ft²."""
    answer = coverage(52, 1.5 * 25.4, 30)
    assert isinstance(answer, Coverage)
    assert round(answer.ft2_per_gal) == 167


def test_practical_coverage_is_theory_less_loss() -> None:
    """A corrosion glossary: 100 ft² a gallon with 30 % loss is 70."""
    whole, lossy = coverage(50, 100, 100), coverage(50, 100, 70)
    assert isinstance(whole, Coverage)
    assert isinstance(lossy, Coverage)
    assert lossy.ft2_per_gal / whole.ft2_per_gal == pytest.approx(0.70)


def test_four_hundred_square_feet_a_gallon_is_four_mils_wet() -> None:
    """A printed answer says 4 thousandths; by definition 4.01."""
    answer = coverage(100, 4.0104 * 25.4, 100)
    assert isinstance(answer, Coverage)
    assert answer.ft2_per_gal == pytest.approx(400, abs=0.01)


def test_metric_and_us_are_one_figure() -> None:
    """1 m²/l = 40.7458 ft²/gal; ours by two separate ways."""
    answer = coverage(37, 55, 65)
    assert isinstance(answer, Coverage)
    assert answer.ft2_per_gal / answer.m2_per_l == pytest.approx(40.7458, abs=0.0001)
    assert pytest.approx(40.7458, abs=0.0001) == ML_PER_GALLON / 1000 / M2_PER_FT2
