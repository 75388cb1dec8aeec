"""The first job of the guide from the question to the proof, by keys alone, in the real window."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QListWidget, QTabBar, QWidget
from pytestqt.qtbot import QtBot

from partsbench.services.acts.returning import missing
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui import theme as themes
from partsbench.ui.guide_dock import GuideDock, stand_by
from partsbench.ui.main_window import MainWindow
from partsbench.ui.settings import Settings

MOST_TABS = 160
Key = Qt.Key


@pytest.fixture
def window(shop: Shop, tmp_path: Path, qapp: QApplication, qtbot: QtBot) -> Iterator[MainWindow]:
    themes.use(qapp, themes.LIGHT)
    made = MainWindow(shop, Settings(tmp_path / "window.ini"))
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()


def focused() -> QWidget:
    now = QApplication.focusWidget()
    assert now is not None, "nothing has the keyboard"
    return now


def press(*keys: Qt.Key, by: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    for key in keys:
        QTest.keyClick(focused(), key, by)


def tab_to(wanted: Callable[[QWidget], bool], what: str) -> None:
    """Tab until it is reached, as one does who sees where one is."""
    for _ in range(MOST_TABS):
        if wanted(focused()):
            return
        press(Key.Key_Tab)
    raise AssertionError(f"Tab does not lead to {what}, which stops at {focused().objectName()}")


def tab_to_name(name: str) -> None:
    tab_to(lambda w: w.objectName() == name, name)


def down_to(data: object) -> None:
    """Arrow down in a box of choices until one has that value."""
    box = focused()
    assert isinstance(box, QComboBox)
    for _ in range(box.count()):
        if box.currentData() == data:
            return
        press(Key.Key_Down)
    raise AssertionError(f"no choice {data}")


@pytest.mark.long
def test_a_whole_job_by_keys_alone(
    window: MainWindow, shop: Shop, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.page()
    dock = stand_by(shop, window)
    assert _key(dock) == "lay out"
    tab_to_name("rows-field")
    QTest.keyClicks(focused(), "2 1")
    press(Key.Key_Return)
    assert _key(dock) == "known"
    _say_bare(window, qtbot)
    assert _key(dock) == "path"
    _give_clear()
    assert _key(dock) == "labels"
    _save_labels(window, qtbot, tmp_path, monkeypatch)
    assert _key(dock) == "out"
    for number in ("D01", "D02", "D03"):
        _scan(dock, number)
    assert _key(dock) == "step"
    for _ in range(3):  # shown; recorded, or asked first
        if _key(dock) == "step":
            _scan(dock, "D01")
    assert _key(dock) == "swap"
    _scan(dock, "H01", "D02")
    assert _key(dock) == "home"
    _scan(dock, "H01", "D01", "H02", "D02", "H03", "D03")
    assert _key(dock) == "proof"
    assert dock.step is not None
    piece = shop.piece(dock.step.tag)
    assert piece is not None
    assert missing(piece_state(shop, piece)) == []
    dock.close()


def _key(dock: GuideDock) -> str:
    dock.on_beat()
    assert dock.step is not None
    return dock.step.key


def _say_bare(window: MainWindow, qtbot: QtBot) -> None:
    from partsbench.core.finish.old_finish import BARE

    tab_to_name("made-next")
    press(Key.Key_Space)
    over = QApplication.activeModalWidget()
    assert over is not None
    qtbot.waitUntil(over.isActiveWindow)
    tab_to_name("old-on-it")
    down_to(BARE)
    tab_to_name("old-save")
    press(Key.Key_Space)
    press(Key.Key_Escape)
    assert QApplication.activeModalWidget() is None
    _back(window, qtbot)


def _give_clear() -> None:
    tab_to(lambda w: isinstance(w, QTabBar), "the tabs")
    tabs = focused()
    assert isinstance(tabs, QTabBar)
    while tabs.tabText(tabs.currentIndex()).replace("&", "") != "Finish":
        press(Key.Key_Right)
    tab_to_name("paths")
    paths = focused()
    assert isinstance(paths, QListWidget)
    press(Key.Key_Home)
    while paths.currentItem().data(Qt.ItemDataRole.UserRole) != "clear":
        before = paths.currentRow()
        press(Key.Key_Down)
        assert paths.currentRow() > before, "the path is in the list"
    tab_to_name("onto-fronts")
    press(Key.Key_Space)


def _save_labels(
    window: MainWindow, qtbot: QtBot, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The system's own file dialog is the one thing that is stood in for."""
    monkeypatch.setattr(asking, "ask_new_file", lambda *_: folder / "labels.pdf")
    press(Key.Key_P, by=Qt.KeyboardModifier.ControlModifier)
    over = QApplication.activeModalWidget()
    assert over is not None
    qtbot.waitUntil(over.isActiveWindow)
    qtbot.waitUntil(over.save.isEnabled, timeout=20_000)
    tab_to_name("print-save")
    press(Key.Key_Space)
    assert (folder / "labels.pdf").is_file()
    press(Key.Key_Escape)
    _back(window, qtbot)


def _back(window: MainWindow, qtbot: QtBot) -> None:
    """Gives the keyboard back, as a window manager does; the tests' screen has none."""
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)


def _scan(dock: GuideDock, *numbers: str) -> None:
    for number in numbers:
        code = next(code for code in dock.labels if code[5:8] == number)
        tab_to_name(f"guide-label-{code}")
        press(Key.Key_Space)
        dock.on_beat()
