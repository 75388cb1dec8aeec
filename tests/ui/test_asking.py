from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.asking import (
    PICTURE_FILTER,
    PIECE_FILTER,
    ask_book,
    ask_folder,
    ask_new_file,
    ask_pictures,
    ask_pieces,
    file_name,
    folder,
    new_file_dialog,
    open_dialog,
    remember_folder,
)
from tests.support.asked_files import answering
from tests.support.shops import lay_out

StandardLocation = QStandardPaths.StandardLocation


@pytest.fixture
def dialog(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> QFileDialog:
    monkeypatch.chdir(tmp_path)
    owner = QWidget()
    qtbot.addWidget(owner)
    made = new_file_dialog(owner, "Save the labels", "Heron K7Q4 labels.pdf")
    qtbot.addWidget(made)
    made.owner = owner
    return made


def test_a_new_file_is_offered_with_its_name(dialog: QFileDialog) -> None:
    assert [Path(name).name for name in dialog.selectedFiles()] == ["Heron K7Q4 labels.pdf"]
    assert dialog.acceptMode() is QFileDialog.AcceptMode.AcceptSave


def test_a_name_typed_without_its_ending_gets_it(dialog: QFileDialog) -> None:
    dialog.selectFile("monday")
    assert [Path(name).name for name in dialog.selectedFiles()] == ["monday.pdf"]


def test_files_go_to_the_documents_and_not_to_where_the_program_was_started(
    dialog: QFileDialog, tmp_path: Path
) -> None:
    assert Path(dialog.directory().absolutePath()) != tmp_path
    assert Path(folder(StandardLocation.DocumentsLocation)).is_dir()


@pytest.mark.parametrize(
    ("kinds", "first"), [(PICTURE_FILTER, "Pictures and PDF files"), (PIECE_FILTER, "Pieces")]
)
def test_files_are_looked_for_where_the_person_keeps_them(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kinds: str, first: str
) -> None:
    monkeypatch.chdir(tmp_path)
    owner = QWidget()
    qtbot.addWidget(owner)
    asked = open_dialog(owner, "Open", kinds, StandardLocation.PicturesLocation)
    qtbot.addWidget(asked)
    assert Path(asked.directory().absolutePath()) == Path(folder(StandardLocation.PicturesLocation))
    assert Path(asked.directory().absolutePath()) != tmp_path
    assert asked.fileMode() is QFileDialog.FileMode.ExistingFiles
    assert asked.nameFilters()[0].startswith(first)


def test_the_next_question_begins_where_the_last_file_was(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "job").mkdir()
    owner = QWidget()
    qtbot.addWidget(owner)
    remember_folder(tmp_path / "job")
    for asked in (
        open_dialog(owner, "Open", PIECE_FILTER, StandardLocation.DocumentsLocation),
        new_file_dialog(owner, "Save", "day.pdf"),
    ):
        qtbot.addWidget(asked)
        assert Path(asked.directory().absolutePath()) == tmp_path / "job"
    remember_folder(tmp_path / "gone")
    asked = open_dialog(owner, "Open", PIECE_FILTER, StandardLocation.DocumentsLocation)
    qtbot.addWidget(asked)
    assert Path(asked.directory().absolutePath()) not in (tmp_path, tmp_path / "gone")


def test_files_of_one_job_begin_alike(shop: Shop) -> None:
    piece = lay_out(shop, "Heron", "2 2 3")
    assert isinstance(piece, Piece)
    assert file_name(shop, piece.tag, "care.pdf") == f"Heron {piece.tag} care.pdf"
    assert file_name(shop, "", "care.pdf") == "care.pdf"


@pytest.fixture
def owner(qtbot: QtBot, tmp_path: Path) -> QWidget:
    made = QWidget()
    qtbot.addWidget(made)
    remember_folder(tmp_path / "gone")
    return made


def test_what_a_person_chooses_comes_back_and_the_next_question_begins_there(
    owner: QWidget, tmp_path: Path
) -> None:
    job = tmp_path / "job"
    job.mkdir()
    files = [job / name for name in ("heron.toml", "label.png", "shop.partsbench")]
    for file in files:
        file.write_bytes(b"x")
    toml, picture, book = files
    found: list[object] = []
    for ask, typed in (
        (lambda: ask_pieces(owner), toml),
        (lambda: ask_pictures(owner), picture),
        (lambda: ask_book(owner, "Open"), book),
        (lambda: ask_folder(owner, "Copies go to"), job),
        (lambda: ask_new_file(owner, "Save", "day.pdf"), job / "monday"),
    ):
        remember_folder(tmp_path / "gone")
        assert answering(lambda ask=ask: found.append(ask()), typed)
    assert found == [[toml], [picture], book, job, job / "monday.pdf"]
    asked = open_dialog(owner, "Open", PIECE_FILTER, StandardLocation.DocumentsLocation)
    assert Path(asked.directory().absolutePath()) == job


def test_who_thinks_better_of_it_has_chosen_nothing(owner: QWidget) -> None:
    found: list[object] = []
    for ask in (
        lambda: ask_pieces(owner),
        lambda: ask_pictures(owner),
        lambda: ask_book(owner, "Open"),
        lambda: ask_folder(owner, "Copies go to"),
        lambda: ask_new_file(owner, "Save", "day.pdf"),
    ):
        assert answering(lambda ask=ask: found.append(ask()))
    assert found == [[], [], None, None, None]


def test_a_folder_is_asked_for_as_a_folder_and_a_book_as_one_file(
    owner: QWidget, tmp_path: Path
) -> None:
    (folders,) = answering(lambda: ask_folder(owner, "Copies go to"))
    assert folders.fileMode() is QFileDialog.FileMode.Directory
    assert folders.windowTitle() == "Copies go to"
    (book,) = answering(lambda: ask_book(owner, "Open a copy"))
    assert book.fileMode() is QFileDialog.FileMode.ExistingFile
    assert book.nameFilters()[0] == "Books (*.partsbench)"
