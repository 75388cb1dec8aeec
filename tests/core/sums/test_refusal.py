from __future__ import annotations

from math import inf, nan

import pytest

from partsbench.core.sums.refusal import amount, first, wrong
from partsbench.core.sums.shown import Measures


@pytest.mark.parametrize(
    ("value", "why"),
    [
        (None, "is missing"),
        ("a lot", "'a lot' is no number"),
        (True, "True is no number"),
        (nan, "nan is no finite number"),
        (inf, "inf is no finite number"),
        (-2, "-2 % is less than 0 %"),
        (140, "140 % is more than 100 %"),
    ],
)
def test_what_is_no_amount_says_why(value: object, why: str) -> None:
    refused = amount("humidity", value, least=0, most=100, unit="%")
    assert refused == wrong("humidity", why)
    assert refused.sentence == f"humidity: {why}."


def test_nothing_where_something_is_needed() -> None:
    assert amount("size", 0, above=0, unit="mm") == wrong("size", "0 mm must be more than 0 mm")


def test_the_first_of_several_is_told() -> None:
    one, other = wrong("a", "x"), wrong("b", "y")
    assert first(None, one, other) is one
    assert first(None, None) is None


def test_a_measure_that_cannot_be_is_worded_in_the_shops_units() -> None:
    refused = amount("width of D1", 12_700, above=0, most=10_000, unit="mm")
    assert refused is not None
    assert refused.sentence == "width of D1: 12700 mm is more than 10000 mm."
    assert refused.say(Measures.US) == 'width of D1: 500" is more than 393-11/16".'
    film = amount("wet film", 0, above=0, unit="µm")
    assert film is not None and film.say(Measures.US) == "wet film: 0 mil must be more than 0 mil."
    share = amount("solids", 140, most=100, unit="%")
    assert share is not None and share.say(Measures.US) == share.sentence
