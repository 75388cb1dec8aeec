from __future__ import annotations

import threading
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from pytestqt.exceptions import capture_exceptions
from pytestqt.qtbot import QtBot

from partsbench.services.reading import Glance
from partsbench.ui import looking
from partsbench.ui.looking import Looker


@pytest.fixture
def looker(qtbot: QtBot) -> Looker:
    owner = QObject()
    made = Looker(owner)
    made._owner = owner  # type: ignore[attr-defined]
    return made


def test_files_are_looked_at_one_after_another_off_the_windows_thread(
    looker: Looker, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    threads: list[int] = []
    at_once: list[int] = []
    inside = threading.Semaphore(1)

    def look(path: Path) -> Glance:
        at_once.append(inside.acquire(blocking=False))
        threads.append(threading.get_ident())
        inside.release()
        return Glance(str(path), (path.stem,))

    found: list[Glance] = []
    looker.looked.connect(found.append)
    monkeypatch.setattr(looking, "glance_at", look)
    looker.look_at_files([Path(f"{n}.png") for n in range(8)])
    assert looker.busy
    qtbot.waitUntil(lambda: len(found) == 8)
    assert [g.texts for g in found] == [(str(n),) for n in range(8)]
    assert all(at_once)
    assert threading.get_ident() not in threads
    assert not looker.busy


def test_a_fault_in_a_worker_comes_back_to_the_window(
    looker: Looker, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def look(path: Path) -> Glance:
        raise ZeroDivisionError(path)

    monkeypatch.setattr(looking, "glance_at", look)
    with capture_exceptions() as caught:
        looker.look_at_files([Path("a.png")])
        qtbot.waitUntil(lambda: len(caught) == 1)
    assert caught[0][0] is ZeroDivisionError
    assert not looker.busy
