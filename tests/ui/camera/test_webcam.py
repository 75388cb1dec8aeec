"""A film played by QtMultimedia into the sink that the camera of the computer fills."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Code, Family
from partsbench.services.heard.camera import look
from partsbench.ui.camera.camera import frame_of
from partsbench.ui.camera.frames import NO_MULTIMEDIA, NoFrames
from partsbench.ui.main_window import MainWindow
from tests.support.film import HIGH, WIDE, Film, Label, read_avi, write_avi
from tests.support.media_frames import media_frames

CODE = str(Code("ZZZ9", Family.DRAWER, 5))


def test_a_film_is_kept_whole_in_its_file(tmp_path: Path) -> None:
    film = Film().still(1, Label(CODE))
    write_avi(film, tmp_path / "film.avi")
    kept = list(read_avi(tmp_path / "film.avi"))
    assert [at for _, at in kept] == pytest.approx([n / 15 for n in range(15)], abs=1e-4)
    first = QImage.fromData(kept[0][0], "jpg")
    assert (first.width(), first.height()) == (WIDE, HIGH)


def test_a_picture_of_any_width_is_passed_on_without_gaps() -> None:
    image = QImage(101, 3, QImage.Format.Format_RGB32)
    image.fill(0xFFFFFFFF)
    image.setPixel(100, 2, 0xFF000000)
    frame = frame_of(image, 2.5)
    assert (frame.width, frame.height, frame.at) == (101, 3, 2.5)
    assert frame.grey == b"\xff" * 302 + b"\0"


def test_where_multimedia_is_missing_the_window_says_so_in_one_line(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[object] = []
    window.page()
    window.camera.answered.connect(said.append)
    window.camera.frames = lambda parent: NoFrames(NO_MULTIMEDIA, parent)
    window.actions_by_key["camera"].trigger()
    assert said == [Refused(NO_MULTIMEDIA)]
    assert "extra" in window.answer_bar.showing()
    assert not window.actions_by_key["camera"].isChecked()


def test_a_computer_without_a_camera_says_so_in_one_line(window: MainWindow) -> None:
    """As this machine is: without QtMultimedia, or without a camera."""
    window.page()
    window.actions_by_key["camera"].trigger()
    camera = window.camera.camera
    assert camera is not None
    if camera.on:
        pytest.skip("this computer has a camera")
    assert window.answer_bar.showing().startswith("NOT DONE")
    assert not window.actions_by_key["camera"].isChecked()
    assert not camera.corner.isVisible()


def test_a_film_comes_through_multimedia_and_is_read(tmp_path: Path, qtbot: QtBot) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    write_avi(Film().still(4, Label(CODE)), tmp_path / "film.avi")
    frames = media_frames(over, tmp_path / "film.avi")
    came: list[tuple[QImage, float]] = []
    frames.came.connect(lambda image, at: came.append((image, at)))
    frames.start()
    qtbot.waitUntil(lambda: len(came) >= 5, timeout=20_000)
    frames.stop()
    times = [at for _, at in came]
    assert times == sorted(times)
    assert {look(frame_of(image, at)).texts for image, at in came} == {(CODE,)}
