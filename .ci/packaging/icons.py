"""The program's icon in the forms that the systems want, made from `assets/program.svg`."""

from __future__ import annotations

import os
import sys
from io import BytesIO
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PIL import Image
from PySide6.QtCore import QBuffer, QIODevice
from PySide6.QtGui import QGuiApplication, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

SIDES = (16, 24, 32, 48, 64, 128, 256, 512)
"""In px; Windows takes those up to 256, macOS its own among them."""


def drawn(svg: Path, side: int) -> bytes:
    """The drawing as a PNG of `side` px square."""
    image = QImage(side, side, QImage.Format.Format_ARGB32)
    image.fill(0)
    painter = QPainter(image)
    QSvgRenderer(str(svg)).render(painter)
    painter.end()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]
    return buffer.data().data()


def make(svg: Path, folder: Path) -> dict[str, Path]:
    """`.ico`, `.icns` and one PNG a size, by ending (a PNG by its side), written into `folder`."""
    app = QGuiApplication.instance() or QGuiApplication([])
    folder.mkdir(parents=True, exist_ok=True)
    made = {}
    for side in SIDES:
        made[str(side)] = folder / f"partsbench-{side}.png"
        made[str(side)].write_bytes(drawn(svg, side))
    pictures = [Image.open(BytesIO(made[str(side)].read_bytes())) for side in SIDES]
    made["ico"], made["icns"] = folder / "partsbench.ico", folder / "partsbench.icns"
    small = pictures[:-1]
    small[-1].save(made["ico"], sizes=[p.size for p in small], append_images=small[:-1])
    pictures[-1].save(made["icns"], append_images=pictures[:-1])
    del app
    return made


if __name__ == "__main__":
    make(Path(sys.argv[1]), Path(sys.argv[2]))
