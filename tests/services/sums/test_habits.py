"""The first sizes typed decide what a shop reads in, and on what it prints."""

from __future__ import annotations

import pytest

from partsbench.core.outcomes import Refused
from partsbench.core.sums.units import Measures
from partsbench.services.shop import Shop
from partsbench.services.shown.labels import usual_stock
from partsbench.services.sums.habits import follow_typed, habits, set_habit


@pytest.mark.parametrize("typed", [("35 1/2 in", ""), ("", "2' 10-1/2\""), ("34 1/2",), ("3 ft",)])
def test_inches_mean_us_units_and_letter_paper(shop: Shop, typed: tuple[str, ...]) -> None:
    follow_typed(shop, *typed)
    assert habits(shop).measures is Measures.US
    assert usual_stock(shop) == "by-size-letter"


@pytest.mark.parametrize("typed", [("900 mm",), ("90 cm", ""), ("900",), ("",), ("wide",)])
def test_what_is_not_inches_decides_nothing(shop: Shop, typed: tuple[str, ...]) -> None:
    assert follow_typed(shop, *typed) is None
    assert habits(shop).typed == {}
    assert usual_stock(shop) == "by-size-a4"


def test_what_was_said_before_stays(shop: Shop) -> None:
    set_habit(shop, "units", "metric")
    assert follow_typed(shop, "35 1/2 in") is None
    assert habits(shop).measures is Measures.METRIC
    set_habit(shop, "units", "")
    set_habit(shop, "paper", "a4")
    follow_typed(shop, "35 1/2 in")
    assert habits(shop).word("paper", "") == "a4"


@pytest.mark.parametrize(
    ("typed", "mm"), [("0.5 mm", 0.5), ("-1", -1.0), ("-1.5 mm", -1.5), ("+2", 2.0), ("10", 10.0)]
)
def test_an_offset_may_be_below_nought(shop: Shop, typed: str, mm: float) -> None:
    set_habit(shop, "offset right", typed)
    assert habits(shop).number("offset right", 0.0) == mm


@pytest.mark.parametrize("typed", ["10.1", "-11 mm", "wide", "--1"])
def test_an_offset_that_is_none_is_refused(shop: Shop, typed: str) -> None:
    assert isinstance(set_habit(shop, "offset down", typed), Refused), typed
    assert habits(shop).number("offset down", 0.0) == 0.0
