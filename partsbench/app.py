"""Where everything is put together: paths, the book, the window. Nothing is looked up elsewhere."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from partsbench import files
from partsbench.core.keeping import COPY_NAME
from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop, machine_clock, open_shop

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from partsbench.ui.settings import Settings

NAME = "partsbench"
IN_A_COPY = (
    "This is a copy, and goes when newer ones are enough: look, but work in the book itself. "
    "Ctrl+Shift+S there gets a copy back."
)


def usual_book() -> Path:
    """The user's own book, when no other is named."""
    from platformdirs import user_data_path

    return user_data_path(NAME, appauthor=False) / f"shop{files.BOOK}"


def sample_book() -> Path:
    """The book of the guided sample, beside the user's own."""
    return usual_book().with_name("sample.partsbench")


def usual_copies() -> Path:
    """Where copies of the user's own book go, as long as no other folder is chosen."""
    return usual_book().parent / "copies"


def usual_settings(book: Path) -> Path:
    """The window's memory for one book: beside it where it is the user's own, else by its path."""
    from platformdirs import user_config_path

    name = "window" if book == usual_book() else f"window-{abs(hash_of(book)):x}"
    return user_config_path(NAME, appauthor=False) / f"{name}.ini"


def hash_of(book: Path) -> int:
    """The same number for the same path at every start."""
    from zlib import crc32

    return crc32(str(book.resolve()).encode())


def run(
    book: Path, who: str = "", settings_file: Path | None = None, *, guided: bool = False
) -> int:
    """Open the window on a book and stay until it is closed; the exit code.

    `guided`: with the first job by hand-holding beside it. Where a copy is to be the book, the
    window opens anew on that.
    """
    from PySide6.QtWidgets import QApplication

    from partsbench.ui import theme as themes
    from partsbench.ui.settings import Settings

    app = QApplication.instance() or QApplication([NAME])
    assert isinstance(app, QApplication)
    app.setApplicationName(NAME)
    app.setDesktopFileName(NAME)
    settings = Settings(settings_file or usual_settings(book))
    themes.use(app, themes.first(app, settings.text("view/theme")))
    told: list[Done | Refused] = []
    while True:
        shop = open_shop(book, who=who)
        if isinstance(shop, Shop):
            copy = _at_work(app, shop, settings, told, guided=guided)
        else:
            copy = _refused(shop, book)
        if not isinstance(copy, Path):
            return copy
        from partsbench.services.books.copies import restore

        told = [restore(book, copy, machine_clock, who)]


def _at_work(
    app: QApplication,
    shop: Shop,
    settings: Settings,
    told: list[Done | Refused],
    *,
    guided: bool,
) -> int | Path:
    """The exit code of the window, or the copy that it was closed for."""
    from PySide6.QtCore import QTimer

    from partsbench.ui.fault_teller import FaultTeller
    from partsbench.ui.gathering import Gathering
    from partsbench.ui.main_window import MainWindow

    if shop.book.path == usual_book():
        shop.copies_folder = usual_copies()
    window = MainWindow(shop, settings)
    window.first_words += told
    if COPY_NAME.fullmatch(shop.book.path.stem):
        window.first_words.append(Refused(IN_A_COPY))
    before = sys.excepthook
    sys.excepthook = FaultTeller(window, before, partial(_damage_behind, shop))
    window.show()
    QTimer.singleShot(0, window, partial(_bear_icon, app))
    if guided:
        from partsbench.ui.guide_dock import stand_by

        stand_by(shop, window)
    gathering = Gathering()
    try:
        code = app.exec()
    finally:
        gathering.stop()
        sys.excepthook = before
        shop.close()
    window.deleteLater()
    return window.get_back or code


def _damage_behind(shop: Shop) -> str:
    """What is wrong with the book when the program stumbled over it; asked only then."""
    from partsbench.services.books.exchange import damage_behind

    return damage_behind(shop)


def _bear_icon(app: QApplication) -> None:
    """Drawn once the window is there: it is not to wait for that."""
    from PySide6.QtGui import QIcon

    from partsbench.resources import asset

    app.setWindowIcon(QIcon(str(asset("program.svg"))))


def _refused(why: Refused, book: Path) -> int | Path:
    """Say why the book cannot be opened; the copy that is to take its place, if one is chosen."""
    from partsbench.ui.get_back import offer_copy

    sys.stderr.write(f"{why.sentence}\n")
    return offer_copy(why, NAME, files.is_there(book)) or 2
