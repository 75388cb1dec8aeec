"""The same scans, keys and codes of the wall, in any order: the window and the bench alone record
the same."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.core.verbs import REASONS
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui.main_window import MainWindow
from tests.support.alone import KEYS, PAGES, PARTS, VERBS, VERBS_ON, Alone, told
from tests.support.clock import SetClock
from tests.support.finishing import two_finishes
from tests.support.shops import code, quill, shop_at
from tests.support.wall import verb_named

EVENTS = 160


@pytest.fixture
def alone(tmp_path: Path, clock: SetClock) -> Iterator[Alone]:
    shop = shop_at(tmp_path / "alone.partsbench", clock, "Wren")
    yield Alone(shop)
    shop.close()


@pytest.mark.parametrize("seed", range(6))
def test_window_and_bench_alone_record_the_same(
    seed: int, window: MainWindow, alone: Alone, shop: Shop, clock: SetClock, qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    ours, other = two_finishes(shop), quill(shop)
    monkeypatch.setattr(asking, "ask_new_file", lambda *_: "")
    window.show_page("bench", ours.tag)
    rng = Random(seed)
    for number in range(EVENTS):
        clock.pass_time(seconds=rng.choice((0.4, 2, 5, 5, 30, 70, 200)))
        done = _event(rng, window, alone, ours, other, qtbot)
        assert told(shop) == alone.told(), (number, done)
        assert window.page().hand.waits is alone.session.state.hand.waits, (number, done)
    assert len(alone.told()) > 12, "the run came to some records"


def _event(
    rng: Random, window: MainWindow, alone: Alone, ours: Piece, other: Piece, qtbot: QtBot
) -> str:
    draw = rng.random()
    if draw < 0.55:
        short, foreign = rng.choice(PARTS), rng.random() < 0.12
        window.take_code(code(other if foreign else ours, short), trigger=True)
        alone.scan(alone.label(short, foreign=foreign))
        _same_page(window, alone)
        return f"{short} {foreign}"
    if draw < 0.75:
        key = rng.choice(list(KEYS))
        if key == Qt.Key.Key_Return and window.page().hand.waits.value == "of another job":
            key = Qt.Key.Key_Escape  # the window would turn to a piece of another tag
        qtbot.keyClick(window.page(), key)
        alone.push(KEYS[key])
        _same_page(window, alone)
        return str(KEYS[key])
    if draw < 0.92:
        wall = verb_named(rng.choice(VERBS if alone.may_undo() else VERBS_ON)).code
        if rng.random() < 0.3:
            wall = rng.choice(REASONS[:8]).code
        window.take_code(wall, trigger=True)
        alone.scan(wall)
        return wall
    if draw < 0.95 and alone.may_undo():
        window.actions_by_key["undo"].trigger()
        alone.undo(by_the_wall=False)
        return "undo"
    page = rng.choice(list(PAGES))
    window.show_page(page, ours.tag)
    alone.turn(page)
    return page


def _same_page(window: MainWindow, alone: Alone) -> None:
    assert window.page().mode is alone.mode
