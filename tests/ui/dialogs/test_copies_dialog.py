"""Copies are listed, made and asked for; one is got back only after its loss was told."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from partsbench.services.books import copies
from partsbench.services.books.pieces import lay_out
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui.dialogs.copies_dialog import CopiesDialog
from partsbench.ui.main_window import MainWindow
from partsbench.ui.theme import Theme


@pytest.fixture
def dialog(shop: Shop, theme: Theme, qtbot: QtBot) -> CopiesDialog:
    lay_out(shop, "Heron", "2 2")
    made = CopiesDialog(shop, "", None)
    qtbot.addWidget(made)
    return made


def choose(dialog: CopiesDialog, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder.mkdir()
    monkeypatch.setattr(asking, "ask_folder", lambda *_: folder)
    dialog.on_folder_asked()


def test_a_folder_chosen_holds_a_copy_at_once(
    dialog: CopiesDialog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert dialog.list.count() == 0
    assert not dialog.back.isEnabled()
    choose(dialog, tmp_path / "second", monkeypatch)
    assert dialog.list.count() == 1
    assert "the latest has all" in dialog.standing.text()


def test_the_loss_is_told_before_the_button_does_it(
    dialog: CopiesDialog, shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(dialog, tmp_path / "second", monkeypatch)
    lay_out(shop, "Quill", "2")
    asked: list[Path] = []
    dialog.get_back_asked.connect(asked.append)
    dialog.list.setCurrentRow(0)
    dialog.on_back_asked()
    assert "Lost would be 1 change “Took in Quill" in dialog.told.text()
    assert asked == []
    dialog.on_back_asked()
    assert asked == [copies.kept(shop)[-1].path]


def test_another_file_that_is_no_copy_is_told(
    dialog: CopiesDialog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = tmp_path / "list.partsbench"
    other.write_text("milk and bread " * 100)
    monkeypatch.setattr(asking, "ask_book", lambda *_: other)
    dialog.on_other_asked()
    assert "is not a book" in dialog.told.text()
    assert not dialog.back.isEnabled()


def test_the_window_says_what_was_put_aside_and_makes_the_copy_of_the_day(
    window: MainWindow, shop: Shop, tmp_path: Path
) -> None:
    folder = tmp_path / "second"
    folder.mkdir()
    lay_out(shop, "Heron", "2 2")
    shop.copies_folder = folder
    window.on_copies_due()
    assert len(copies.kept(shop)) == 1
    folder.joinpath(copies.kept(shop)[0].path.name).unlink()
    folder.rmdir()
    folder.write_text("a file now")
    window.on_copies_due()
    assert "No copy of today could be made" in window.answer_bar.sentence.text()


def test_a_copy_is_made_now_and_who_thinks_better_of_it_has_chosen_nothing(
    dialog: CopiesDialog, shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    dialog.on_copy_asked()
    assert dialog.told.text() == "No folder for copies is chosen."
    before = shop.book.newest()
    monkeypatch.setattr(asking, "ask_folder", lambda *_: None)
    monkeypatch.setattr(asking, "ask_book", lambda *_: None)
    dialog.on_folder_asked()
    dialog.on_other_asked()
    assert shop.book.newest() == before and not dialog.back.isEnabled()
    choose(dialog, tmp_path / "second", monkeypatch)
    lay_out(shop, "Quill", "2")
    dialog.refresh()
    assert "the latest has all" not in dialog.standing.text()
    dialog.on_copy_asked()
    assert "the latest has all" in dialog.standing.text()
