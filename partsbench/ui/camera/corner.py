"""The live picture in a corner of the window, with an outline round each label found in it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QPoint, QSize, Qt
from PySide6.QtGui import QImage, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from partsbench.reading.views import View
from partsbench.ui.dialogs.seen_picture import Outline, SeenPicture
from partsbench.ui.theme import sized, theme_of

LARGEST = QSize(260, 196)
LEAST_WIDE = 150
SHARE = 4
"""It takes no more than this part of the window's width."""
MARGIN = 10
SHOWN_PX = 480
"""The picture is shown no wider than this, in pixels."""


class LiveCorner(QFrame):
    """Over the page; a press on it sends it to the next corner, off what it hides."""

    def __init__(self, over: QWidget) -> None:
        super().__init__(over)
        self._over = over
        self.setObjectName("live-corner")
        self.setToolTip("What the camera sees; a press moves it to the next corner")
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.picture = SeenPicture("What the camera sees", self)
        self.picture.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.words = QLabel(self)
        self.words.setObjectName("live-words")
        self.words.setWordWrap(True)
        self.words.setFont(sized(0, bold=True))
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        down = QVBoxLayout(self)
        down.setContentsMargins(4, 4, 4, 4)
        down.setSpacing(2)
        down.addWidget(self.picture, 1)
        down.addWidget(self.words)
        self._corner = 0
        over.installEventFilter(self)
        self.place()

    def show_frame(self, image: QImage, outlines: Sequence[Outline]) -> None:
        """A picture; corners of the outlines are in its pixels."""
        self.picture.show_view(_view(image), outlines)
        self.raise_()

    def show_words(self, words: str) -> None:
        """One line below the picture."""
        if words != self.words.text():
            self.words.setText(words)

    def place(self) -> None:
        """Into its corner, as large as the window allows."""
        over = self._over
        wide = max(LEAST_WIDE, min(LARGEST.width(), over.width() // SHARE))
        self.resize(wide, round(wide * LARGEST.height() / LARGEST.width()))
        right = over.width() - self.width() - MARGIN
        bottom = over.height() - self.height() - MARGIN
        corners = ((right, bottom), (MARGIN, bottom), (MARGIN, MARGIN), (right, MARGIN))
        self.move(QPoint(*corners[self._corner]))
        self.raise_()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.accept()
        self._corner = (self._corner + 1) % 4
        self.place()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in (QEvent.Type.Resize, QEvent.Type.ChildAdded):
            self.place()
        return super().eventFilter(watched, event)

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.color("raised"))
        painter.setPen(QPen(theme.color("line"), 2))
        painter.drawRect(self.rect().adjusted(1, 1, -1, -1))


def _view(image: QImage) -> View:
    """A small copy whose places are those of the whole picture."""
    wide = min(SHOWN_PX, image.width())
    small = image.scaledToWidth(wide).convertToFormat(QImage.Format.Format_RGB888)
    line = 3 * small.width()
    whole, step = bytes(small.constBits()), small.bytesPerLine()
    rgb = b"".join(whole[y * step : y * step + line] for y in range(small.height()))
    return View(1, small.width(), small.height(), rgb, scale=image.width() / wide)
