"""One keyboard that a scanner and a person share, struck at the times each is known to keep.

Keys go to the native window, where those of the machine arrive, and carry their own time stamps:
what is told apart does not hang on how busy the machine is.
"""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QKeyEvent, QWindow
from PySide6.QtWidgets import QWidget

SCANNER_MS = 8
PERSON_MS = 140
_NAMED = {"\r": Qt.Key.Key_Return, "\t": Qt.Key.Key_Tab, " ": Qt.Key.Key_Space}


class Keyboard:
    """Keys into the window that `widget` belongs to; `at` (ms) goes on from key to key."""

    def __init__(self, widget: QWidget) -> None:
        self._widget = widget
        self.at = 1_000_000

    def scan(self, text: str, suffix: str = "\r") -> None:
        """As fast as a scanner sends it, with its Enter."""
        self.pause(500)
        self.keys(text + suffix, SCANNER_MS)

    def type(self, text: str) -> None:
        """As a quick typist does."""
        self.pause(500)
        self.keys(text, PERSON_MS)

    def keys(self, text: str, gap_ms: int) -> None:
        for character in text:
            self.at += gap_ms
            self.key(_NAMED.get(character, Qt.Key.Key_unknown), character)

    def key(
        self,
        key: Qt.Key,
        text: str = "",
        modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier,
    ) -> None:
        """One key down and up; a capital with Shift held, as scanners and people strike it."""
        shifted = text.isupper()
        if shifted:
            self._send(QEvent.Type.KeyPress, Qt.Key.Key_Shift)
            modifiers |= Qt.KeyboardModifier.ShiftModifier
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            self._send(kind, key, text, modifiers)
        if shifted:
            self._send(QEvent.Type.KeyRelease, Qt.Key.Key_Shift)

    def pause(self, ms: int) -> None:
        self.at += ms

    def _send(
        self,
        kind: QEvent.Type,
        key: Qt.Key,
        text: str = "",
        modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier,
    ) -> None:
        event = QKeyEvent(kind, key, modifiers, text)
        event.setTimestamp(self.at)
        QCoreApplication.sendEvent(self._window(), event)

    def _window(self) -> QWindow:
        handle = self._widget.window().windowHandle()
        assert handle is not None, "the window is not shown"
        return handle
