"""The system's own file dialogs as plain functions, which a test replaces by plain functions."""

from __future__ import annotations

from pathlib import Path

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
    """Where to write a new file."""
    chosen, _ = QFileDialog.getSaveFileName(parent, title, name)
    return Path(chosen) if chosen else None
