from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from pytestqt.qtbot import QtBot

from partsbench.services.known.state import part_state
from partsbench.services.rules.ready import ready
from partsbench.services.shop import Shop
from partsbench.ui.bench.ready_strip import ReadyStrip
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes


def test_the_times_that_are_known_with_their_reasons(
    shop: Shop, clock: SetClock, qtbot: QtBot
) -> None:
    piece = two_finishes(shop)
    do(shop, piece, "D1", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, piece, "D1", "sand_150", "colour_1")
    part = piece.part("D1")
    assert part is not None
    strip = ReadyStrip()
    qtbot.addWidget(strip)
    strip.show_ready((), clock.now)
    assert strip.isHidden()
    strip.show_ready(ready(shop, part_state(shop, piece, part).lane, clock.now), clock.now)
    assert not strip.isHidden()
    assert strip.text().count("·") == 5
    answers = list(ready(shop, part_state(shop, piece, part).lane, clock.now))
    answers[0] = replace(answers[0], at=None, because="only the tin knows")
    strip.show_ready(answers, clock.now)
    assert strip.text().count("·") == 4, "what nobody knows is not shown"
    recoat = strip.findChild(type(strip._lead), "ready-recoat")
    assert recoat is not None
    assert "before another coat" in recoat.accessibleDescription()
    clock.pass_time(days=60)
    strip.show_ready(ready(shop, part_state(shop, piece, part).lane, clock.now), clock.now)
    assert recoat.text() == "✓ Recoat now"
