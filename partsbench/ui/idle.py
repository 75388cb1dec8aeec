"""Tells when nobody has touched a page for a while."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QTimer, Signal
from PySide6.QtWidgets import QApplication, QWidget

USUAL_SECONDS = 30
_TOUCHES = frozenset(
    {QEvent.Type.KeyPress, QEvent.Type.MouseButtonPress, QEvent.Type.Wheel, QEvent.Type.TouchBegin}
)


def _app() -> QCoreApplication:
    app = QCoreApplication.instance()
    assert app is not None
    return app


class Idle(QObject):
    """Watches one page while it is on show. The key that ends the idling does nothing else."""

    went_idle = Signal()
    came_back = Signal()

    def __init__(self, page: QWidget, seconds: int = USUAL_SECONDS) -> None:
        super().__init__(page)
        self._page = page
        self.idling = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(seconds * 1000)
        self._timer.timeout.connect(self.on_time_was_up)

    def begin(self) -> None:
        """The page is on show."""
        _app().installEventFilter(self)
        self._timer.start()

    def end(self) -> None:
        """Another page is in front."""
        _app().removeEventFilter(self)
        self._timer.stop()
        self.touch()
        self._timer.stop()

    def touch(self) -> None:
        """Somebody is there."""
        self._timer.start()
        if self.idling:
            self.idling = False
            self.came_back.emit()

    def on_time_was_up(self) -> None:
        if not self.idling and QApplication.activeModalWidget() is None:
            self.idling = True
            self.went_idle.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() not in _TOUCHES or not isinstance(watched, QWidget):
            return False
        was_idle = self.idling
        self.touch()
        return was_idle and event.type() == QEvent.Type.KeyPress
