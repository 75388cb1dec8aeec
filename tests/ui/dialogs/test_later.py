from __future__ import annotations

import threading

import pytest
from PySide6.QtCore import QThread
from pytestqt.exceptions import capture_exceptions
from pytestqt.qtbot import QtBot

from partsbench.ui.dialogs.later import Later


def test_work_runs_on_another_thread_and_its_result_comes_to_this_one(qtbot: QtBot) -> None:
    later = Later()
    heard: list[tuple[object, bool]] = []

    def hear(value: object) -> None:
        heard.append((value, QThread.currentThread() is later.thread()))

    later.ended.connect(hear)
    with qtbot.waitSignal(later.ended):
        later.start(threading.get_ident)
    assert heard[0][1]
    assert heard[0][0] != threading.get_ident()
    assert not later.busy


def test_only_the_newest_wish_is_kept_while_one_runs(qtbot: QtBot) -> None:
    later = Later()
    gate = threading.Event()
    ran: list[str] = []

    def first() -> str:
        gate.wait(10)
        ran.append("first")
        return "first"

    def second() -> str:
        ran.append("second")
        return "second"

    def third() -> str:
        ran.append("third")
        return "third"

    with qtbot.waitSignal(later.ended) as ended:
        for work in (first, second, third):
            later.start(work)
        gate.set()
    assert ran == ["first", "third"]
    assert ended.args == ["third"]


def test_a_fault_in_the_work_is_raised_here_and_the_next_work_still_runs(qtbot: QtBot) -> None:
    later = Later()

    def broken() -> None:
        raise ValueError("a bug in the work")

    with capture_exceptions() as caught:
        later.start(broken)
        qtbot.waitUntil(lambda: bool(caught))
    assert [str(c[1]) for c in caught] == ["a bug in the work"]
    with qtbot.waitSignal(later.ended) as ended:
        later.start(lambda: 7)
    assert ended.args == [7]


def test_what_is_forgotten_is_not_heard_of_again(qtbot: QtBot) -> None:
    later = Later()
    heard: list[object] = []
    later.ended.connect(heard.append)
    later.start(lambda: "old")
    later.forget()
    qtbot.waitUntil(lambda: not later.busy)
    assert heard == []
    with qtbot.waitSignal(later.ended):
        later.start(lambda: "new")
    assert heard == ["new"]


@pytest.mark.parametrize("waits", [0, 1])
def test_waiting_drops_what_has_not_begun(qtbot: QtBot, waits: int) -> None:
    later = Later()
    ran: list[int] = []

    def work() -> None:
        ran.append(1)

    for _ in range(1 + waits):
        later.start(work)
    later.wait()
    assert ran == [1]
