"""What the window remembers from one start to the next, in a small ini file beside the book."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings

ENTRY = "half-made"


class Settings:
    """Typed access to one ini file. Nothing of a job is kept here but where one was at work."""

    def __init__(self, path: Path) -> None:
        self._ini = QSettings(str(path), QSettings.Format.IniFormat)

    def text(self, key: str, otherwise: str = "") -> str:
        return str(self._ini.value(key, otherwise, type=str))

    def flag(self, key: str, otherwise: bool = False) -> bool:
        return bool(self._ini.value(key, otherwise, type=bool))

    def put(self, key: str, value: str | bool) -> None:
        self._ini.setValue(key, value)

    def geometry(self) -> QByteArray:
        found = self._ini.value("window/geometry", QByteArray())
        return found if isinstance(found, QByteArray) else QByteArray()

    def put_geometry(self, geometry: QByteArray) -> None:
        self._ini.setValue("window/geometry", geometry)

    def entry(self, page: str) -> dict[str, str]:
        """The half-made entry of a page; empty when there is none."""
        self._ini.beginGroup(f"{ENTRY}/{page}")
        found = {key: str(self._ini.value(key, "", type=str)) for key in self._ini.childKeys()}
        self._ini.endGroup()
        return found

    def put_entry(self, page: str, state: Mapping[str, str]) -> None:
        self._ini.remove(f"{ENTRY}/{page}")
        self._ini.beginGroup(f"{ENTRY}/{page}")
        for key, value in state.items():
            self._ini.setValue(key, value)
        self._ini.endGroup()

    def write_now(self) -> None:
        """Bring everything to the disk, so that it is there after a crash."""
        self._ini.sync()
