"""Our own line icons, tinted with the ink of the theme."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QIcon, QImageReader, QPixmap

from partsbench.resources import asset
from partsbench.ui.theme import Theme

SIZES = (24, 48, 96)
DRAWN_IN = b"#000"
"""The colour that the files are drawn in; it is replaced by the theme's."""


@cache
def _source(name: str) -> bytes:
    return asset(f"icons/{name}.svg").read_bytes()


@cache
def icon(name: str, theme: Theme) -> QIcon:
    """The icon `name` in the theme's ink, quiet where it is disabled, on_accent where chosen."""
    made = QIcon()
    for mode, role in (
        (QIcon.Mode.Normal, "ink"),
        (QIcon.Mode.Disabled, "line"),
        (QIcon.Mode.Selected, "on_accent"),
    ):
        for size in SIZES:
            made.addPixmap(picture(name, getattr(theme, role), size), mode)
    return made


def picture(name: str, colour: str, size: int) -> QPixmap:
    """The icon `name` in one colour, `size` px square."""
    svg = _source(name).replace(DRAWN_IN, colour.encode())
    buffer = QBuffer()
    buffer.setData(QByteArray(svg))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer, QByteArray(b"svg"))
    reader.setScaledSize(QSize(size, size))
    image = reader.read()
    if image.isNull():
        made = QPixmap(size, size)
        made.fill(Qt.GlobalColor.transparent)
        return made
    return QPixmap.fromImage(image)
