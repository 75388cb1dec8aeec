"""Films of labels through the whole window: frames, workers, bench, and the question of a guess."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import sin
from pathlib import Path

import pytest
from PySide6.QtGui import QImage
from pytestqt.exceptions import capture_exceptions
from pytestqt.qtbot import QtBot

from partsbench.core.bench.events import Push
from partsbench.core.bench.state import Waits
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.heard.camera import AGAIN
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from partsbench.ui.camera import camera as camera_module
from partsbench.ui.camera.camera import Camera
from partsbench.ui.main_window import MainWindow
from tests.support.asked_person import GUESSED, Person
from tests.support.clock import SetClock
from tests.support.film import Film, Label, ruined_label
from tests.support.film_frames import FilmFrames
from tests.support.shops import code, heron
from tests.support.wall import verb_named


class Bench:
    """The window with a film in place of the camera."""

    def __init__(self, window: MainWindow, shop: Shop, clock: SetClock, folder: Path,
                 qtbot: QtBot) -> None:  # fmt: skip
        self.window, self.shop, self.clock = window, shop, clock
        self.piece: Piece = heron(shop)
        self.frames = FilmFrames(window)
        self._folder, self._qtbot = folder, qtbot
        self.counted: list[str] = []
        window.camera.frames = lambda _parent: self.frames
        window.camera.code_read.connect(self.counted.append)
        window.page()

    @property
    def camera(self) -> Camera:
        assert self.window.camera.camera is not None
        return self.window.camera.camera

    def switch(self) -> None:
        self.window.actions_by_key["camera"].trigger()

    def play(self, film: Film) -> None:
        self.frames.play(film, self._folder, self.camera, self._qtbot, self.clock)

    def label(self, short: str, **where: float) -> Label:
        return Label(code(self.piece, short), **where)

    def out(self) -> list[str]:
        now = self.shop.piece(self.piece.tag)
        assert now is not None
        state = piece_state(self.shop, now)
        return [
            p.short
            for p in now.present
            if p.short[0] == "D" and state.of(p.short).where is Where.OUT
        ]


@pytest.fixture
def bench(window: MainWindow, shop: Shop, clock: SetClock, tmp_path: Path, qtbot: QtBot) -> Bench:
    made = Bench(window, shop, clock, tmp_path, qtbot)
    window.show_page("bench", made.piece.tag)
    made.switch()
    return made


def test_a_label_held_up_is_shown_and_records_nothing_however_long(bench: Bench) -> None:
    before = len(history(bench.shop))
    bench.play(Film().empty(0.4).still(3.5, bench.label("D3")))
    assert bench.counted == [code(bench.piece, "D3")]
    assert bench.window.page().hand.part == "D3"
    assert len(history(bench.shop)) == before


def test_taken_away_and_held_up_once_more_it_is_recorded_once_like_the_second_scan(
    bench: Bench,
) -> None:
    before = len(history(bench.shop))
    label = bench.label("D3")
    bench.play(Film().empty(1.4).still(1, label).empty(2.4).still(2, label))
    assert bench.counted == [code(bench.piece, "D3")] * 2
    assert len(history(bench.shop)) == before + 1


def shaken(film: Film, label: Label) -> Film:
    """Three seconds of a hand that shakes too much to read what it holds."""
    return film.add(3, lambda part: [replace(label, x=label.x + 60 * sin(50 * part), smear=60)])


def out_of_focus(film: Film, label: Label) -> Film:
    return film.add(3, lambda _: [replace(label, smear=60)])


def too_near(film: Film, label: Label) -> Film:
    """It is carried over the edge of the picture, and comes back at another place."""
    return film.add(3, lambda part: [replace(label, x=90 - 40 * part)])


@pytest.mark.parametrize("hides", [shaken, out_of_focus, too_near])
def test_a_label_that_could_not_be_read_for_a_while_records_nothing_and_stays_armed(
    bench: Bench, hides: Callable[[Film, Label], Film]
) -> None:
    before = len(history(bench.shop))
    label = bench.label("D3")
    bench.play(hides(Film().empty(1.4).still(1, label), label).still(1, replace(label, x=560)))
    assert bench.counted == [code(bench.piece, "D3")]
    assert len(history(bench.shop)) == before
    assert bench.window.page().hand.waits is Waits.ARMED
    bench.window.page().push(Push.ENTER)
    assert len(history(bench.shop)) == before + 1


def test_under_a_verb_what_was_hidden_does_not_answer_what_was_asked(bench: Bench) -> None:
    before = len(history(bench.shop))
    bench.window.take_code(verb_named("WASHED").code)
    label = bench.label("D3")
    bench.play(shaken(Film().empty(1.4).still(1, label), label).still(1, label))
    assert len(history(bench.shop)) == before
    assert bench.window.page().hand.waits is Waits.ASKED
    assert bench.camera.corner.words.text() == AGAIN


def test_each_of_two_labels_counts_once_and_a_turned_one_too(bench: Bench) -> None:
    bench.window.show_page("teardown", bench.piece.tag)
    film = Film().still(1.5, bench.label("D1", y=130), bench.label("D2", y=400))
    bench.play(film.still(1.5, bench.label("D5", turn=40)))
    assert sorted(bench.out()) == ["D1", "D2", "D5"]
    assert len(bench.counted) == 3


def test_a_code_of_the_wall_counts_and_switches_the_camera_off(bench: Bench) -> None:
    bench.play(Film().still(1, Label(verb_named("CAMERA").code)))
    assert not bench.camera.on
    assert not bench.window.actions_by_key["camera"].isChecked()
    assert not bench.camera.corner.isVisible()
    bench.clock.pass_time(seconds=2)
    bench.window.take_code(verb_named("CAMERA").code, trigger=True)
    assert bench.camera.on
    assert bench.window.actions_by_key["camera"].isChecked()


@pytest.mark.parametrize(("button", "out"), [("refuse", []), ("confirm", ["D5"])])
def test_a_ruined_label_that_stands_still_is_asked_about_once(
    bench: Bench, qtbot: QtBot, button: str, out: list[str]
) -> None:
    """On the page where a scan records at once."""
    bench.window.show_page("teardown", bench.piece.tag)
    person = Person(bench.window, button)
    label = ruined_label(code(bench.piece, "D5"), GUESSED)
    bench.play(Film().empty(0.4).still(2, label))
    qtbot.waitUntil(lambda: bool(person.asked), timeout=30_000)
    qtbot.waitUntil(lambda: not bench.window.intake().deciding)
    bench.play(Film().still(4, label))
    assert len(person.asked) == 1
    assert "D5 of Heron" in person.asked[0]
    assert bench.out() == out


def test_nothing_for_a_minute_is_nothing(bench: Bench) -> None:
    before = bench.window.answer_bar.showing()
    bench.play(Film(fps=2).empty(60))
    assert bench.counted == []
    assert bench.window.answer_bar.showing() == before
    assert not bench.window.intake().deciding


def test_what_is_found_is_outlined_where_it_is(bench: Bench) -> None:
    bench.play(Film().still(0.5, bench.label("D3", x=600, y=200)))
    corner = bench.camera.corner
    assert corner.isVisible()
    assert corner.picture.accessibleDescription() == "Outlined: D3"


def test_the_window_may_be_closed_while_a_picture_is_looked_at(bench: Bench) -> None:
    picture = QImage(960, 540, QImage.Format.Format_Grayscale8)
    picture.fill(200)
    for n in range(3):
        bench.frames.came.emit(picture, n * 0.1)
    assert bench.camera.busy
    bench.window.close()
    assert not bench.camera.on
    assert not bench.frames.on


def test_a_fault_of_a_worker_comes_back_and_the_next_picture_is_looked_at(
    bench: Bench, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(image: QImage, at: float) -> None:
        raise ZeroDivisionError(at)

    with monkeypatch.context() as patch, capture_exceptions() as caught:
        patch.setattr(camera_module, "_look_at", fails)
        bench.frames.came.emit(QImage(8, 8, QImage.Format.Format_Grayscale8), 0.0)
        qtbot.waitUntil(lambda: len(caught) == 1)
    bench.play(Film().still(0.3, bench.label("D3")))
    assert bench.counted == [code(bench.piece, "D3")]
