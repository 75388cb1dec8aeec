"""Pictures of the pages, grabbed from the real window: `python -m partsbench.ui.pictures`.

Run in a process of its own, with QT_QPA_PLATFORM=offscreen where there is no screen.
"""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent, QEventLoop, QSize, QTimer
from PySide6.QtWidgets import QApplication

from partsbench.core.outcomes import Refused
from partsbench.services.shop import Shop, open_shop
from partsbench.ui import theme as themes
from partsbench.ui.main_window import MainWindow
from partsbench.ui.settings import Settings

SIZE = QSize(1280, 760)
TRIES = 400
SCANNED = {"bench": ("D3",)}
"""What is scanned on a page before its picture is taken, in numbers of the sample chest."""


def grab(book: Path, tag: str, page: str, target: Path, film: Path | None = None) -> str:
    """One page on one book as PNG, with what a `film` in place of the camera shows it; the reason
    in words when there is no picture."""
    shop = open_shop(book)
    if isinstance(shop, Refused):
        return shop.sentence
    memory = target.with_suffix(".ini")
    with contextlib.closing(shop), standing(shop, memory, tag, page, SIZE) as window:
        for text in SCANNED.get(page, ()) if film is None else ():
            window.take_code(text)
        if film is not None:
            hold_before_camera(window, film)
        settle()
        saved = window.grab().save(str(target))
    return "" if saved else f"{target} could not be written."


@contextlib.contextmanager
def standing(shop: Shop, memory: Path, tag: str, page: str, size: QSize) -> Iterator[MainWindow]:
    """The window on a page with a piece at work; what it remembers in `memory` goes with it."""
    settings = Settings(memory)
    settings.put("at/page", page)
    settings.put("at/tag", tag)
    window = MainWindow(shop, settings)
    window.resize(size)
    window.show()
    try:
        _until_it_stands(window, page)
        yield window
    finally:
        window.close()
        settle()
        # Left to Python, it is taken down in any order while the next one is made: that crashed.
        window.deleteLater()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        memory.unlink(missing_ok=True)


def hold_before_camera(window: MainWindow, film: Path) -> None:
    """Switch the camera on, and wait until what the film shows is in the hand."""
    from partsbench.ui.camera.film import FilmOfFile

    window.camera.frames = lambda parent: FilmOfFile(film, parent)
    window.actions_by_key["camera"].trigger()
    for _ in range(TRIES):
        settle()
        if window.page().hand.part:
            return
    raise RuntimeError("the camera read nothing")


def main(words: Sequence[str]) -> int:
    """FOLDER TAG PAGE=BOOK…: a picture `PAGE.png` in FOLDER for each. `camera` is the bench whose
    camera plays `film.gif` in FOLDER."""
    folder, tag, *pairs = words
    app = QApplication.instance() or QApplication(["partsbench"])
    assert isinstance(app, QApplication)
    themes.use(app, themes.LIGHT)
    for pair in pairs:
        page, book = pair.split("=", 1)
        target, film = Path(folder) / f"{page}.png", Path(folder) / "film.gif"
        by_camera = page == "camera"
        fault = (
            grab(Path(book), tag, "bench", target, film)
            if by_camera
            else grab(Path(book), tag, page, target)
        )
        if fault:
            sys.stderr.write(f"{fault}\n")
            return 1
    return 0


def _until_it_stands(window: MainWindow, page: str) -> None:
    for _ in range(TRIES):
        settle()
        if page in window.pages:
            return
    raise RuntimeError(f"the {page} page did not come up")


A_MOMENT_MS = 80


def settle() -> None:
    """Let the window do what it has been asked to, also what it does a moment later."""
    for _ in range(5):
        QApplication.processEvents()
    a_moment = QEventLoop()
    QTimer.singleShot(A_MOMENT_MS, a_moment.quit)
    a_moment.exec()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
