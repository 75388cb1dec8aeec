from __future__ import annotations

from datetime import timedelta

from partsbench.core.outcomes import Tone
from partsbench.services.heard.speaking import SELDOM, closing
from partsbench.services.shop import Shop
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes


def test_it_speaks_when_the_work_must_begin_now(shop: Shop, clock: SetClock) -> None:
    piece = two_finishes(shop)
    do(shop, piece, "D4", "wash", "rinse", at=clock.now - timedelta(days=1))
    assert closing(shop).said == ()
    do(shop, piece, "D4", "sand_150", "sand_220", "condition", "wipe_condition")
    quiet = closing(shop)
    assert quiet.said == ()
    assert quiet.again <= clock.now + timedelta(minutes=30)
    clock.now = quiet.again
    for _ in range(24):
        found = closing(shop)
        if found.said:
            break
        clock.now = found.again + timedelta(seconds=1)
    ((key, outcome),) = found.said
    assert outcome.tone is Tone.CLOSING
    assert outcome.sentence.startswith("Heron D4: Stain")
    assert "The window closes in" in outcome.because
    assert outcome.source
    assert piece.tag in key
    assert outcome.until is not None and clock.now < outcome.until


def test_with_nothing_in_sight_it_looks_seldom(shop: Shop, clock: SetClock) -> None:
    two_finishes(shop)
    assert closing(shop).again == clock.now + SELDOM
