from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench import trade
from partsbench.core.sums import tables
from partsbench.core.sums.spacings import Spacing, Told, told_apart
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
    assert set(answered(Told, told_apart(spacings, measured)).names) == names


def test_a_spacing_in_words(spacings: tuple[Spacing, ...]) -> None:
    sure = answered(Told, told_apart(spacings, 96))
    assert (sure.sentence, sure.lacks) == ("96.0 mm is 96 mm.", ())
    unsure = answered(Told, told_apart(spacings, 95.6))
    assert unsure.sentence == "95.6 mm may be 3-3/4 in or 96 mm: measure again."
    assert unsure.lacks
    odd = answered(Told, told_apart(spacings, 97.2)).sentence
    assert odd == "97.2 mm is no standard spacing; 96 mm is 1.2 mm off."


@given(st.floats(20, 300))
def test_what_is_named_is_within_the_measuring(
    spacings: tuple[Spacing, ...], measured: float
) -> None:
    found = answered(Told, told_apart(spacings, measured))
    by_name = {s.name: s.mm.value for s in spacings}
    assert all(abs(by_name[name] - measured) <= 0.4 for name in found.names)
    assert found.off_mm == min(abs(mm - measured) for mm in by_name.values())


@pytest.mark.parametrize("value", [v for v in NONSENSE if v is not True])
def test_spacings_that_cannot_be(spacings: tuple[Spacing, ...], value: Any) -> None:
    refused(told_apart(spacings, value))
