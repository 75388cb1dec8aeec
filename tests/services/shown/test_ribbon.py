from __future__ import annotations

from datetime import timedelta

from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from partsbench.services.shown.ribbon import ribbon
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes


def test_a_wait_is_a_bar_until_it_opens(shop: Shop, clock: SetClock) -> None:
    piece = two_finishes(shop)
    do(shop, piece, "D1", "wash", "rinse")
    found = ribbon(day(shop, tags=[piece.tag]))
    bar = next(b for b in found.bars if "D1" in b.what)
    assert bar.opens == clock.now + timedelta(hours=12)
    assert bar.closes is None
    assert "may be done from" in bar.sentence


def test_a_window_that_closes_has_a_cliff(shop: Shop, clock: SetClock) -> None:
    piece = two_finishes(shop)
    do(shop, piece, "D4", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, piece, "D4", "sand_150", "sand_220", "condition", "wipe_condition")
    found = ribbon(day(shop, tags=[piece.tag]))
    assert [b.closes for b in found.bars if "D4" in b.what] == [clock.now + timedelta(minutes=30)]
    assert found.bars[0].closes, "what closes first stands first"


def test_hands_on_work_is_never_in_two_places(shop: Shop) -> None:
    piece = two_finishes(shop)
    do(shop, piece, "D1", "wash", "rinse")
    found = ribbon(day(shop, tags=[piece.tag]))
    assert found.blocks
    for before, after in zip(found.blocks, found.blocks[1:], strict=False):
        assert before.ends <= after.starts
    assert found.starts <= found.blocks[0].starts
    assert found.blocks[-1].ends <= found.ends


def test_the_ribbon_ends_in_the_evening_and_is_never_short(shop: Shop, clock: SetClock) -> None:
    two_finishes(shop)
    assert ribbon(day(shop)).ends.astimezone().hour == 22
    clock.pass_time(hours=14)
    late = ribbon(day(shop))
    assert late.ends - late.starts >= timedelta(hours=6)
