"""When the program itself is at fault: told plainly, with details to copy. Nothing is recorded."""

from __future__ import annotations

import platform
import sys
import traceback

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

SAID = (
    "Something went wrong in partsbench itself. What was acknowledged before is in the book; "
    "the last thing asked for was not done. The details below hold no client data but may "
    "name files."
)


class FaultDialog(QDialog):
    """The details in plain text, and a button that copies them.

    `damage` says what is wrong with the book where that is at fault, and not the program.
    """

    def __init__(self, details: str, parent: QWidget | None = None, damage: str = "") -> None:
        super().__init__(parent)
        self.setWindowTitle("A fault")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        said = QLabel(damage or SAID)
        said.setObjectName("fault-said")
        said.setWordWrap(True)
        self.details = QPlainTextEdit(details)
        self.details.setReadOnly(True)
        self.details.setAccessibleName("Details")
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        copy = buttons.addButton("Copy details", QDialogButtonBox.ButtonRole.ActionRole)
        copy.setObjectName("copy-details")
        copy.clicked.connect(self.on_copy_asked)
        buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        for widget in (said, self.details, buttons):
            layout.addWidget(widget)
        self.resize(640, 420)

    def on_copy_asked(self) -> None:
        QGuiApplication.clipboard().setText(self.details.toPlainText())


def details_of(error: BaseException) -> str:
    """The fault with what is needed to look for it."""
    trace = "".join(traceback.format_exception(error))
    return f"Python {sys.version.split()[0]}, {platform.platform()}\n\n{trace}"
