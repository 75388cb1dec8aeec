"""A label as the eye sees it, drawn small and simple: two symbols, a big number, a drawing.

Drawn here and not by the program, so that the reader is tested on a label that it did not print.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import qrcode
from PIL import Image, ImageDraw, ImageFont
from qrcode.util import MODE_ALPHA_NUM, QRData

from partsbench.resources import asset

MODULE_MM = 0.55
QUIET = 4
LABEL_MM = (96.0, 40.0)
DOTS_PER_MM = 20
"""Eleven dots a module: all edges fall on dots."""


def symbol(text: str) -> np.ndarray:
    """The 21 × 21 modules of a code, True for dark (ISO/IEC 18004 by the qrcode package)."""
    maker = qrcode.QRCode(
        version=1, error_correction=qrcode.constants.ERROR_CORRECT_H, border=0, mask_pattern=0
    )
    maker.add_data(QRData(text, mode=MODE_ALPHA_NUM))
    maker.make(fit=False)
    return np.array(maker.get_matrix(), bool)


def symbol_places() -> tuple[tuple[float, float], tuple[float, float]]:
    """Top left of the two symbols on the label, in mm, without their quiet zones."""
    side = 21 * MODULE_MM
    margin = QUIET * MODULE_MM + 1.0
    top = round(LABEL_MM[1] - side) / 2
    return (margin, top), (round(LABEL_MM[0] - margin - side, 2), top)


@lru_cache(maxsize=64)
def label_picture(text: str, symbols: int = 2) -> np.ndarray:
    """A grey label of LABEL_MM at DOTS_PER_MM with one symbol (the left one) or both."""
    width, height = (round(v * DOTS_PER_MM) for v in LABEL_MM)
    picture = Image.new("L", (width, height), 255)
    pen = ImageDraw.Draw(picture)
    pen.rectangle((0, 0, width - 1, height - 1), outline=120, width=3)
    _middle(pen, text)
    dots = round(MODULE_MM * DOTS_PER_MM)
    modules = np.kron(~symbol(text), np.ones((dots, dots), np.uint8)) * np.uint8(255)
    for x, y in symbol_places()[:symbols]:
        picture.paste(Image.fromarray(modules), (round(x * DOTS_PER_MM), round(y * DOTS_PER_MM)))
    return np.asarray(picture)


def _middle(pen: ImageDraw.ImageDraw, text: str) -> None:
    """Big number, code in characters and a drawing of a chest with one home filled."""
    scale = DOTS_PER_MM
    pen.text((22 * scale, 3 * scale), text[5] + text[6:8].lstrip("0"), 0, _font(11 * scale))
    pen.text((22 * scale, 17 * scale), "Heron", 0, _font(4 * scale))
    pen.text((22 * scale, 33 * scale), text, 0, _font(4 * scale))
    left, top, wide, high = 50 * scale, 4 * scale, 26 * scale, 30 * scale
    for row in range(5):
        for column in range(2):
            box = (
                left + column * wide // 2,
                top + row * high // 5,
                left + (column + 1) * wide // 2,
                top + (row + 1) * high // 5,
            )
            filled = row * 2 + column == int(text[7], 36) % 10
            pen.rectangle(box, fill=60 if filled else None, outline=0, width=4)


@lru_cache(maxsize=8)
def _font(size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(asset("fonts/AtkinsonHyperlegible-Bold.ttf")), size)
