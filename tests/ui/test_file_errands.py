"""The sample is started as a program of its own; files come in and go out by the menu."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QProcess
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Refused
from partsbench.services.books.pieces import pieces
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.picture_dialog import labels_of
from partsbench.ui.main_window import MainWindow
from tests.support.asked_files import answering
from tests.support.labels import label_picture
from tests.support.shops import code, heron, shop_at


@pytest.mark.parametrize("begins", [True, False])
def test_the_sample_opens_in_a_process_of_its_own(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, begins: bool
) -> None:
    started: list[list[str]] = []
    told: list[object] = []

    def start(program: str, words: list[str]) -> tuple[bool, int]:
        started.append(words)
        return begins, 1

    monkeypatch.setattr(QProcess, "startDetached", start)
    window._files.answered.connect(told.append)
    window.page()
    window.actions_by_key["sample"].trigger()
    assert started == [["-m", "partsbench", "sample"]]
    assert isinstance(told[0], str if begins else Refused)


def test_a_piece_is_taken_in_from_the_menu_and_a_copy_of_the_book_is_saved(
    window: MainWindow, shop: Shop, tmp_path: Path
) -> None:
    told: list[object] = []
    window._files.answered.connect(told.append)
    piece, copy = tmp_path / "rill.toml", tmp_path / "copy.partsbench"
    piece.write_text('codename = "Rill"\nrows = "2"\n', encoding="utf-8")
    for key in ("take-in", "copy", "open"):
        assert answering(window.actions_by_key[key].trigger), "asked, and thought better of"
    assert told == [] and pieces(shop) == [] and not copy.exists()
    answering(window.actions_by_key["take-in"].trigger, piece)
    assert [p.codename for p in pieces(shop)] == ["Rill"]
    answering(window.actions_by_key["copy"].trigger, copy)
    assert isinstance(told[-1], Done) and copy.name in told[-1].sentence
    kept = shop_at(copy)
    assert [p.codename for p in pieces(kept)] == ["Rill"]
    kept.close()


def test_a_picture_from_the_menu_is_read(
    window: MainWindow, shop: Shop, tmp_path: Path, qtbot: QtBot
) -> None:
    label = code(heron(shop), "D1")
    picture = tmp_path / "label.png"
    Image.fromarray(label_picture(label)).save(picture)
    answering(window.actions_by_key["open"].trigger, picture)
    qtbot.waitUntil(lambda: window.last_look() is not None, timeout=20_000)
    look = window.last_look()
    assert look is not None and label in [found.code for found in labels_of(shop, look)]
