"""A film file in place of the camera."""

from __future__ import annotations

from pathlib import Path

from PIL import Image
from PySide6.QtCore import QCoreApplication, QObject
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from partsbench.ui.camera.film import FilmOfFile


def test_it_plays_from_its_start_while_it_is_on(tmp_path: Path, qtbot: QtBot) -> None:
    greys = (40, 200)
    first, second = (Image.new("L", (64, 48), grey) for grey in greys)
    first.save(tmp_path / "film.gif", save_all=True, append_images=[second], duration=30, loop=0)
    over = QObject()
    frames = FilmOfFile(tmp_path / "film.gif", over)
    came: list[tuple[int, float]] = []

    def note(image: QImage, at: float) -> None:
        came.append((image.pixelColor(5, 5).lightness(), at))

    frames.came.connect(note)
    for _ in range(2):
        came.clear()
        frames.start()
        qtbot.waitUntil(lambda: len(came) >= 3)
        frames.stop()
        seen = len(came)
        QCoreApplication.processEvents()
        assert len(came) == seen
        assert [abs(grey - greys[n % 2]) < 6 for n, (grey, _) in enumerate(came[:2])] == [True] * 2
        assert [at for _, at in came] == sorted(at for _, at in came)


def test_what_is_no_film_says_so(tmp_path: Path, qtbot: QtBot) -> None:
    over = QObject()
    frames = FilmOfFile(tmp_path / "none.gif", over)
    said: list[str] = []
    frames.failed.connect(said.append)
    frames.start()
    assert said == [f"{tmp_path / 'none.gif'} is no film that can be shown."]
