"""Our own line icons, tinted with the ink of the theme, drawn only when they come on screen."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QRect, QSize
from PySide6.QtGui import QIcon, QIconEngine, QImageReader, QPainter, QPixmap

from partsbench.resources import asset
from partsbench.ui.theme import Theme

DRAWN_IN = b"#000"
"""The colour that the files are drawn in; it is replaced by the theme's."""


class InkEngine(QIconEngine):
    """Draws one icon at any size: quiet where it is disabled, in on_accent where chosen."""

    def __init__(self, name: str, theme: Theme) -> None:
        super().__init__()
        self._name = name
        self._theme = theme

    def pixmap(self, size: QSize, mode: QIcon.Mode, state: QIcon.State) -> QPixmap:
        role = {QIcon.Mode.Disabled: "line", QIcon.Mode.Selected: "on_accent"}.get(mode, "ink")
        drawn = picture(self._name, getattr(self._theme, role), min(size.width(), size.height()))
        return QPixmap(drawn)

    def scaledPixmap(
        self, size: QSize, mode: QIcon.Mode, state: QIcon.State, scale: float
    ) -> QPixmap:
        """`size` counts the window's own pixels, as Qt has it since 6.8."""
        drawn = self.pixmap(size * scale, mode, state)
        drawn.setDevicePixelRatio(scale)
        return drawn

    def paint(self, painter: QPainter, rect: QRect, mode: QIcon.Mode, state: QIcon.State) -> None:
        side = min(rect.width(), rect.height())
        place = QRect(0, 0, side, side)
        place.moveCenter(rect.center())
        scale = painter.device().devicePixelRatioF()
        painter.drawPixmap(place, self.scaledPixmap(place.size(), mode, state, scale))

    def clone(self) -> QIconEngine:
        return InkEngine(self._name, self._theme)


@cache
def icon(name: str, theme: Theme) -> QIcon:
    """The icon `name` in the theme's ink."""
    return QIcon(InkEngine(name, theme))


@cache
def picture(name: str, colour: str, size: int) -> QPixmap:
    """The icon `name` in one colour, `size` px square."""
    buffer = QBuffer()
    buffer.setData(QByteArray(_source(name).replace(DRAWN_IN, colour.encode())))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer, QByteArray(b"svg"))
    reader.setScaledSize(QSize(size, size))
    return QPixmap.fromImage(reader.read())


@cache
def _source(name: str) -> bytes:
    return asset(f"icons/{name}.svg").read_bytes()
