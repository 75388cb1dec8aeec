"""Paper for work without a screen, as it will come out: the verb sheet, day sheet, tally strip."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QComboBox, QDialog, QLabel, QWidget

from partsbench import files
from partsbench.core.outcomes import Done, Refused
from partsbench.services import wall
from partsbench.services.cups import StoredCup
from partsbench.services.labels import page_pictures
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui.dialogs.pages_view import PagesView
from partsbench.ui.dialogs.printing import MM_PER_INCH, print_pages, printer_for
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import row

PREVIEW_DPI = 110
PRINT_DPI = 300
PAPERS = {"a4": "A4", "letter": "Letter"}


class PaperDialog(ShopDialog):
    """Shows the pages that `make` draws, and saves or prints them."""

    def __init__(
        self,
        shop: Shop,
        tag: str,
        parent: QWidget | None,
        *,
        name: str,
        title: str,
        file: str,
    ) -> None:
        super().__init__(shop, tag, parent, name=name, title=title)
        self._file = file
        self._pdf = b""
        self.size_mm = (210.0, 297.0)
        self.pages = PagesView()
        self.paper = QComboBox()
        self.paper.setObjectName("paper")
        for key, word in PAPERS.items():
            self.paper.addItem(word, key)
        label = QLabel("Paper")
        label.setBuddy(self.paper)
        line = row(label, self.paper)
        line.addStretch(1)
        self.content.addLayout(line)
        self.content.addWidget(self.pages, 1)
        self.save = self.add_button("Save as PDF…", "paper-save", self.on_save_asked)
        self.print = self.add_button("Print…", "paper-print", self.on_print_asked)
        self.paper.currentIndexChanged.connect(self.on_paper_chosen)
        self.resize(760, 640)
        self.draw()

    def make(self, paper: str) -> bytes | Refused:
        """The PDF for `a4` or `letter`."""
        raise NotImplementedError

    def draw(self) -> None:
        """Draw the pages anew from what the book has now."""
        made = self.make(str(self.paper.currentData()))
        self._pdf = b"" if isinstance(made, Refused) else made
        for button in (self.save, self.print):
            button.setEnabled(bool(self._pdf))
        if isinstance(made, Refused):
            self.say(made.sentence, fault=True)
            self.pages.show_pages((), self.size_mm)
            return
        pictures = page_pictures(made, PREVIEW_DPI)
        first = QImage.fromData(pictures[0], "PNG")
        per_mm = PREVIEW_DPI / MM_PER_INCH
        self.size_mm = (first.width() / per_mm, first.height() / per_mm)
        self.pages.show_pages(pictures, self.size_mm)
        count = len(pictures)
        self.say(f"{count} page{'s' * (count != 1)}.")

    def on_paper_chosen(self) -> None:
        self.draw()

    def on_save_asked(self) -> None:
        path = asking.ask_new_file(self, self.windowTitle(), self._file)
        if path:
            self.save_to(path)

    def save_to(self, path: Path) -> None:
        """Write the PDF."""
        fault = files.write(path, self._pdf)
        if fault:
            self.settle(Refused(fault.sentence))
            return
        self.settle(Done(f"Saved as {path.name}.", self.tag))

    def on_print_asked(self) -> None:
        from PySide6.QtPrintSupport import QPrintPreviewDialog

        preview = QPrintPreviewDialog(printer_for(*self.size_mm), self)
        preview.setWindowTitle("Print at 100 %, not “fit to page”")
        preview.paintRequested.connect(self.on_paint_requested)
        if preview.exec() == QDialog.DialogCode.Accepted:
            self.settle(Done("Sent to the printer.", self.tag))

    def on_paint_requested(self, printer: object) -> None:
        from PySide6.QtPrintSupport import QPrinter

        if isinstance(printer, QPrinter):
            dpi = min(PRINT_DPI, printer.resolution())
            print_pages(printer, page_pictures(self._pdf, dpi), self.size_mm)


class WallDialog(PaperDialog):
    """The verb sheet: verbs, reasons, faces, and this shop's people, places and cups."""

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(
            shop, tag, parent, name="wall-dialog", title="Verb sheet for the wall",
            file="verb sheet.pdf",
        )  # fmt: skip

    def make(self, paper: str) -> bytes | Refused:
        return wall.verb_sheet(self.shop, paper)


class DaySheetDialog(PaperDialog):
    """The day as it stands now, with boxes for the pencil."""

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(
            shop, tag, parent, name="day-sheet-dialog", title="Day sheet",
            file="day sheet.pdf",
        )  # fmt: skip

    def make(self, paper: str) -> bytes | Refused:
        return wall.day_sheet(self.shop, paper=paper)


class TallyDialog(PaperDialog):
    """The strip of one load, for a booth without a screen."""

    def __init__(
        self, shop: Shop, tag: str, number: int, cup: StoredCup | None, parent: QWidget | None
    ) -> None:
        self._number = number
        self._cup = cup
        super().__init__(
            shop, tag, parent, name="tally-dialog", title=f"Tally strip of load {number}",
            file=f"load {number}.pdf",
        )  # fmt: skip

    def make(self, paper: str) -> bytes | Refused:
        return wall.tally_strip(self.shop, self._number, self._cup, paper)
