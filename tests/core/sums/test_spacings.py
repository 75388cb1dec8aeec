from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench import trade
from partsbench.core.sums import tables
from partsbench.core.sums.figure import Figure, Status
from partsbench.core.sums.spacings import (
    OldHoles,
    Over,
    Spacing,
    SpacingTold,
    over,
    say_spacing,
    takes_screw,
    told_apart,
)
from partsbench.core.sums.units import Measures
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE


@pytest.fixture(scope="module")
def spacings() -> tuple[Spacing, ...]:
    return answered(tuple, tables.spacings(trade.load("pulls")))


@pytest.mark.parametrize(
    ("measured", "names"),
    [
        (96.0, {"96 mm"}),
        (95.2, {"3-3/4 in"}),
        (95.6, {"96 mm", "3-3/4 in"}),
        (76.0, {"3 in"}),
        (128.0, {"128 mm"}),
        (128.3, {"128 mm", "5-1/16 in"}),
        (110.0, set()),
        (97.2, set()),
        (96.4, {"96 mm"}),
        (96.405, set()),
    ],
)
def test_near_spacings_are_told_apart_never_rounded(
    spacings: tuple[Spacing, ...], measured: float, names: set[str]
) -> None:
    assert set(answered(SpacingTold, told_apart(spacings, measured)).names) == names


@pytest.mark.parametrize(
    ("mm", "metric", "us"),
    [
        (96, "96 mm", "96 mm"),
        (95.95, "96 mm", "96 mm"),
        (95.89, "95.89 mm (96 mm)", "3.775 in (96 mm)"),
        (95.6, "95.60 mm (3-3/4 in or 96 mm)", "3.764 in (3-3/4 in or 96 mm)"),
        (95.25, "3-3/4 in", "3-3/4 in"),
        (110, "110.00 mm", "4.331 in"),
        (0, "", ""),
        (None, "", ""),
    ],
)
def test_a_spacing_by_the_name_of_the_trade(
    spacings: tuple[Spacing, ...], mm: float | None, metric: str, us: str
) -> None:
    assert say_spacing(spacings, mm) == metric
    assert say_spacing(spacings, mm, Measures.US) == us


def test_a_spacing_in_words(spacings: tuple[Spacing, ...]) -> None:
    sure = answered(SpacingTold, told_apart(spacings, 96))
    assert (sure.sentence, sure.lacks) == ("96.0 mm is 96 mm.", ())
    unsure = answered(SpacingTold, told_apart(spacings, 95.6))
    assert unsure.sentence == "95.6 mm may be 3-3/4 in or 96 mm: measure again."
    assert unsure.lacks
    odd = answered(SpacingTold, told_apart(spacings, 97.2)).sentence
    assert odd == "97.2 mm is no standard spacing; 96 mm is 1.2 mm off."


@given(st.floats(20, 300))
def test_what_is_named_is_within_the_measuring(
    spacings: tuple[Spacing, ...], measured: float
) -> None:
    found = answered(SpacingTold, told_apart(spacings, measured))
    by_name = {s.name: s.mm.value for s in spacings}
    assert all(abs(by_name[name] - measured) <= 0.4 for name in found.names)
    assert found.off_mm == min(abs(mm - measured) for mm in by_name.values())


@pytest.mark.parametrize("value", [v for v in NONSENSE if v is not True])
def test_spacings_that_cannot_be(spacings: tuple[Spacing, ...], value: Any) -> None:
    refused(told_apart(spacings, value))


def figure(mm: float) -> Figure:
    return Figure(mm, "a caliper", Status.COMMON_PRACTICE)


OLD = OldHoles(figure(4.7625), figure(1.6), figure(3.2))
M4, NO_8 = ("M4", figure(4.0)), ("8-32", figure(4.166))


def test_3_3_4_in_over_96_mm_tells_its_0_75_mm_and_how_wide_the_holes_must_be() -> None:
    """By hand: 96 - 95.25 = 0.75; the hole is as much wider than the screw: 4.166 + 0.75 = 4.92."""
    found = answered(Over, over(95.25, 96.0, [NO_8, M4], OLD))
    assert found.off_mm == pytest.approx(0.75)
    assert dict(found.wants) == pytest.approx({"8-32": 4.916, "M4": 4.75})
    assert found.reused and not found.goes_on
    assert found.sentence == (
        "It is 0.75 mm narrower than the holes, 0.38 mm at each: it goes on in holes at least "
        "4.92 mm wide for 8-32, 4.75 mm wide for M4; those drilled 4.76 mm, as is usual, may "
        "want opening. Try one first."
    )
    assert found.say(Measures.US).startswith("It is 0.030 in narrower than the holes, 0.015 in at")
    assert found.lacks == ("how wide the old holes are",)


def test_with_an_m4_screw_the_usual_hole_is_just_wide_enough() -> None:
    found = answered(Over, over(96.0, 95.25, [M4], OLD))
    assert found.goes_on
    assert "0.75 mm wider than the holes" in found.sentence
    assert "it goes on in holes drilled 4.76 mm, as is usual. Try one first." in found.sentence
    assert not answered(Over, over(96.02, 95.25, [M4], OLD)).goes_on


@pytest.mark.parametrize(
    ("pull", "words"),
    [(97.0, "goes on"), (97.1, "slotted holes"), (99.2, "slotted holes"), (99.3, "new holes")],
)
def test_more_than_a_screws_play_is_told_as_that(pull: float, words: str) -> None:
    """A whole millimetre is half at each hole; over 1/8 in an old drawer wants new holes."""
    assert words in answered(Over, over(pull, 96.0, [M4], OLD)).sentence


def test_a_hole_takes_the_screw_as_far_as_half_a_millimetre() -> None:
    assert takes_screw(0.5) and not takes_screw(0.51)


@given(st.floats(10, 900), st.floats(10, 900))
def test_a_hole_of_that_width_lets_both_screws_through(pull: float, holes: float) -> None:
    """Both holes side by side, each screw against the rim: no part of it lies in the wood."""
    found = answered(Over, over(pull, holes, [M4], OLD))
    ((_, wide),) = found.wants
    for side in (-1, 1):
        screw, hole = side * pull / 2, side * holes / 2
        assert screw - 2.0 >= hole - wide / 2 - 1e-9
        assert screw + 2.0 <= hole + wide / 2 + 1e-9


@pytest.mark.parametrize("value", NONSENSE)
def test_spacings_that_cannot_be_over_one_another(value: Any) -> None:
    if value is not True:
        assert "pull" in refused(over(value, 96.0, [M4], OLD))
        assert "holes" in refused(over(96.0, value, [M4], OLD))
    assert "screws" in refused(over(96.0, 95.25, [], OLD))
