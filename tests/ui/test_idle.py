from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from partsbench.ui.idle import USUAL_SECONDS
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.bench_page import BenchPage
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes
from tests.support.shops import code


@pytest.fixture
def heron(shop: Shop, clock: SetClock) -> Piece:
    piece = two_finishes(shop)
    do(shop, piece, "D4", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, piece, "D4", "sand_150", "sand_220", "condition")
    return piece


@pytest.fixture
def bench(window: MainWindow, heron: Piece) -> BenchPage:
    window.show_page("bench", heron.tag)
    page = window.page()
    assert isinstance(page, BenchPage)
    return page


def test_thirty_seconds_alone_and_the_clocks_are_shown(bench: BenchPage) -> None:
    assert USUAL_SECONDS == 30
    assert bench.idling.idle._timer.isActive()
    bench.idling.idle.on_time_was_up()
    assert bench.idling.board.isVisible()
    assert bench.idling.board.geometry() == bench.rect()
    assert bench.idling.board.lines[0].cliff


def test_a_key_comes_back_and_does_nothing_else(
    bench: BenchPage, window: MainWindow, heron: Piece, shop: Shop
) -> None:
    window.take_code(code(heron, "D1"))
    assert bench.shown.armed
    before = len(history(shop))
    bench.idling.idle.on_time_was_up()
    QTest.keyClick(bench, Qt.Key.Key_Return)
    assert not bench.idling.board.isVisible()
    assert len(history(shop)) == before, "the key only woke the page"
    QTest.keyClick(bench, Qt.Key.Key_Return)
    assert len(history(shop)) == before + 1


def test_a_scan_comes_back_and_is_answered(
    bench: BenchPage, window: MainWindow, heron: Piece
) -> None:
    bench.idling.idle.on_time_was_up()
    window.take_code(code(heron, "D2"))
    assert not bench.idling.board.isVisible()
    assert bench.board.number.text() == "D2"


def test_the_clocks_go_on_while_nobody_is_there(bench: BenchPage, clock: SetClock) -> None:
    bench.idling.idle.on_time_was_up()
    before = bench.idling.board.lines[0].left
    clock.pass_time(minutes=3)
    bench.idling.on_clocks_grew_old()
    assert bench.idling.board.lines[0].left != before


def test_a_question_is_not_covered(bench: BenchPage, window: MainWindow, heron: Piece) -> None:
    window.take_code(code(heron, "D1"))
    bench.on_note_pressed()
    bench.idling.idle.on_time_was_up()
    assert not bench.idling.board.isVisible()


def test_another_page_stops_the_watch(bench: BenchPage, window: MainWindow) -> None:
    bench.idling.idle.on_time_was_up()
    window.show_page("day")
    assert not bench.idling.idle._timer.isActive()
    window.show_page("bench")
    assert not bench.idling.board.isVisible()
    assert bench.idling.idle._timer.isActive()
