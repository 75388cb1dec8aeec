"""Against the Wood Handbook, USDA Forest Products Laboratory: FPL-GTR-282 (2021), Table 4-2 and
eq. 4-5; FPL-GTR-190 (2010), Tables 4-3 and 13-5, eq. 13-2 and its worked example.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from partsbench import trade
from partsbench.core.sums import tables
from partsbench.core.sums.wood import (
    Cut,
    Movement,
    Wood,
    emc_celsius,
    moisture,
    movement,
)

TABLE_4_2 = [  # °F, % humidity, % moisture; read in a copy of FPL-GTR-282
    (30, 75, 14.9), (30, 95, 24.3), (70, 5, 1.3), (70, 30, 6.2), (70, 50, 9.2),
    (70, 75, 14.4), (70, 85, 17.9), (70, 95, 23.9), (100, 50, 8.7), (100, 90, 19.5),
]  # fmt: skip
ROW_70_F = [  # Table 4-2 at 70 °F, 5 to 95 % in steps of 5 (from memory)
    1.3, 2.5, 3.5, 4.5, 5.4, 6.2, 6.9, 7.7, 8.5, 9.2,
    10.1, 11.0, 12.0, 13.1, 14.4, 16.0, 17.9, 20.5, 23.9,
]  # fmt: skip
ROUNDED = 0.065
"""The table is not the exact rounding of its own equation: half a unit and a little."""


def emc_fahrenheit(t: float, h: float) -> float:
    """Eq. 4-5 of the handbook, °F form: moisture in % at `t` °F and humidity `h` from 0 to 1."""
    w = 330 + 0.452 * t + 0.00415 * t * t
    kh = (0.791 + 0.000463 * t - 0.000000844 * t * t) * h
    k1 = 6.34 + 0.000775 * t - 0.0000935 * t * t
    k2 = 1.09 + 0.0284 * t - 0.0000904 * t * t
    upper = k1 * kh + 2 * k1 * k2 * kh * kh
    return 1800 / w * (kh / (1 - kh) + upper / (1 + k1 * kh + k1 * k2 * kh * kh))


@pytest.fixture(scope="module")
def woods() -> dict[str, Wood]:
    found = tables.woods(trade.load("woods"))
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize(("f", "h", "percent"), TABLE_4_2)
def test_equilibrium_moisture_of_table_4_2(f: float, h: float, percent: float) -> None:
    assert emc_fahrenheit(f, h / 100) == pytest.approx(percent, abs=ROUNDED)
    assert emc_celsius((f - 32) / 1.8, h / 100) == pytest.approx(percent, abs=ROUNDED)
    answer = moisture((f - 32) / 1.8, h)
    assert answer.percent == pytest.approx(percent, abs=ROUNDED)  # type: ignore[union-attr]


def test_the_row_at_70_f() -> None:
    for step, percent in enumerate(ROW_70_F, 1):
        assert emc_fahrenheit(70, step * 0.05) == pytest.approx(percent, abs=ROUNDED)
        assert emc_celsius(190 / 9, step * 0.05) == pytest.approx(percent, abs=ROUNDED)


def test_both_forms_agree() -> None:
    """Within 0.013 % to 200 °F and 0.041 % to 270 °F, where Table 4-2 ends (calculated)."""
    for most, apart in ((200, 0.0135), (270, 0.041)):
        worst = max(
            abs(emc_fahrenheit(f, h / 100) - emc_celsius((f - 32) / 1.8, h / 100))
            for f in range(30, most + 1, 5)
            for h in range(5, 96, 5)
        )
        assert worst < apart


def test_a_misprint_in_circulation_is_not_ours() -> None:
    """A public copy carries a wrong K2 and gives 8.73 at 70 °F and 50 %; the table says 9.2."""
    assert emc_fahrenheit(70, 0.5) == pytest.approx(9.25, abs=0.01)


def test_the_worked_example(woods: dict[str, Wood]) -> None:
    """9.15 in (232 mm) of white fir, flat-grained, 8 to 11 %: 0.067 in, 1.7 mm."""
    answer = movement(9.15 * 25.4, woods["fir-white"], Cut.FLAT, 8, 11)
    assert isinstance(answer, Movement)
    assert answer.change_in == pytest.approx(9.15 * 0.00245 * 3)
    assert round(answer.change_in, 3) == 0.067
    assert round(answer.change_mm, 1) == 1.7
    assert round(9.15 + answer.change_in, 3) == 9.217


@pytest.mark.parametrize("cut", [Cut.FLAT, Cut.QUARTER])
def test_table_13_5_follows_from_table_4_3(woods: dict[str, Wood], cut: Cut) -> None:
    """Coefficient = 1 / (3000 / shrinkage - 20), or with 22 % 1 / (2200 / shrinkage - 12).

    One unit of the fifth decimal is allowed: shrinkages are printed to 0.1 %.
    """
    checked = 0
    for wood in woods.values():
        known = wood.shrinkage_tangential if cut is Cut.FLAT else wood.shrinkage_radial
        if known is None:
            continue
        begins = wood.moves_below.value
        line = 1 / (100 * begins / known.value - begins + 10)
        assert wood.coefficient(cut) == pytest.approx(line, abs=0.0000105), wood.name
        checked += 1
    assert checked >= 21


def test_the_two_equations_agree_at_ten_percent(woods: dict[str, Wood]) -> None:
    """From 10 % eq. 13-3 has the slope of eq. 13-2; a step outside 6 to 14 % uses it."""
    for wood in (wood for wood in woods.values() if not wood.board):
        answer = movement(1000, wood, Cut.FLAT, 10, 14.01)
        assert isinstance(answer, Movement)
        # Boards move by one figure, at any moisture: no other equation takes over.
        assert ("13-3" in answer.sources[0]) is not wood.moves_alike
        line = 1000 * wood.tangential.value * 4.01
        assert answer.change_mm == pytest.approx(line, abs=0.1)


@pytest.mark.parametrize(
    ("key", "inches"),
    [("maple-hard", 1 / 8), ("cherry-black", 3 / 32), ("walnut-black", 3 / 32)],
)
def test_a_four_inch_drawer_front_from_35_to_80_percent(
    woods: dict[str, Wood], key: str, inches: float
) -> None:
    """A woodworking article (Aug 2012): maple about 1/8 in, cherry and walnut 3/32 in; 70 °F."""
    dry, damp = moisture(190 / 9, 35), moisture(190 / 9, 80)
    answer = movement(4 * 25.4, woods[key], Cut.FLAT, dry.percent, damp.percent)  # type: ignore[union-attr]
    assert isinstance(answer, Movement)
    assert answer.change_in == pytest.approx(inches, abs=1 / 64)


def test_rule_of_thumb_for_the_room() -> None:
    """Trade magazine: 30, 50, 65 and 80 % humidity are about 6, 9, 12 and 16 % moisture."""
    found = [moisture(21, h) for h in (30, 50, 65, 80)]
    for answer, rule in zip(found, (6, 9, 12, 16), strict=True):
        assert answer.percent == pytest.approx(rule, abs=0.5)  # type: ignore[union-attr]
    assert all(a.percent < b.percent for a, b in pairwise(found))  # type: ignore[union-attr]
