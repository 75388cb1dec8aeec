from __future__ import annotations

from datetime import timedelta

from partsbench.core.finish.products import Ready, TinCard, TinWait
from partsbench.services.known import tins
from partsbench.services.known.state import part_state
from partsbench.services.rules.ready import ready, short_time
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes


def test_six_answers_once_a_film_is_on(shop: Shop, clock: SetClock) -> None:
    piece = two_finishes(shop)
    part = piece.part("D1")
    assert part is not None
    assert ready(shop, part_state(shop, piece, part).lane, clock.now) == ()
    do(shop, piece, "D1", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, piece, "D1", "sand_150", "colour_1")
    found = ready(shop, part_state(shop, piece, part).lane, clock.now)
    assert [a.ready for a in found] == list(Ready)
    recoat = next(a for a in found if a.ready is Ready.RECOAT)
    assert recoat.at is not None and recoat.at > clock.now
    assert recoat.source is not None


def test_the_tin_wins_and_is_named(shop: Shop, clock: SetClock) -> None:
    piece = two_finishes(shop)
    do(shop, piece, "D1", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, piece, "D1", "sand_150", "colour_1")
    part = piece.part("D1")
    assert part is not None
    product = next(s.product for s in shop.path("paint").steps if s.key == "colour_1")
    tins.put(shop, TinCard("blue paint", product, {"recoat": TinWait(timedelta(hours=7))}))
    found = ready(shop, part_state(shop, piece, part).lane, clock.now)
    recoat = next(a for a in found if a.ready is Ready.RECOAT)
    assert recoat.at == clock.now + timedelta(hours=7)
    assert recoat.source is not None and "your tin card for blue paint" in recoat.source.text


def test_times_are_as_short_as_can_be_read(shop: Shop, clock: SetClock) -> None:
    from partsbench.core.finish.clocks import ReadyAt

    def at(**ahead: float) -> str:
        return short_time(ReadyAt(Ready.SAND, clock.now + timedelta(**ahead), ""), clock.now)

    local = (clock.now + timedelta(hours=2)).astimezone()
    assert at(hours=2) == f"{local:%H:%M}"
    assert at(minutes=-1) == "now"
    assert at(days=2).startswith("Thu ")
    assert at(days=20) == "24 Mar"
    assert short_time(ReadyAt(Ready.TAPE, None, ""), clock.now) == "see tin"
