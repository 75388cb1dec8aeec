"""After an answer about something else, no key writes to the part before it; in the real window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.acts.teardown import take_out
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from partsbench.ui.main_window import MainWindow
from tests.support.clock import SetClock
from tests.support.finishing import two_finishes
from tests.support.shops import code, quill

ENTER, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Escape
WRITING = (ENTER, Qt.Key.Key_R, Qt.Key.Key_S, Qt.Key.Key_N, Qt.Key.Key_P, Qt.Key.Key_B,
           Qt.Key.Key_I, Qt.Key.Key_1)  # fmt: skip


@pytest.fixture
def heron(shop: Shop) -> Piece:
    return two_finishes(shop)


def records(shop: Shop) -> int:
    return len(history(shop))


def pressed(window: MainWindow, qtbot: QtBot, *keys: Qt.Key) -> None:
    for key in keys:
        qtbot.keyClick(window.page(), key)


def strangers(other: Piece) -> list[str]:
    """A namesake of another job, a label of no book, and what is no code."""
    return [code(other, "D2"), "K7Q4-D05AK", "hello there"]


@pytest.mark.parametrize("which", range(3))
def test_on_return_a_stranger_takes_the_drawer_that_waits_out_of_the_hand(
    which: int, window: MainWindow, heron: Piece, shop: Shop, clock: SetClock, qtbot: QtBot
) -> None:
    stranger = strangers(quill(shop))[which]
    take_out(shop, heron.tag, ["D2"])
    window.show_page("return", heron.tag)
    window.take_code(code(heron, "D2"), trigger=True)
    clock.pass_time(seconds=4)
    window.take_code(stranger, trigger=True)
    before = records(shop)
    keys = [key for key in WRITING if which or key != ENTER]
    pressed(window, qtbot, *keys)
    assert records(shop) == before
    assert window.page().ask.kind == "", "nothing is asked of a part that is not in the hand"
    assert piece_state(shop, heron).of("D2").where is Where.OUT
    pressed(window, qtbot, ESCAPE)
    assert window.page().hand.code == ""


@pytest.mark.parametrize("which", range(3))
def test_on_the_bench_a_namesake_leaves_no_key_that_writes_to_ours(
    which: int, window: MainWindow, heron: Piece, shop: Shop, clock: SetClock, qtbot: QtBot
) -> None:
    stranger = strangers(quill(shop))[which]
    window.show_page("bench", heron.tag)
    window.take_code(code(heron, "D2"), trigger=True)
    clock.pass_time(seconds=4)
    window.take_code(stranger, trigger=True)
    before = records(shop)
    pressed(window, qtbot, *(key for key in WRITING if which or key not in (ENTER, Qt.Key.Key_R)))
    assert records(shop) == before
    assert window.page().ask.kind == ""
    assert window.page().shown.short == ""


def test_after_a_click_in_the_drawing_teardown_goes_on_with_the_next(
    window: MainWindow, heron: Piece, shop: Shop, clock: SetClock, qtbot: QtBot
) -> None:
    window.show_page("teardown", heron.tag)
    window.take_code(code(heron, "D1"), trigger=True)
    window.page().view.pressed.emit("H1")
    pressed(window, qtbot, ENTER)
    assert "already" in window.answer_bar.showing()
    pulled = [window.page().number.text()]
    for _ in range(2):
        clock.pass_time(seconds=4)
        pressed(window, qtbot, ENTER)
        pulled.append(window.page().number.text())
    state = piece_state(shop, heron)
    assert len(set(pulled)) == 3, "each press pulls the next one"
    assert all(state.of(short).where is Where.OUT for short in pulled[:2])


def test_a_wet_drawer_is_told_before_it_is_carried_home(
    window: MainWindow, heron: Piece, shop: Shop, clock: SetClock
) -> None:
    from tests.support.steps import bring

    take_out(shop, heron.tag, ["D1"])
    bring(shop, clock, heron.tag, "D1", "colour_2")
    window.show_page("return", heron.tag)
    window.take_code(code(heron, "D1"), trigger=True)
    board = window.page().board
    assert board.shout.line == "too soon"
    assert "before its time" in board.cautions.text()


def test_a_question_about_the_part_before_is_put_away_by_the_next_scan(
    window: MainWindow, heron: Piece, shop: Shop, clock: SetClock, qtbot: QtBot
) -> None:
    from tests.support.finishing import do

    do(shop, heron, "D1", "wash", "rinse")
    window.show_page("bench", heron.tag)
    window.take_code(code(heron, "D1"), trigger=True)
    pressed(window, qtbot, Qt.Key.Key_I)
    assert window.page().ask.kind == "insist"
    clock.pass_time(seconds=4)
    window.take_code(code(heron, "D3"), trigger=True)
    assert window.page().ask.kind == ""


def test_what_is_recorded_is_not_recorded_again_by_a_bounce(
    window: MainWindow, heron: Piece, shop: Shop, clock: SetClock
) -> None:
    window.show_page("bench", heron.tag)
    label = code(heron, "D1")
    window.take_code(label, trigger=True)
    clock.pass_time(seconds=4)
    window.take_code(label, trigger=True)
    before = records(shop)
    for _ in range(3):
        clock.pass_time(seconds=0.4)
        window.take_code(label, trigger=True)
    assert records(shop) == before
    assert window.page().hand.waits.value == "recorded"
