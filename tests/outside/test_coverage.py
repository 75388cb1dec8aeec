"""Coverage against print and its definition (NIST Handbook 44, app. C: 231 in³ to the gallon)."""

from __future__ import annotations

import pytest

from partsbench.core.piece.spot import Spot
from partsbench.core.sums.film import FT2_MIL_PER_GALLON, Coverage, coverage
from partsbench.core.sums.mix import Mix, Rate, Surface, film_rate, how_much, wiped_rate
from partsbench.core.sums.units import M2_PER_FT2, ML_PER_GALLON
from partsbench.services.sums import shipped


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


def test_two_hundred_and_fifty_square_feet_take_two_quarts_of_wiped_stain_at_the_worst() -> None:
    """Labels of wiping stain, 125 to 150 ft² a US quart (from memory): 250 ft² are 250 / 125
    = 2 qt at the most and 250 / 150 = 5/3 qt at the least; a quart is 57.75 in³ (NIST Handbook 44,
    app. C), 946.353 ml. Ours go by rounded metric figures, so to a thousandth."""
    low, high = shipped.coats().wiped["stain_oil"]
    rate = wiped_rate(low.value, high.value)
    assert isinstance(rate, Rate)
    rows = [Surface(Spot(f"D{i}", "front"), 25 * 0.3048**2) for i in range(10)]
    found = how_much(rows, rate, 946.353)
    assert isinstance(found, Mix)
    assert found.coat_ml == pytest.approx(2 * 57.75 * 2.54**3, rel=1e-3)
    assert found.least_ml == pytest.approx(5 / 3 * 57.75 * 2.54**3, rel=1e-3)


def test_a_paint_path_by_hand_from_the_label() -> None:
    """400 ft² a gallon (usual on labels): 100 ft² take a quart on the work. A gun that lands 65 %
    is fed 1 / 0.65 = 1.538 qt a coat: three coats of paint 4.615 qt, two of topcoat 3.077 qt."""
    rate = film_rate(shipped.coats().by_product["paint_water"].wet.value, 65)
    assert isinstance(rate, Rate)
    face = Surface(Spot("D1", "front"), 100 * 0.3048**2)
    for coats, quarts in ((3, 4.615), (2, 3.077)):
        found = how_much([face], rate, 600, coats)
        assert isinstance(found, Mix)
        assert found.total_ml / 946.353 == pytest.approx(quarts, rel=2e-3)
