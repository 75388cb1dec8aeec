"""A word, or a few, as large as their box allows: what is read from two metres away."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.ui.fit_text import fitted_block, line_height
from partsbench.ui.theme import CAPITAL_SHARE, theme_of

NO_LIMIT = 10_000.0


class BigWord(QWidget):
    """Text that fills its box, broken between words and never cut.

    `role` is the theme's role for the ink; `most` the greatest height of a capital in px. It is
    broken only where that makes it so much larger that one line keeps less than `whole` of it.
    """

    def __init__(
        self,
        text: str = "",
        role: str = "ink",
        *,
        bold: bool = True,
        most: float = NO_LIMIT,
        whole: float = 0.0,
        align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignHCenter,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._text = text
        self._role = role
        self._bold = bold
        self._most = most
        self._whole = whole
        self._align = align
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(text)

    def text(self) -> str:
        return self._text

    def show_text(self, text: str, role: str = "") -> None:
        """Another text, and ink if given."""
        self._text = text
        self._role = role or self._role
        self.setAccessibleName(text)
        self.update()

    def lines(self) -> list[str]:
        """The text as it is drawn, line by line; [] when nothing has room."""
        block = self._block()
        return block[1] if block else []

    def capitals(self) -> float:
        """How high the capitals are drawn, in px; 0 when nothing has room."""
        block = self._block()
        return block[0].pixelSize() * CAPITAL_SHARE if block else 0.0

    def _block(self) -> tuple[QFont, list[str]] | None:
        return fitted_block(self._text, QRectF(self.rect()), self._most, self._bold, self._whole)

    def sizeHint(self) -> QSize:
        return QSize(200, 60)

    def minimumSizeHint(self) -> QSize:
        return QSize(40, 24)

    def paintEvent(self, event: QPaintEvent) -> None:
        box = QRectF(self.rect())
        block = self._block()
        if block is None:
            return
        font, lines = block
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        painter.setFont(font)
        painter.setPen(theme_of(self).color(self._role))
        height = line_height(font)
        top = box.center().y() - height * len(lines) / 2
        for i, line in enumerate(lines):
            place = QRectF(box.left(), top + i * height, box.width(), height)
            painter.drawText(place, self._align | Qt.AlignmentFlag.AlignVCenter, line)
