"""Text as large as its box allows, never cut."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFont, QFontMetricsF

from partsbench.ui.theme import CAPITAL_SHARE, in_pixels

SMALLEST = 5.0
"""Capitals lower than this many px are not drawn: nobody could read them."""


def fitted(text: str, width: float, height: float, most: float, bold: bool = True) -> QFont | None:
    """The font in which one line of `text` fits; capitals at most `most` px. None when too small.

    `height` is the room for the capitals themselves.
    """
    capitals = min(height, most)
    if not text or capitals < SMALLEST:
        return None
    broad = QFontMetricsF(in_pixels(100 * CAPITAL_SHARE, bold)).horizontalAdvance(text) / 100
    capitals = min(capitals, width / max(broad, 0.01) * CAPITAL_SHARE)
    return in_pixels(capitals, bold) if capitals >= SMALLEST else None


def wrapped(text: str, font: QFont, width: float) -> list[str] | None:
    """The lines of `text` broken between words; None when a single word is too wide."""
    metrics = QFontMetricsF(font)
    lines: list[str] = []
    for word in text.split():
        if metrics.horizontalAdvance(word) > width:
            return None
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and metrics.horizontalAdvance(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def line_height(font: QFont) -> float:
    return QFontMetricsF(font).lineSpacing()


def fitted_block(
    text: str, box: QRectF, most: float, bold: bool = False, whole: float = 0.0
) -> tuple[QFont, list[str]] | None:
    """The largest font in which `text`, broken between words, fills no more than the box.

    It stays on one line where its capitals keep the share `whole` of the size it would have broken.
    """
    broken = _broken(text, box, most, bold)
    if broken is None or len(broken[1]) == 1 or not whole:
        return broken
    line = fitted(text, box.width(), box.height(), most, bold)
    if line is None or line.pixelSize() < broken[0].pixelSize() * whole:
        return broken
    return line, [text]


def _broken(text: str, box: QRectF, most: float, bold: bool) -> tuple[QFont, list[str]] | None:
    capitals = min(most, box.height())
    while capitals >= SMALLEST:
        font = in_pixels(capitals, bold)
        lines = wrapped(text, font, box.width())
        if lines is not None and len(lines) * line_height(font) <= box.height():
            return font, lines
        capitals *= 0.93
    return None
