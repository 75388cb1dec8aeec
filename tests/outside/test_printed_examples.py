"""Examples that others worked and printed, each with where it stands."""

from __future__ import annotations

import pytest

from partsbench.core.sums import units
from partsbench.core.sums.climate import DewPoint, dew_point
from partsbench.core.sums.fit import (
    Fit,
    fit,
)
from partsbench.core.sums.fit_measured import Ends, Measured
from partsbench.core.sums.tipover import Space, Tipover, enclosed_dm3, tipover
from partsbench.core.sums.wood import Cut, Moisture, Movement, moisture, movement
from partsbench.services.sums import shipped
from tests.support.films import painted


def test_eight_inches_of_red_alder_and_six_percent() -> None:
    """Woodworking magazine, US, September 2021: 8 × .0026 × 6 = 0.1248 in. Its coefficient is
    the handbook's 0.00256 rounded to four places, so the answers may part by 8 × 6 × 0.00005."""
    alder = shipped.woods()["alder-red"]
    found = movement(8 * 25.4, alder, Cut.FLAT, 7, 13)
    assert isinstance(found, Movement)
    assert found.change_in == pytest.approx(0.1248, abs=8 * 6 * 0.00005)
    assert found.change_in == pytest.approx(8 * 0.00256 * 6)


@pytest.mark.parametrize(("mils", "taken"), [(4, 0.016), (5, 0.020)])
def test_primer_and_two_coats_on_both_edges_of_a_pair_of_gaps(mils: float, taken: float) -> None:
    """Wood Handbook, FPL-GTR-190 (2010), ch. 16: primer and two topcoats are 4 to 5 mil dry. On
    drawer and opening, left and right, that is four films out of a pair of 1/32 in gaps."""
    wide = Ends(500 + 25.4 / 16, 500 + 25.4 / 16)
    found = fit(Measured(wide, Ends(500, 500)), painted(mils * 0.0254), shipped.play())
    assert isinstance(found, Fit) and found.damp.side is not None
    left = 2 * found.damp.side / 25.4
    assert left == pytest.approx(1 / 16 - taken)


def test_a_metre_of_particleboard_from_nine_to_twelve_percent() -> None:
    """Engineered Wood Products Association of Australasia, Facts About Particleboard and MDF: as a
    rough guide 1 mm a metre from 9 to 12 %, a further one to 16 %. Ours does not say less."""
    board = shipped.woods()["particleboard"]
    first = movement(1000, board, Cut.MIXED, 9, 12)
    further = movement(1000, board, Cut.MIXED, 12, 16)
    assert isinstance(first, Movement) and isinstance(further, Movement)
    assert first.change_mm == pytest.approx(1, abs=0.02)
    assert 1 <= further.change_mm < 1.5


def test_three_ply_from_seven_to_twenty_percent() -> None:
    """Forest Products Research Laboratory, 22 kinds of 3/16 in three-ply, as quoted in The
    Technique of Furniture Making, section Stability: 0.27 % across the grain."""
    found = movement(1000, shipped.woods()["plywood"], Cut.MIXED, 7, 20)
    assert isinstance(found, Movement)
    assert found.change_mm == pytest.approx(2.7, abs=0.05)


def test_mdf_from_thirty_five_to_eighty_five_percent_humidity() -> None:
    """Woodworking trade magazine, column on the stability of MDF: about half a percent. The air is
    taken as wood's moisture by eq. 4-5 at 20 °C, 7.0 to 18.0 %."""
    dry, damp = moisture(20, 35), moisture(20, 85)
    assert isinstance(dry, Moisture) and isinstance(damp, Moisture)
    found = movement(1000, shipped.woods()["mdf"], Cut.MIXED, dry.percent, damp.percent)
    assert isinstance(found, Movement)
    assert found.change_mm == pytest.approx(5, abs=0.2)


@pytest.mark.parametrize(
    ("high", "heavy", "roomy", "covered"),
    [
        ("27 in", "30 lb", 3.2, True),
        ("26 15/16 in", "30 lb", 3.2, False),
        ("27 in", "29.9 lb", 3.2, False),
        ("27 in", "30 lb", 3.19, False),
    ],
)
def test_all_three_thresholds_are_needed(
    high: str, heavy: str, roomy: float, covered: bool
) -> None:
    """ASTM F2057-23, 1.1, by way of 16 CFR 1261: 27 in, 30 lb and 3.2 ft³, all three."""
    height, mass = units.length(high), units.weight(heavy)
    assert isinstance(height, units.TypedMeasure) and isinstance(mass, units.TypedMeasure)
    dm3 = roomy * 28.316846592
    found = tipover(shipped.scope(), height.value, mass.value / 1000, dm3)
    assert isinstance(found, Tipover) and found.covered is covered


def test_a_shelf_space_counts_for_half() -> None:
    """US Consumer Product Safety Commission, business guidance on clothing storage units: a
    drawer counts from 1/8 in below its bottom, space behind doors and on shelves for half."""
    shelf = enclosed_dm3(shipped.scope(), [Space(500, 400, 300, drawer=False)])
    drawer = enclosed_dm3(shipped.scope(), [Space(500, 400 - 25.4 / 8, 300)])
    assert isinstance(shelf, float) and isinstance(drawer, float)
    assert shelf == pytest.approx(30)
    assert drawer == pytest.approx(60, rel=1e-3)


def test_the_humidity_at_which_a_surface_as_warm_as_the_air_is_three_degrees_clear() -> None:
    """Surface 3 °C over the dew point (rule of ISO 8502-4): at 20 °C that is 82.9 %
    (calculated)."""
    found = dew_point(20, 82.9)
    assert isinstance(found, DewPoint)
    assert 20 - found.celsius == pytest.approx(3, abs=0.02)
