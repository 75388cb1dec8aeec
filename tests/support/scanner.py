"""A scanner and a person who both type into the window, each at their own speed."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QKeyEvent, QWindow

SCANNER_MS = 4
PERSON_MS = 170
BETWEEN_MS = 2_000
AT_ONCE_MS = 600
NONE = Qt.KeyboardModifier.NoModifier


class Typist:
    """Sends keys to a window with the times at which they were struck; `now` is in ms."""

    def __init__(self, window: QWindow) -> None:
        self.window = window
        self.now = 100_000

    def seconds(self) -> float:
        """The monotonic clock that the window is to go by."""
        return self.now / 1000

    def scan(self, text: str, pause: int = BETWEEN_MS) -> None:
        """A scanner sends a text and its Enter, `pause` ms after what came before."""
        self.now += pause
        for character in text:
            self._strike(character, SCANNER_MS)
        self._strike("\r", SCANNER_MS)

    def type(self, text: str) -> None:
        """A person types."""
        for character in text:
            self._strike(character, PERSON_MS)

    def press(self, key: Qt.Key) -> None:
        """A person presses a key that is no letter."""
        self.now += PERSON_MS
        self._send(key, "\r" if key is Qt.Key.Key_Return else "")

    def _strike(self, character: str, gap: int) -> None:
        self.now += gap
        key = Qt.Key.Key_Return if character == "\r" else Qt.Key(ord(character.upper()))
        self._send(key, character)

    def _send(self, key: Qt.Key, text: str) -> None:
        """A key down and up; a capital with Shift held, as scanners and people strike it."""
        down, up = QEvent.Type.KeyPress, QEvent.Type.KeyRelease
        held = NONE
        strokes = [(down, key, text), (up, key, text)]
        if text.isupper():
            held = Qt.KeyboardModifier.ShiftModifier
            strokes = [(down, Qt.Key.Key_Shift, ""), *strokes, (up, Qt.Key.Key_Shift, "")]
        for kind, struck, character in strokes:
            event = QKeyEvent(kind, struck, held if character else NONE, character)
            event.setTimestamp(self.now)
            QCoreApplication.sendEvent(self.window, event)
