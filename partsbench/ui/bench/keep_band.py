"""The band that says, as long as it is so, that every scan records at once."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.ui.bench.keep import KeepRecording
from partsbench.ui.fit_text import fitted
from partsbench.ui.theme import theme_of


class KeepBand(QWidget):
    """Full width, in capitals, between two rows of bars."""

    def __init__(self) -> None:
        super().__init__()
        self._text = ""
        self.setObjectName("keep-band")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.hide()

    def show_keep(self, keep: KeepRecording) -> None:
        """Show the verb while it is on."""
        self._text = f"KEEP RECORDING: {keep.words}" if keep.on else ""
        self.setAccessibleName(self._text)
        self.setVisible(keep.on)
        self.update()

    @property
    def text(self) -> str:
        return self._text

    def sizeHint(self) -> QSize:
        return QSize(400, 48)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        box = QRectF(self.rect())
        painter.fillRect(box, theme.color("accent"))
        bar, ink = 10.0, theme.color("on_accent")
        x = 0.0
        while x < box.width():
            painter.fillRect(QRectF(x, 0, bar, 4), ink)
            painter.fillRect(QRectF(x, box.height() - 4, bar, 4), ink)
            x += 2 * bar
        font = fitted(self._text, box.width() - 32, box.height() - 22, 26)
        if font:
            painter.setFont(font)
            painter.setPen(ink)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self._text)
