"""The one dialog that prints: what, the pages as they will be, and a printer or a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from partsbench import files
from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop
from partsbench.services.shown.labels import page_pictures
from partsbench.ui import asking
from partsbench.ui.dialogs.drawing import Drawn
from partsbench.ui.dialogs.later import Later
from partsbench.ui.dialogs.pages_view import PagesView
from partsbench.ui.dialogs.print_pane import PrintPane
from partsbench.ui.dialogs.printing import print_pages, printer_for, printers
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.layout.fields import row

PRINT_DPI = 300
"""A module of 0.5 mm is six dots then; a preview keeps every page, so it is no finer."""
SIDE = 340
PAUSE_MS = 150
"""A moment without another change before the pages are drawn again."""
NO_PRINTER = "No printer found"


class PrintDialog(FittingDialog):
    """Every change draws the pages again. What is shown is what is printed or saved."""

    helped_by = "labels"

    settled = Signal(object)
    """The Done of what was saved or printed, or the Refused that says why not."""

    def __init__(
        self, shop: Shop, tag: str, parent: QWidget | None, panes: Sequence[PrintPane], key: str
    ) -> None:
        super().__init__(parent)
        self.shop = shop
        self.tag = tag
        self.panes = {pane.key: pane for pane in panes}
        self._drawn: Drawn | None = None
        self.later = Later(self)
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self.what = QComboBox()
        self.pages = PagesView()
        self.told = QLabel()
        self.to = QComboBox()
        self.save = QPushButton("Save as PDF…")
        self.print = QPushButton("Print")
        self.setObjectName("print-dialog")
        piece = shop.piece(tag)
        self.setWindowTitle(f"Print: {piece.codename} {tag}" if piece else "Print")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._build()
        self.show_pane(key)
        self._connect()
        self.redraw()

    # Building

    def _build(self) -> None:
        self.what.setObjectName("print-what")
        self.what.setAccessibleName("What to print")
        self._stack = QStackedWidget()
        for pane in self.panes.values():
            self.what.addItem(pane.title, pane.key)
            self._stack.addWidget(pane)
        left = QWidget()
        down = QVBoxLayout(left)
        down.setContentsMargins(0, 0, 0, 0)
        down.addWidget(self.what)
        down.addWidget(self._stack, 1)
        wide = [SIDE, *(pane.minimumSizeHint().width() for pane in self.panes.values())]
        left.setFixedWidth(max(wide))
        both = QHBoxLayout()
        both.addWidget(left)
        both.addWidget(self.pages, 1)
        whole = QVBoxLayout(self)
        whole.addLayout(both, 1)
        whole.addLayout(self._foot())
        self.resize(self.sizeHint())

    def _foot(self) -> QHBoxLayout:
        self.told.setObjectName("print-told")
        self.told.setWordWrap(True)
        self.to.setObjectName("print-to")
        self.to.setAccessibleName("Printer")
        self.to.addItems(printers() or [NO_PRINTER])
        self.to.setEnabled(self._has_printer())
        self.save.setObjectName("print-save")
        self.print.setObjectName("print-print")
        self.print.setToolTip("At its true size: 100 %, never fitted to the page")
        (self.print if self._has_printer() else self.save).setDefault(True)
        close = QPushButton("Close")
        close.clicked.connect(self.reject)
        foot = row(self.told, self.save, self.to, self.print, close)
        foot.setStretch(0, 1)
        return foot

    def _has_printer(self) -> bool:
        return self.to.itemText(0) != NO_PRINTER

    def _connect(self) -> None:
        self.what.currentIndexChanged.connect(self.on_what_chosen)
        for pane in self.panes.values():
            pane.changed.connect(self.redraw_soon)
        self._pause.timeout.connect(self.redraw)
        self.later.began.connect(self.on_began)
        self.later.ended.connect(self.on_drawn)
        self.save.clicked.connect(self.on_save_asked)
        self.print.clicked.connect(self.on_print_asked)

    def pane(self) -> PrintPane:
        """What is to be printed now."""
        return self.panes[str(self.what.currentData())]

    def show_pane(self, key: str) -> None:
        """Choose what to print."""
        self.what.setCurrentIndex(max(0, self.what.findData(key)))
        self._stack.setCurrentWidget(self.pane())

    # Drawing

    def on_what_chosen(self) -> None:
        self._stack.setCurrentWidget(self.pane())
        self.redraw()

    def redraw_soon(self) -> None:
        """Draw again after a moment; until then nothing can be handed out."""
        self._set_ready(None)
        self._pause.start()

    def redraw(self) -> None:
        """Read the book here, and draw the pages on another thread."""
        self._set_ready(None)
        work = self.pane().plan()
        if isinstance(work, Refused):
            self.later.forget()
            self._tell_refused(work)
            return
        self.later.start(work)

    def on_began(self) -> None:
        self.told.setText("Drawing the pages and reading the codes back…")

    def on_drawn(self, found: object) -> None:
        if self._pause.isActive():
            return
        if isinstance(found, Refused):
            self._tell_refused(found)
        elif isinstance(found, Drawn):
            self._set_ready(found)
            self.told.setText(found.said)
            self.pages.show_pages(found.pictures, found.size_mm)

    def _set_ready(self, found: Drawn | None) -> None:
        self._drawn = found
        self.save.setEnabled(found is not None)
        self.print.setEnabled(found is not None and self._has_printer())

    def _tell_refused(self, refused: Refused) -> None:
        self._set_ready(None)
        self.told.setText(refused.sentence)
        self.pages.show_pages((), (210, 297))

    # Handing out

    def ask_path(self) -> Path | None:
        """Where to save; None when the question was called off."""
        name = asking.file_name(self.shop, self.tag, self.pane().file)
        return asking.ask_new_file(self, f"Save: {self.pane().title}", name)

    def on_save_asked(self) -> None:
        path = self.ask_path()
        if path is not None and self._drawn is not None:
            self.save_to(path)

    def save_to(self, path: Path) -> None:
        """Write the PDF."""
        assert self._drawn is not None
        fault = files.write(path, self._drawn.pdf)
        if fault:
            self._settle(fault)
            return
        self._hand_out(f"Saved as {path.name}.")

    def on_print_asked(self) -> None:
        if self._drawn is None:
            return
        name = self.to.currentText()
        if self.print_on(printer_for(*self._drawn.size_mm, name)):
            self._hand_out(f"Sent to {name}.")
        else:
            self._settle(Refused(f"{name} did not take the pages; nothing was noted."))

    def print_on(self, printer: object) -> bool:
        """Paint the pages at their true size; False when the printer does not take them."""
        from PySide6.QtPrintSupport import QPrinter

        assert self._drawn is not None and isinstance(printer, QPrinter)
        dpi = min(PRINT_DPI, printer.resolution())
        pictures = page_pictures(self._drawn.pdf, dpi)
        return print_pages(printer, pictures, self._drawn.size_mm)

    def _hand_out(self, how: str) -> None:
        assert self._drawn is not None
        self._settle(self.pane().hand_out(self._drawn, how))
        self.pane().begin()

    def _settle(self, answer: Done | Refused) -> None:
        self.told.setText(answer.sentence)
        self.settled.emit(answer)

    # Qt

    def done(self, result: int) -> None:
        self._pause.stop()
        self.later.wait()
        super().done(result)

    def closeEvent(self, event: QCloseEvent) -> None:
        self.later.wait()
        super().closeEvent(event)

    def sizeHint(self) -> QSize:
        return QSize(1040, 660)
