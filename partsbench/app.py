"""Where everything is put together: paths, the book, the window. Nothing is looked up elsewhere."""

from __future__ import annotations

import sys
from pathlib import Path

from partsbench.core.outcomes import Refused
from partsbench.services.shop import open_shop

NAME = "partsbench"


def usual_book() -> Path:
    """The user's own book, when no other is named."""
    from platformdirs import user_data_path

    return user_data_path(NAME, appauthor=False) / "shop.partsbench"


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

    `guided`: with the first job by hand-holding beside it.
    """
    from PySide6.QtWidgets import QApplication

    from partsbench.services.exchange import damage_behind
    from partsbench.ui import theme as themes
    from partsbench.ui.fault_teller import FaultTeller
    from partsbench.ui.main_window import MainWindow
    from partsbench.ui.settings import Settings

    app = QApplication.instance() or QApplication([NAME])
    assert isinstance(app, QApplication)
    app.setApplicationName(NAME)
    settings = Settings(settings_file or usual_settings(book))
    themes.use(app, themes.first(app, settings.text("view/theme")))
    shop = open_shop(book, who=who)
    if isinstance(shop, Refused):
        return _refused(shop)
    if book == usual_book():
        shop.copies_folder = usual_copies()
    window = MainWindow(shop, settings)
    before = sys.excepthook
    sys.excepthook = FaultTeller(window, before, lambda: damage_behind(shop))
    window.show()
    if guided:
        from partsbench.ui.guide_dock import stand_by

        stand_by(shop, window)
    try:
        return app.exec()
    finally:
        sys.excepthook = before
        shop.close()


def _refused(why: Refused) -> int:
    from PySide6.QtWidgets import QMessageBox

    sys.stderr.write(f"{why.sentence}\n")
    QMessageBox.critical(None, NAME, why.sentence)
    return 2
