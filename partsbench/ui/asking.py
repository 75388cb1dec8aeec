"""The system's own file dialogs as plain functions, which a test replaces by plain functions."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QDir, QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

from partsbench.services.reading import PICTURES

PICTURE_FILTER = f"Pictures and PDF files ({' '.join(f'*{end}' for end in PICTURES)});;All (*)"
PIECE_FILTER = "Pieces (*.toml *.json);;All (*)"


def ask_pictures(parent: QWidget) -> list[Path]:
    """Pictures and PDF files to look into; [] when the person thinks better of it."""
    names, _ = QFileDialog.getOpenFileNames(parent, "Read a picture or PDF", "", PICTURE_FILTER)
    return [Path(name) for name in names]


def ask_pieces(parent: QWidget) -> list[Path]:
    """Files that describe a piece."""
    names, _ = QFileDialog.getOpenFileNames(parent, "Take in a piece", "", PIECE_FILTER)
    return [Path(name) for name in names]


def ask_new_file(parent: QWidget, title: str, name: str) -> Path | None:
    """Where to write a new file; a name typed without its ending gets that of `name`."""
    dialog = new_file_dialog(parent, title, name)
    chosen = dialog.selectedFiles() if dialog.exec() else []
    dialog.deleteLater()
    return Path(chosen[0]) if chosen else None


def new_file_dialog(parent: QWidget, title: str, name: str) -> QFileDialog:
    """Stands in the folder last used; at first in the documents, where an icon was clicked."""
    dialog = QFileDialog(parent, title)
    if dialog.directory() == QDir.current():
        dialog.setDirectory(documents())
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setFileMode(QFileDialog.FileMode.AnyFile)
    ending = Path(name).suffix.lstrip(".")
    dialog.setNameFilters([f"{ending.upper()} (*.{ending})", "All (*)"])
    dialog.setDefaultSuffix(ending)
    dialog.selectFile(name)
    return dialog


def documents() -> str:
    """The person's folder of documents, or their own where there is none."""
    found = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
    return found if found and Path(found).is_dir() else QDir.homePath()
