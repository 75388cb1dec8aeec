"""Films through QtMultimedia, in their own time, to the real bench: what counts, and no more."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from time import monotonic

import pytest
from pytestqt.qtbot import QtBot

from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from partsbench.ui.main_window import MainWindow
from tests.support.asked_person import GUESSED, Person
from tests.support.film import Film, Label, ruined_label, write_avi
from tests.support.media_frames import media_frames
from tests.support.shops import code, heron

Tell = Callable[[str, object], None]


class Watching:
    """The window with a film in place of its camera; `counted` with seconds since it was begun."""

    def __init__(self, window: MainWindow, shop: Shop, folder: Path, qtbot: QtBot) -> None:
        self.window, self.shop, self.folder, self.qtbot = window, shop, folder, qtbot
        self.piece = heron(shop)
        self.counted: list[tuple[float, str]] = []
        self.frames = 0
        window.page()
        window.show_page("bench", self.piece.tag)

    def play(self, film: Film) -> None:
        write_avi(film, self.folder / "film.avi")
        made = media_frames(self.window, self.folder / "film.avi")
        self.window.camera.frames = lambda _: made
        self.window.camera.code_read.connect(self.on_counted)
        made.came.connect(self.on_came)
        self.window.actions_by_key["camera"].trigger()
        self.qtbot.waitUntil(lambda: made.ended, timeout=60_000)
        camera = self.window.camera.camera
        assert camera is not None
        self.qtbot.waitUntil(lambda: not camera.busy, timeout=60_000)

    def on_came(self) -> None:
        self.began = monotonic() if not self.frames else self.began
        self.frames += 1

    def on_counted(self, text: str) -> None:
        self.counted.append((monotonic() - self.began, text))

    def label(self, short: str, **where: float) -> Label:
        return Label(code(self.piece, short), **where)

    @property
    def texts(self) -> list[str]:
        return [text for _, text in self.counted]


@pytest.fixture
def watching(window: MainWindow, shop: Shop, tmp_path: Path, qtbot: QtBot) -> Watching:
    return Watching(window, shop, tmp_path, qtbot)


def test_drawers_that_are_carried_past_are_read_each_once(watching: Watching) -> None:
    codes = [code(watching.piece, short) for short in ("D1", "D2")]
    film = Film().empty(0.4)
    for text in codes:
        film.carried_past(text, 6.0)
    watching.play(film)
    assert watching.texts == codes


def test_a_label_at_an_angle_is_answered_soon(watching: Watching, record_property: Tell) -> None:
    watching.play(Film().empty(1.0).still(3, watching.label("D3", turn=40)))
    ((at, text),) = watching.counted
    assert text == code(watching.piece, "D3")
    assert at > 0.9
    record_property("seconds_to_the_answer", at - 1.0)
    assert watching.window.page().hand.part == "D3"


def test_of_two_labels_each_counts_once(watching: Watching) -> None:
    two = watching.label("D1", y=140), watching.label("D2", y=400)
    watching.play(Film().still(3, *two))
    assert sorted(watching.texts) == sorted(label.code for label in two)


def test_a_ruined_label_is_asked_about_and_not_recorded(watching: Watching) -> None:
    before = len(history(watching.shop))
    person = Person(watching.window, "refuse")
    label = ruined_label(code(watching.piece, "D5"), GUESSED)
    watching.play(Film().empty(0.4).still(6, label))
    watching.qtbot.waitUntil(lambda: not watching.window.intake().deciding)
    assert len(person.asked) == 1
    assert "D5 of Heron" in person.asked[0]
    assert watching.texts == []
    assert len(history(watching.shop)) == before


def test_none_is_none(watching: Watching) -> None:
    watching.play(Film(fps=15).empty(6))
    assert watching.counted == []
    assert watching.frames > 10
