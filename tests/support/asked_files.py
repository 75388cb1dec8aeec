"""The system's dialogs for files, answered by a person who types a name or thinks better of it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit


def answering(act: Callable[[], object], *typed: Path) -> list[QFileDialog]:
    """Do what asks for files, and answer the dialog when it stands: with what is typed, or Esc.

    Gives the dialogs that were answered.
    """
    answered: list[QFileDialog] = []

    def answer() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, QFileDialog), dialog
        answered.append(dialog)
        if not typed:
            dialog.reject()
            return
        field = dialog.findChild(QLineEdit, "fileNameEdit")
        assert field is not None
        field.setText(" ".join(f'"{path}"' for path in typed) if len(typed) > 1 else str(typed[0]))
        # As Enter does: the dialog looks whether it is there.
        dialog.accept()

    QTimer.singleShot(0, answer)
    act()
    return answered
