"""What the window's tests ask for: the program dressed, a theme, and the whole window."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from partsbench.services.shop import Shop
from partsbench.ui import theme as themes
from partsbench.ui.theme import Theme

if TYPE_CHECKING:
    from partsbench.ui.main_window import MainWindow


@pytest.fixture(params=["light"])
def theme(request: pytest.FixtureRequest, qapp: QApplication) -> Theme:
    """The light theme; `@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)`."""
    chosen = themes.THEMES[request.param]
    themes.use(qapp, chosen)
    return chosen


@pytest.fixture(autouse=True)
def no_folder_was_used() -> Iterator[None]:
    """The program keeps the folder last used until it ends; a test begins without one."""
    from partsbench.ui.asking import LAST_FOLDER

    yield
    if app := QCoreApplication.instance():
        app.setProperty(LAST_FOLDER, "")


@pytest.fixture
def window(shop: Shop, tmp_path: Path, theme: Theme, qtbot: QtBot) -> Iterator[MainWindow]:
    """The window as the program opens it, on the empty book of `shop`."""
    from partsbench.ui.main_window import MainWindow
    from partsbench.ui.settings import Settings

    made = MainWindow(shop, Settings(tmp_path / "window.ini"))
    qtbot.addWidget(made)
    made.resize(1280, 720)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()
    made.deleteLater()
    # Without this the window would live on into the next test, with its book closed.
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
