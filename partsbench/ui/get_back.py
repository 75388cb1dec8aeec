"""When the book cannot be opened: why, and whether a copy shall take its place."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QMessageBox

from partsbench.core.outcomes import Refused
from partsbench.services.books import copies
from partsbench.ui import asking


def offer_copy(why: Refused, title: str, there_is_one: bool) -> Path | None:
    """The copy that is to be the book; None when the person only closes."""
    box = QMessageBox(QMessageBox.Icon.Critical, title, why.sentence)
    box.addButton(QMessageBox.StandardButton.Close)
    wanted = box.addButton("Get a copy back…", QMessageBox.ButtonRole.ActionRole)
    wanted.setObjectName("get-a-copy-back")
    wanted.setVisible(there_is_one)
    box.exec()
    if box.clickedButton() is not wanted:
        return None
    copy = asking.ask_book(None, "A copy to get back")
    if copy is None:
        return None
    lost = copies.would_lose(None, copy)
    if isinstance(lost, Refused):
        QMessageBox.critical(None, title, lost.sentence)
        return None
    return copy
