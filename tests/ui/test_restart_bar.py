"""What was done while the window was cut off is asked once."""

from __future__ import annotations

from datetime import timedelta

from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done
from partsbench.services.shop import Shop
from partsbench.ui.restart_bar import RestartBar
from partsbench.ui.theme import Theme
from tests.support.clock import SetClock
from tests.support.shops import heron


def test_what_was_done_meanwhile_is_recorded_at_the_bench(
    shop: Shop, clock: SetClock, theme: Theme, qtbot: QtBot
) -> None:
    heron(shop)
    bar = RestartBar(shop, (clock.now - timedelta(hours=2), clock.now))
    qtbot.addWidget(bar)
    bar.show()
    assert "Took in Heron" in bar.question.text()
    answers: list[object] = []
    bar.answered.connect(answers.append)
    with qtbot.waitSignal(bar.bench_asked):
        bar.on_something_pressed()
    assert len(answers) == 1 and isinstance(answers[0], Done)
    assert not bar.isVisible()
