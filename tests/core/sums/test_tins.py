from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.sums.tins import Materials, Tin, materials
from tests.core.sums.answers import answered, refused
from tests.core.sums.nonsense import NONSENSE

BY_VOLUME = Tin("clear", 40, full=1000, before=600, after=350)
BY_WEIGHT = Tin("primer", 30, full=1300, before=1000, after=800, empty=100)


def test_by_volume_and_by_weight() -> None:
    answer = answered(Materials, materials([BY_VOLUME, BY_WEIGHT]))
    assert dict(answer.by_tin) == {"clear": 10.0, "primer": 5.0}
    assert answer.sentence == "Materials: 15."


def test_a_tin_without_a_price_is_not_free_of_charge() -> None:
    answer = answered(Materials, materials([BY_VOLUME, replace(BY_WEIGHT, price=None)]))
    assert answer.cost == 10
    assert answer.lacks == ("the price of primer",)
    assert answer.sentence == "Materials: 10, and the price of primer not counted."


@given(st.floats(0, 1000), st.floats(0, 1000))
def test_using_a_tin_up_in_two_goes_costs_what_the_whole_costs(a: float, b: float) -> None:
    low, high = sorted((a, b))
    goes = [replace(BY_VOLUME, before=high, after=low), replace(BY_VOLUME, before=low, after=0)]
    whole = replace(BY_VOLUME, before=high, after=0)
    assert answered(Materials, materials(goes)).cost == pytest.approx(
        answered(Materials, materials([whole])).cost
    )


@pytest.mark.parametrize("value", [v for v in NONSENSE if v is not None])
def test_tins_that_cannot_be(value: Any) -> None:
    for field in ("full", "before", "after", "empty"):
        refused(materials([replace(BY_WEIGHT, **{field: value})])) if value != 1e30 else None
    if value != 1e30:
        assert "price of primer" in refused(materials([replace(BY_WEIGHT, price=value)]))


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"before": 2000}, "more than the tin holds"),
        ({"after": 1100}, "more than before"),
        ({"after": 50}, "less than the empty tin"),
        ({"empty": 1300}, "no more than when empty"),
        ({"price": 0}, "must be more than 0"),
    ],
)
def test_levels_that_contradict_each_other(change: dict[str, float], why: str) -> None:
    assert why in refused(materials([replace(BY_WEIGHT, **change)]))
