"""The lines that the demo prints are answers of the real sums on a sample."""

from __future__ import annotations

from partsbench import resources
from partsbench.core.outcomes import Refused
from partsbench.services.books.pieces import take_in
from partsbench.services.shop import Shop
from partsbench.services.sums import gap, orphan
from partsbench.services.sums.showcase import showcase


def test_each_line_is_the_answer_of_its_sum(shop: Shop) -> None:
    taken = take_in(shop, resources.sample("heron"))
    assert isinstance(taken, list)
    tag = taken[0].tag
    lines = showcase(shop, tag)
    assert not isinstance(lines, Refused)
    fit, whose, pulls, floor = lines
    forecast = gap.forecast(shop, tag)
    assert isinstance(forecast, gap.Forecast)
    assert fit == f"Will it still fit: {forecast.sentence}"
    assert 0 < len(forecast.tight) < len(forecast.fits)
    found = orphan.whose(shop, tag)
    assert isinstance(found, orphan.Orphans)
    assert found.found.matches[0].home == "opening 7"
    assert whose == f"Whose drawer is this: {found.found.sentence}"
    assert "2 of 2 old holes" in pulls
    assert floor == "The least to ask: Lowest for 25 an hour: 181."  # 95 + 48 + 38, no hours yet


def test_an_unknown_piece_is_refused(shop: Shop) -> None:
    assert isinstance(showcase(shop, "ZZZZ"), Refused)
