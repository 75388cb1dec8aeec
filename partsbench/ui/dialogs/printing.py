"""Pages onto a printer at exactly their size, from pictures of them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QMarginsF, QRectF, QSizeF
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter, QPrinterInfo

from partsbench.ui.dialogs.drawing import MM_PER_INCH


def printers() -> list[str]:
    """The printers of this system by name, its usual one first."""
    usual = QPrinterInfo.defaultPrinterName()
    return sorted(QPrinterInfo.availablePrinterNames(), key=lambda name: (name != usual, name))


def printer_for(width: float, height: float, name: str = "") -> QPrinter:
    """A printer set to a page of that many mm, all of it, at its full resolution."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    if name:
        printer.setPrinterName(name)
    short, long = sorted((width, height))
    page = QPageSize(
        QSizeF(short, long),
        QPageSize.Unit.Millimeter,
        "",
        QPageSize.SizeMatchPolicy.FuzzyMatch,
    )
    stands, lies = QPageLayout.Orientation.Portrait, QPageLayout.Orientation.Landscape
    printer.setPageLayout(
        QPageLayout(page, lies if width > height else stands, QMarginsF(0, 0, 0, 0))
    )
    printer.setFullPage(True)
    return printer


def print_pages(printer: QPrinter, pages: Sequence[bytes], size_mm: tuple[float, float]) -> bool:
    """Paint each PNG as a page of `size_mm` from the paper's upper left corner: never scaled.

    False when the printer took none of it.
    """
    printer.setFullPage(True)
    painter = QPainter()
    if not painter.begin(printer):
        return False
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    per_mm = printer.resolution() / MM_PER_INCH
    target = QRectF(0, 0, size_mm[0] * per_mm, size_mm[1] * per_mm)
    for place, png in enumerate(pages):
        if place:
            printer.newPage()
        image = QImage.fromData(png)
        painter.drawImage(target, image, QRectF(image.rect()))
    return painter.end()
