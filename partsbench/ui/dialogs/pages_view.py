"""Pages below one another, as wide as the view, in black on white whatever the theme."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from partsbench.ui.theme import theme_of

GAP = 12


class PageSheet(QWidget):
    """One page at the width it is given."""

    def __init__(self, number: int, of: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._image = QImage()
        self.setAccessibleName(f"Page {number} of {of}")
        self.setObjectName(f"page-{number}")

    def show_image(self, image: QImage) -> None:
        self._image = image
        self.update()

    @property
    def image(self) -> QImage:
        return self._image

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(QRectF(self.rect()), self._image, QRectF(self._image.rect()))
        painter.setPen(QPen(theme_of(self).color("line"), 1))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))


class PagesView(QScrollArea):
    """Shows the pages of a sheet from pictures of them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sheets: list[PageSheet] = []
        self._ratio = 297 / 210
        self.setObjectName("pages")
        self.setAccessibleName("The pages as they will be printed")
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        inside = QWidget()
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(GAP, GAP, GAP, GAP)
        self._column.setSpacing(GAP)
        self._column.addStretch()
        self.setWidget(inside)
        self.setWidgetResizable(True)

    def show_pages(self, pictures: Sequence[bytes], size_mm: tuple[float, float]) -> None:
        """Show PNG pictures of pages of that many mm."""
        self._ratio = size_mm[1] / size_mm[0]
        if len(pictures) != len(self._sheets):
            self._make(len(pictures))
        for sheet, png in zip(self._sheets, pictures, strict=True):
            sheet.show_image(QImage.fromData(png))
        self._place()

    def sheets(self) -> list[PageSheet]:
        return list(self._sheets)

    def _make(self, count: int) -> None:
        for sheet in self._sheets:
            self._column.removeWidget(sheet)
            sheet.deleteLater()
        self._sheets = [PageSheet(n + 1, count) for n in range(count)]
        for place, sheet in enumerate(self._sheets):
            self._column.insertWidget(place, sheet)

    def _place(self) -> None:
        wide = max(80, self.viewport().width() - 2 * GAP)
        for sheet in self._sheets:
            sheet.setFixedSize(wide, round(wide * self._ratio))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def sizeHint(self) -> QSize:
        return QSize(640, 560)
