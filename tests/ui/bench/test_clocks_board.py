from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from partsbench.ui.bench.clocks_board import NONE, ClocksBoard, clock_lines
from partsbench.ui.theme import Theme
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes


@pytest.fixture
def heron(shop: Shop, clock: SetClock) -> Piece:
    """D1 waits twelve hours; D4 must be stained within minutes."""
    piece = two_finishes(shop)
    do(shop, piece, "D1", "wash", "rinse")
    do(shop, piece, "D4", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, piece, "D4", "sand_150", "sand_220", "condition", "wipe_condition")
    return piece


def test_the_soonest_cliff_is_first_and_waits_follow(
    shop: Shop, heron: Piece, clock: SetClock
) -> None:
    first, second = clock_lines(day(shop).clocks, clock.now)
    assert first.cliff and "Heron D4: Stain" in first.what
    assert first.left.endswith("closes in 30 min")
    assert not second.cliff and second.what.startswith("Heron D1: Sand")
    assert second.left == "in 12 h"


def test_what_may_be_done_at_any_time_is_no_clock(shop: Shop, clock: SetClock) -> None:
    two_finishes(shop)
    assert clock_lines(day(shop).clocks, clock.now) == []


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_the_first_fills_a_band_in_loud_colour(
    theme: Theme, shop: Shop, heron: Piece, clock: SetClock, qtbot: QtBot
) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    over.resize(900, 560)
    board = ClocksBoard(over)
    board.setGeometry(over.rect())
    board.show_clocks(clock_lines(day(shop).clocks, clock.now))
    over.show()
    board.show()
    picture = board.grab().toImage()
    assert picture.pixelColor(40, 60) == theme.color("wait")
    assert picture.pixelColor(10, 500) == theme.color("ground")
    assert "Heron D4" in board.accessibleName()
    board.show_clocks([])
    assert NONE in board.accessibleName()
    assert board.grab().toImage().pixelColor(40, 60) == theme.color("ground")
