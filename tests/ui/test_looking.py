from __future__ import annotations

import threading
from collections.abc import Sequence
from pathlib import Path

import pytest
from PySide6.QtCore import QObject
from PySide6.QtGui import QImage
from pytestqt.exceptions import capture_exceptions
from pytestqt.qtbot import QtBot

from partsbench.core.piece.codes import Code, Family
from partsbench.services.heard.reading import Glance, Seen
from partsbench.ui import looking
from partsbench.ui.looking import FileLook, Looker
from tests.support.labels import label_picture


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

    def look(path: Path, book: Sequence[str]) -> Glance:
        at_once.append(inside.acquire(blocking=False))
        threads.append(threading.get_ident())
        inside.release()
        return Glance(str(path), fault=" ".join(book))

    found: list[Glance] = []
    looker.looked.connect(found.append)
    monkeypatch.setattr(looking, "glance_at", look)
    looker.look_at_files([Path(f"{n}.png") for n in range(8)], ["A", "B"])
    assert looker.busy
    qtbot.waitUntil(lambda: len(found) == 8)
    assert [g.file for g in found] == [f"{n}.png" for n in range(8)]
    assert {g.fault for g in found} == {"A B"}
    assert all(at_once)
    assert threading.get_ident() not in threads
    assert not looker.busy


def test_a_fault_in_a_worker_comes_back_to_the_window(
    looker: Looker, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def look(path: Path, book: Sequence[str]) -> Glance:
        raise ZeroDivisionError(path)

    monkeypatch.setattr(looking, "glance_at", look)
    with capture_exceptions() as caught:
        looker.look_at_files([Path("a.png")])
        qtbot.waitUntil(lambda: len(caught) == 1)
    assert caught[0][0] is ZeroDivisionError
    assert not looker.busy


def test_a_copied_picture_is_packed_off_the_windows_thread_and_pictured_after(
    looker: Looker, qtbot: QtBot, tmp_path: Path
) -> None:
    from PIL import Image

    code = str(Code("ZZZ9", Family.DRAWER, 5))
    Image.fromarray(label_picture(code)).save(tmp_path / "a.png")
    glances: list[Glance] = []
    looks: list[FileLook] = []
    looker.looked.connect(glances.append)
    looker.pictured.connect(looks.append)
    looker.look_at_picture(QImage(str(tmp_path / "a.png")), "a copy")
    assert glances == []
    qtbot.waitUntil(lambda: not looker.busy, timeout=20_000)
    assert (glances[0].file, glances[0].texts) == ("a copy", (code,))
    looker.picture(glances[0], Seen("a copy", (code,)), given=True)
    qtbot.waitUntil(lambda: not looker.busy, timeout=20_000)
    (look,) = looks
    assert look.given
    assert [(v.page, v.scale) for v in look.views.pages] == [(1, 2.0)]
