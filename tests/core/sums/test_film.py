from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.outcomes import Refused
from partsbench.core.sums.film import Coverage, coverage
from partsbench.core.sums.refusal import wrong
from partsbench.core.sums.units import Measures
from tests.core.sums.nonsense import NONSENSE


@given(st.floats(1, 99), st.floats(1, 500), st.floats(1, 99), st.floats(0.1, 1))
def test_coverage_rises_with_solids_and_with_transfer(
    solids: float, dry: float, transfer: float, more: float
) -> None:
    """A formula in print has both in the denominator: it would fail here."""
    here = coverage(solids, dry, transfer)
    thicker = coverage(solids + more, dry, transfer)
    better = coverage(solids, dry, transfer + more)
    assert isinstance(here, Coverage)
    assert isinstance(thicker, Coverage)
    assert isinstance(better, Coverage)
    assert here.m2_per_l < min(thicker.m2_per_l, better.m2_per_l)
    assert here.ft2_per_gal < min(thicker.ft2_per_gal, better.ft2_per_gal)


def test_coverage_is_said_in_two_digits() -> None:
    answer = coverage(52, 38.1, 30)
    assert isinstance(answer, Coverage)
    assert answer.sentence == "A litre covers about 4.1 m² once."
    assert answer.say(Measures.US) == "A gallon covers about 170 ft² once."


@pytest.mark.parametrize("value", NONSENSE)
def test_films_that_cannot_be(value: Any) -> None:
    assert isinstance(coverage(value, 38, 30), Refused)
    assert isinstance(coverage(52, value, 30), Refused)
    assert isinstance(coverage(52, 38, value), Refused)


def test_solids_of_nothing_cover_nothing() -> None:
    assert coverage(0, 38) == wrong("solids", "0 % is less than 0.1 %")


def test_nothing_lost_and_nothing_thinned_unless_it_is_said() -> None:
    """A litre of a coating that is all solids covers 1,000 m² one µm thick."""
    whole = coverage(100, 40)
    assert isinstance(whole, Coverage)
    assert whole.m2_per_l == pytest.approx(25)


def test_no_coating_is_more_than_all_solids_nor_lands_more_than_is_sprayed() -> None:
    assert coverage(101, 38) == wrong("solids", "101 % is more than 100 %")
    assert coverage(52, 38, 101) == wrong("transfer", "101 % is more than 100 %")
