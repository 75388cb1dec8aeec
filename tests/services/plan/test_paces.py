"""Whose minutes a plan is made with is said: your own from five times on, ours until then."""

from __future__ import annotations

import pytest

from partsbench.core.piece.piece import Piece
from partsbench.services.plan import plans
from partsbench.services.plan.paces import PaceTold, paces
from partsbench.services.shop import Shop
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.shops import lay_out, made


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return made(lay_out(shop, "Heron", "3 3 3", paths=[("paint", ["drawers"])]))


def washing(shop: Shop) -> PaceTold:
    found = paces(shop, plans.plan(shop, seconds=0.1))
    return next(p for p in found if (p.work, p.kind) == ("wash", "drawer"))


def washed(shop: Shop, clock: SetClock, tag: str, *minutes: float) -> None:
    """One drawer after another, each after so many minutes; the first tells nothing."""
    for n, length in enumerate((0.0, *minutes)):
        clock.pass_time(minutes=length)
        assert record(shop, f"D{n + 1}", here=tag).recorded


def test_four_times_are_not_enough(shop: Shop, clock: SetClock, piece: Piece) -> None:
    washed(shop, clock, piece.tag, 10, 10, 12, 12)
    told = washing(shop)
    assert (told.times, told.minutes) == (4, None)
    assert told.sentence == "Wash, drawer: ours, until there are 5 of your own; 4 so far."
    shown = plans.plan(shop, seconds=0.1)
    wash = next(s for s in shown.shop.stints if s.does == "Wash")
    assert wash.minutes == 4 * 8


def test_from_five_on_the_median_is_what_the_plan_takes_and_the_spread_is_told(
    shop: Shop, clock: SetClock, piece: Piece
) -> None:
    washed(shop, clock, piece.tag, 10, 10, 12, 14, 14)
    told = washing(shop)
    assert told.times == 5 and told.minutes == pytest.approx(12)
    assert told.low is not None and told.high is not None
    assert 10 < told.low < 12 < told.high < 14.5
    assert told.sentence.startswith("Wash, drawer: your own 12.0 min a part, two of three 10.")
    shown = plans.plan(shop, seconds=0.1)
    wash = next(s for s in shown.shop.stints if s.does == "Wash")
    assert (wash.minutes, wash.kind) == (3 * 12, "D")
    assert set(plans.spreads(shop, clock())) == {"wash", "wash D"}
