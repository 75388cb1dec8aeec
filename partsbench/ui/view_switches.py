"""How the window looks and sounds: switched on and off, and remembered."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QWidget

from partsbench.ui import theme as themes
from partsbench.ui.settings import Settings

if TYPE_CHECKING:
    from partsbench.ui.speech import Speech
    from partsbench.ui.tones import Tones


class ViewSwitches(QObject):
    """`tones` gives what sounds, `speech` what speaks; both are loaded once the window stands."""

    def __init__(
        self,
        settings: Settings,
        window: QWidget,
        tones: Callable[[], Tones],
        speech: Callable[[], Speech],
    ) -> None:
        super().__init__(window)
        self._speech = speech
        self._settings = settings
        self._window = window
        self._tones = tones

    def on_dark_toggled(self, dark: bool) -> None:
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        themes.use(app, themes.DARK if dark else themes.LIGHT)
        self._settings.put("view/theme", "dark" if dark else "light")

    def on_sound_toggled(self, on: bool) -> None:
        self._tones().on = on
        self._settings.put("view/sound", on)

    def on_speech_toggled(self, on: bool) -> None:
        self._speech().turn(on)
        self._settings.put("view/speech", on)

    def on_full_screen_toggled(self, full: bool) -> None:
        if full:
            self._window.showFullScreen()
        else:
            self._window.showNormal()
