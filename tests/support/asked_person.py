"""Somebody who answers the question whether a ruined label is the one that was guessed."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QPushButton

from partsbench.ui.dialogs.picture_dialog import AskDialog
from partsbench.ui.main_window import MainWindow

GUESSED = 726
"""Damage that was seen to leave only a comparison with the book."""


class Person(QObject):
    """Presses a button of the question as soon as it is there."""

    def __init__(self, window: MainWindow, button: str) -> None:
        super().__init__(window)
        self._window, self._button = window, button
        self.asked: list[str] = []
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.on_time)
        self._timer.start(10)

    def on_time(self) -> None:
        for dialog in self._window.findChildren(AskDialog):
            if dialog.isVisible():
                self.asked.append(dialog.heading.text())
                dialog.findChild(QPushButton, self._button).click()
