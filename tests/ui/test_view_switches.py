"""How the window looks and sounds is switched in its menu, and is so again the next time."""

from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from partsbench.services.shop import Shop
from partsbench.ui.main_window import MainWindow
from partsbench.ui.settings import Settings


def test_sound_is_switched_off_and_stays_off(
    window: MainWindow, shop: Shop, tmp_path: Path, qtbot: QtBot
) -> None:
    sound = window.actions_by_key["sound"]
    assert sound.isChecked() and window.tones().on
    sound.trigger()
    assert not window.tones().on
    again = MainWindow(shop, Settings(tmp_path / "window.ini"))
    qtbot.addWidget(again)
    assert not again.actions_by_key["sound"].isChecked() and not again.tones().on
    again.close()


def test_the_window_fills_the_screen_and_comes_back(window: MainWindow) -> None:
    full = window.actions_by_key["full-screen"]
    full.trigger()
    assert window.isFullScreen()
    full.trigger()
    assert not window.isFullScreen()
