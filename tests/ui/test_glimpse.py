"""Pictures dropped on the whole window: straight on when plain, asked about when not."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QDialog, QPushButton
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.reading.found import How
from partsbench.services.acts.history import history
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.picture_dialog import AskDialog, LastPicture
from partsbench.ui.main_window import MainWindow
from tests.support.labels import label_picture
from tests.support.ruined import ruined
from tests.support.shops import code, heron


class Person(QObject):
    """Waits for the question, does something to it, and then presses a button of it."""

    def __init__(self, window: MainWindow, button: str, first: Callable[[], object]) -> None:
        super().__init__(window)
        self.asked: list[str] = []
        self.seen: list[object] = []
        self._window, self._button, self._first = window, button, first
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.on_time)
        self._timer.start(10)

    def on_time(self) -> None:
        for dialog in self._window.findChildren(AskDialog):
            if dialog.isVisible():
                self._timer.stop()
                self.asked.append(dialog.heading.text())
                self.seen.append(self._first())
                dialog.findChild(QPushButton, self._button).click()


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


def drawers(piece: Piece) -> list[str]:
    return [code(piece, f"D{n}") for n in range(1, 8)]


def out(shop: Shop, piece: Piece) -> list[str]:
    now = shop.piece(piece.tag)
    assert now is not None
    state = piece_state(shop, now)
    return [p.short for p in now.present if state.of(p.short).where is Where.OUT]


@pytest.mark.parametrize(("how", "mark"), [(How.BOOK, "?"), (How.KNOWN_MODULES, "n")])
def test_a_ruined_label_is_recorded_only_after_a_person_took_it(
    window: MainWindow,
    shop: Shop,
    piece: Piece,
    tmp_path: Path,
    qtbot: QtBot,
    how: How,
    mark: str,
) -> None:
    """On the Teardown page, where a scan records at once."""
    window.show_page("teardown", piece.tag)
    file = tmp_path / "ruined.png"
    text = ruined(drawers(piece), file, how)
    short = next(f"D{n}" for n in range(1, 8) if code(piece, f"D{n}") == text)
    before = len(history(shop))
    looker = window.listening.intake.looker
    for button, there in (("refuse", []), ("confirm", [short])):
        person = Person(window, button, lambda: (len(history(shop)), out(shop, piece)))
        window.listening.intake.take_files([file])
        qtbot.waitUntil(lambda person=person: bool(person.asked), timeout=30_000)
        qtbot.waitUntil(lambda: not looker.busy)
        assert person.seen == [(before, [])]
        assert f"{short} of Heron" in person.asked[0]
        assert person.asked[0].endswith(mark)
        assert [p for p in out(shop, piece) if p.startswith("D")] == there


def test_a_plain_label_is_not_asked_about_and_its_picture_is_one_press_away(
    window: MainWindow, shop: Shop, piece: Piece, tmp_path: Path, qtbot: QtBot
) -> None:
    from PIL import Image

    window.show_page("bench", piece.tag)
    glimpse = window.answer_bar.glimpse
    assert not glimpse.isVisible()
    file = tmp_path / "label.png"
    Image.fromarray(label_picture(code(piece, "D6"), 2)).save(file)
    window.listening.intake.take_files([file])
    qtbot.waitUntil(glimpse.isVisible, timeout=20_000)
    assert "D6" in window.answer_bar.showing()
    assert [d for d in window.findChildren(QDialog) if d.isVisible()] == []
    assert not glimpse.icon().isNull()
    window.resize(500, 420)
    assert not glimpse.isVisible()
    window.resize(1280, 720)
    glimpse.click()
    (dialog,) = window.findChildren(LastPicture)
    assert dialog.isVisible()
    assert dialog.heading.text() == "D6 of Heron"
    assert dialog.picture.page() == 1
    dialog.reject()


def test_the_last_picture_can_be_asked_for_before_there_is_one(
    window: MainWindow, piece: Piece
) -> None:
    window.page()
    window.actions_by_key["picture"].trigger()
    (dialog,) = window.findChildren(LastPicture)
    assert dialog.heading.text().startswith("No label was read")
    dialog.reject()
