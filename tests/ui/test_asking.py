from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from partsbench.ui.asking import documents, new_file_dialog


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
    assert Path(documents()).is_dir()
