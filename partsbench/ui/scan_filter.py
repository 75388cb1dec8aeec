"""A scanner that types is heard wherever the keyboard is, and never types into a field."""

from __future__ import annotations

import time

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QWindow

from partsbench.reading.bursts import BurstReader, KeysHeard, KeyStroke, Scan

SUFFIX_KEYS = {Qt.Key.Key_Return: "\r", Qt.Key.Key_Enter: "\r", Qt.Key.Key_Tab: "\t"}
SHIFTING_KEYS = frozenset(
    {
        Qt.Key.Key_Shift,
        Qt.Key.Key_CapsLock,
        Qt.Key.Key_NumLock,
        Qt.Key.Key_AltGr,
        Qt.Key.Key_Mode_switch,
    }
)
"""A scanner strikes these between the characters of a code, to write capitals."""
COMMAND = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


class ScanFilter(QObject):
    """Stands before the native windows of the program, the only place where each key passes once.

    Keys that turn out to be typing are sent on to the same window in their order.
    """

    scanned = Signal(Scan)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._watching = False
        self._reader = BurstReader()
        self._window: QWindow | None = None
        self._replaying = False
        self._last = 0.0
        self._held_keys: set[int] = set()
        self._releases: dict[int, QKeyEvent] = {}
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self.on_key_was_due)
        # Of no length: it comes after all that waits in the queue.
        self._last_look = QTimer(self)
        self._last_look.setSingleShot(True)
        self._last_look.timeout.connect(self.on_time_was_up)

    def watch_all(self, app: QGuiApplication) -> None:
        """Stand before every window that gets the keyboard, dialogs too."""
        self._watching = True
        app.focusWindowChanged.connect(self.on_focus_window_changed)
        if app.focusWindow():
            self.watch(app.focusWindow())

    def stop(self, app: QGuiApplication) -> None:
        """Let every window go: the program's own is closed. The second time does nothing."""
        if not self._watching:
            return
        self._watching = False
        app.focusWindowChanged.disconnect(self.on_focus_window_changed)
        for window in app.allWindows():
            window.removeEventFilter(self)
        self._timer.stop()
        self._last_look.stop()

    def watch(self, window: QWindow) -> None:
        """Stand before this window; the second time does nothing."""
        window.removeEventFilter(self)
        window.installEventFilter(self)

    def on_focus_window_changed(self, window: QWindow | None) -> None:
        self._act(self._reader.settle())
        if window is not None:
            self.watch(window)

    def on_key_was_due(self) -> None:
        """In a window that was busy the rest of a code may lie in the queue, struck in time."""
        self._last_look.start(0)

    def on_time_was_up(self) -> None:
        self._act(self._reader.settle())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        kind = event.type()
        if self._replaying or kind not in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            return False
        if not isinstance(event, QKeyEvent) or not isinstance(watched, QWindow):
            return False
        if kind == QEvent.Type.KeyRelease:
            return self._keeps_release(event)
        if event.key() in SHIFTING_KEYS:
            return False
        character = _character(event)
        if character is None:
            self._act(self._reader.settle())
            return False
        self._window = watched
        self._last = _seconds(event)
        answer = self._reader.feed(KeyStroke(character, self._last, event.clone()))
        if answer.taken:
            self._held_keys.add(event.key())
        self._act(answer)
        return answer.taken

    def _keeps_release(self, event: QKeyEvent) -> bool:
        """The release of a held key waits with it: a button must see the press first."""
        if self._reader.deadline is None or event.key() not in self._held_keys:
            return False
        clone = event.clone()
        assert isinstance(clone, QKeyEvent)
        self._releases[event.key()] = clone
        return True

    def _act(self, answer: KeysHeard) -> None:
        self._last_look.stop()
        for key in answer.replay:
            self._send(key)
        for scan in answer.scans:
            self.scanned.emit(scan)
        due = self._reader.deadline
        if due is None:
            self._timer.stop()
            self._held_keys.clear()
            self._releases.clear()
        else:
            # The keys' clock need not be ours, so only the span from the last key counts.
            self._timer.start(max(1, round((due - self._last) * 1000)) + 1)

    def _send(self, key: KeyStroke) -> None:
        press = key.event
        if self._window is None or not isinstance(press, QKeyEvent):
            return
        release = self._releases.pop(press.key(), None)
        self._replaying = True
        try:
            QCoreApplication.sendEvent(self._window, press)
            if release is not None:
                QCoreApplication.sendEvent(self._window, release)
        finally:
            self._replaying = False


def _character(event: QKeyEvent) -> str | None:
    """The character of a key that a scanner could have sent; None for commands and arrows."""
    if event.modifiers() & COMMAND:
        return None
    suffix = SUFFIX_KEYS.get(Qt.Key(event.key()))
    if suffix:
        return suffix
    text = event.text()
    return text if len(text) == 1 and text.isprintable() else None


def _seconds(event: QKeyEvent) -> float:
    """When the key was struck; the handling may come later in a busy window."""
    return event.timestamp() / 1000 if event.timestamp() else time.monotonic()
