"""The program speaks first when a window is about to close."""

from __future__ import annotations

from datetime import timedelta

import pytest

from partsbench.core.outcomes import Answer, Outcome, Tone
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.answer_bar import manner_of
from partsbench.ui.main_window import MainWindow
from partsbench.ui.watch import Watch
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes


@pytest.fixture
def heron(shop: Shop, clock: SetClock) -> Piece:
    piece = two_finishes(shop)
    do(shop, piece, "D4", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, piece, "D4", "sand_150", "sand_220", "condition", "wipe_condition")
    return piece


def spoken_until(watch: Watch, clock: SetClock, minutes: int) -> list[Outcome]:
    heard: list[Outcome] = []
    watch.spoke.connect(heard.append)
    for _ in range(minutes * 4):
        watch.on_beat()
        clock.pass_time(seconds=15)
    return heard


def test_it_speaks_once_while_there_is_time(
    qapp: object, shop: Shop, heron: Piece, clock: SetClock
) -> None:
    watch = Watch(shop, qapp)
    began = clock.now
    (said,) = spoken_until(watch, clock, 32)
    watch.stop()
    assert said.tone is Tone.CLOSING
    assert said.until is not None and said.until > began
    assert "Heron D4: Stain" in said.sentence
    assert said.source, "whose figure it is"


def test_it_says_nothing_when_the_work_was_done(
    qapp: object, shop: Shop, heron: Piece, clock: SetClock
) -> None:
    clock.pass_time(minutes=5)
    do(shop, heron, "D4", "stain", "wipe")
    watch = Watch(shop, qapp)
    heard = spoken_until(watch, clock, 32)
    watch.stop()
    assert [s for s in heard if s.step == "stain"] == []


def test_the_window_shows_it_loud(window: MainWindow, heron: Piece, clock: SetClock) -> None:
    window.show_page("bench", heron.tag)
    for _ in range(25 * 4):
        clock.pass_time(seconds=15)
        window.listening.watch.on_beat()
    assert window.answer_bar.word.text() == "NOW"
    assert "Heron D4: Stain" in window.answer_bar.showing()
    assert manner_of(Outcome(Answer.GO, Tone.CLOSING, "Heron D4")).loud
