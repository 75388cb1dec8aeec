"""Labels: what, on which stock, from which label on; the pages as they will be; file or printer."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QComboBox,
    QDialog,
    QDoubleSpinBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from partsbench import files
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services import labels
from partsbench.services.labels import SheetShape
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui.dialogs.drawing import Drawn, drawn
from partsbench.ui.dialogs.later import Later
from partsbench.ui.dialogs.pages_view import PagesView
from partsbench.ui.dialogs.printing import print_pages, printer_for
from partsbench.ui.dialogs.sheet_picker import SheetPicker
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.layout.fields import Panel, heading, quiet, row

PRINT_DPI = 300
"""A module of 0.5 mm is six dots then; a preview keeps every page, so it is no finer."""
MOST_OFFSET = 10.0
SIDE = 340
PAUSE_MS = 150
"""A moment without another change before the pages are drawn again."""


class LabelsDialog(FittingDialog):
    """Every change draws the pages again; handing them out is what the book notes."""

    handed_out = Signal(object)
    """The Done of a sheet that was saved or printed."""

    def __init__(
        self, shop: Shop, tag: str, parent: QWidget | None = None, only: Sequence[str] = ()
    ) -> None:
        super().__init__(parent)
        self.shop = shop
        self.tag = tag
        self.only = list(only)
        self._drawn: Drawn | None = None
        self._shape: SheetShape | None = None
        self.later = Later(self)
        self._pause = QTimer(self, singleShot=True, interval=PAUSE_MS)
        self.what = QButtonGroup(self)
        self.everything = QRadioButton("All parts")
        self.left = QRadioButton("Only those not printed yet")
        self.chosen = QRadioButton("Only those chosen")
        self.homes = QCheckBox("Home labels for the openings and corners too")
        self.stock = QComboBox()
        self.picker = SheetPicker()
        self.right = QDoubleSpinBox()
        self.down = QDoubleSpinBox()
        self.reprint = QCheckBox("Print again with the next letter")
        self.pages = PagesView()
        self.progress = QProgressBar()
        self.told = QLabel()
        self.save = QPushButton("Save as PDF…")
        self.print = QPushButton("Print…")
        self.setObjectName("labels-dialog")
        piece = shop.piece(tag)
        self.setWindowTitle(f"Labels of {piece.codename} {tag}" if piece else "Labels")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._build()
        self._connect()
        self._show_stock()
        self._offer(piece)
        self.redraw()

    # Building

    def _build(self) -> None:
        side = Panel("labels-side")
        column = side.column
        column.addWidget(heading("Which labels"))
        for name, choice in (
            ("labels-all", self.everything), ("labels-left", self.left),
            ("labels-chosen", self.chosen),
        ):  # fmt: skip
            choice.setObjectName(name)
            self.what.addButton(choice)
            column.addWidget(choice)
        self.homes.setObjectName("labels-homes")
        column.addWidget(self.homes)
        self.reprint.setObjectName("labels-reprint")
        column.addWidget(self.reprint)
        column.addWidget(quiet("An old label that turns up is then told from the new one."))
        column.addWidget(heading("Paper"))
        self.stock.setObjectName("labels-stock")
        self.stock.setAccessibleName("Label stock")
        self.stock.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.stock.setMinimumContentsLength(22)
        for name, title in labels.stock_names().items():
            self.stock.addItem(title, name)
        column.addWidget(self.stock)
        column.addWidget(quiet("First free label of the sheet: click it."))
        column.addWidget(self.picker)
        column.addLayout(self._offsets())
        column.addStretch()
        side.setFixedWidth(max(SIDE, side.minimumSizeHint().width()))
        whole = QVBoxLayout(self)
        both = QHBoxLayout()
        both.addWidget(side)
        both.addWidget(self.pages, 1)
        whole.addLayout(both, 1)
        whole.addLayout(self._foot())
        self.resize(1040, 660)

    def _offsets(self) -> QGridLayout:
        grid = QGridLayout()
        grid.addWidget(QLabel("If the printer is off, move all by"), 0, 0, 1, 2)
        for place, (name, word, box) in enumerate(
            (("offset-right", "right", self.right), ("offset-down", "down", self.down))
        ):
            box.setObjectName(name)
            box.setAccessibleName(f"Move all {word} by")
            box.setRange(-MOST_OFFSET, MOST_OFFSET)
            box.setSingleStep(0.5)
            box.setDecimals(1)
            box.setSuffix(f" mm {word}")
            grid.addWidget(box, 1, place)
        return grid

    def _foot(self) -> QHBoxLayout:
        self.told.setObjectName("labels-told")
        self.told.setWordWrap(True)
        self.progress.setObjectName("labels-progress")
        self.progress.setAccessibleName("Drawing the labels and reading them back")
        self.progress.setRange(0, 0)
        self.progress.setFixedWidth(120)
        self.save.setObjectName("labels-save")
        self.print.setObjectName("labels-print")
        self.print.setDefault(True)
        close = QPushButton("Close")
        close.clicked.connect(self.reject)
        foot = row(self.progress, self.told, self.save, self.print, close)
        foot.setStretch(1, 1)
        return foot

    def _connect(self) -> None:
        self.what.buttonClicked.connect(self.redraw_soon)
        self.homes.toggled.connect(self.redraw_soon)
        self.reprint.toggled.connect(self.redraw_soon)
        self.stock.currentIndexChanged.connect(self.on_stock_chosen)
        self.picker.start_changed.connect(self.redraw_soon)
        self.right.valueChanged.connect(self.redraw_soon)
        self.down.valueChanged.connect(self.redraw_soon)
        self._pause.timeout.connect(self.redraw)
        self.later.began.connect(self.on_began)
        self.later.ended.connect(self.on_drawn)
        self.save.clicked.connect(self.on_save_asked)
        self.print.clicked.connect(self.on_print_asked)

    def _offer(self, piece: Piece | None) -> None:
        """Begin with what is most likely wanted."""
        left = labels.unprinted(self.shop, piece) if piece else []
        every = len(piece.present) if piece else 0
        self.everything.setText(f"All {every} parts")
        count = "all of them" if len(left) == every else str(len(left)) if left else "none left"
        self.left.setText(f"Only those not printed yet ({count})")
        self.left.setEnabled(0 < len(left) < every)
        words = ", ".join(self.only[:6]) + ("…" if len(self.only) > 6 else "")
        self.chosen.setText(f"Only {words}" if self.only else "Only those chosen (none are)")
        self.chosen.setEnabled(bool(self.only))
        self.reprint.setEnabled(len(left) < every)
        (self.left if self.left.isEnabled() else self.everything).setChecked(True)

    def choose_only(self) -> None:
        """Print the chosen parts; again with the next letter when they were printed before."""
        piece = self.shop.piece(self.tag)
        if piece is None or not self.only:
            return
        self.chosen.setChecked(True)
        left = labels.unprinted(self.shop, piece)
        self.reprint.setChecked(not any(short in left for short in self.only))
        self.redraw_soon()

    # Drawing

    def redraw_soon(self) -> None:
        """Draw again after a moment; until then nothing can be handed out."""
        self._set_ready(None)
        self._pause.start()

    def redraw(self) -> None:
        """Read the book here, and draw the pages on another thread."""
        self._set_ready(None)
        plan = labels.plan_sheet(
            self.shop,
            self.tag,
            only=self._names(),
            homes=self.homes.isChecked(),
            reprint=self.reprint.isChecked(),
            stock=self._stock(),
            start=self.picker.start,
            offset=(self.right.value(), self.down.value()),
        )
        if isinstance(plan, Refused):
            self.later.forget()
            self._tell_refused(plan)
            return
        self.picker.show_count(len(plan.contents))
        self.later.start(partial(drawn, plan))

    def _names(self) -> list[str]:
        if self.chosen.isChecked():
            return self.only
        piece = self.shop.piece(self.tag)
        if self.left.isChecked() and piece:
            return labels.unprinted(self.shop, piece)
        return []

    def _stock(self) -> str:
        return str(self.stock.currentData())

    def _show_stock(self) -> None:
        shape = labels.sheet_shape(self._stock())
        if isinstance(shape, SheetShape):
            self._shape = shape
            self.picker.show_shape(shape)

    def on_stock_chosen(self) -> None:
        self._show_stock()
        self.redraw_soon()

    def on_began(self) -> None:
        self.progress.setVisible(True)
        self.told.setText("Drawing the labels and reading them back…")

    def on_drawn(self, found: object) -> None:
        if self._pause.isActive():
            return
        if isinstance(found, Refused):
            self._tell_refused(found)
        elif isinstance(found, Drawn):
            self._set_ready(found)
            pages = found.sheet.pages
            count = len(found.sheet.keys)
            self.told.setText(
                f"{count} label{'s' * (count != 1)} on {pages} page{'s' * (pages != 1)}; "
                "every code was read back."
            )
            assert self._shape is not None
            self.pages.show_pages(found.pictures, (self._shape.width, self._shape.height))

    def _set_ready(self, found: Drawn | None) -> None:
        self._drawn = found
        self.progress.setVisible(False)
        self.save.setEnabled(found is not None)
        self.print.setEnabled(found is not None)

    def _tell_refused(self, refused: Refused) -> None:
        self._set_ready(None)
        self.told.setText(refused.sentence)
        self.pages.show_pages((), (210, 297))

    # Handing out

    def ask_path(self) -> str:
        """Where to save; empty when the question was called off."""
        name = asking.file_name(self.shop, self.tag, "labels.pdf")
        path = asking.ask_new_file(self, "Save the labels", name)
        return str(path) if path else ""

    def on_save_asked(self) -> None:
        path = self.ask_path()
        if not path or self._drawn is None:
            return
        fault = files.write(Path(path), self._drawn.sheet.pdf)
        if fault:
            self.told.setText(fault.sentence)
            return
        self._hand_out(f"Saved as {Path(path).name}.")

    def on_print_asked(self) -> None:
        from PySide6.QtPrintSupport import QPrintPreviewDialog

        if self._drawn is None or self._shape is None:
            return
        printer = printer_for(self._shape.width, self._shape.height)
        preview = QPrintPreviewDialog(printer, self)
        preview.setWindowTitle("Print at 100 %, not “fit to page”")
        preview.paintRequested.connect(self.on_paint_requested)
        if preview.exec() == QDialog.DialogCode.Accepted:
            self._hand_out("Sent to the printer.")

    def on_paint_requested(self, printer: object) -> None:
        from PySide6.QtPrintSupport import QPrinter

        if self._drawn is None or self._shape is None or not isinstance(printer, QPrinter):
            return
        dpi = min(PRINT_DPI, printer.resolution())
        pictures = labels.page_pictures(self._drawn.sheet.pdf, dpi)
        print_pages(printer, pictures, (self._shape.width, self._shape.height))

    def _hand_out(self, how: str) -> None:
        assert self._drawn is not None
        answer = labels.hand_out(self.shop, self._drawn.sheet)
        if isinstance(answer, Refused):
            self._tell_refused(answer)
            return
        self.told.setText(f"{how} {answer.sentence}")
        self.handed_out.emit(Done(f"{answer.sentence} {how}", self.tag))
        self._offer(self.shop.piece(self.tag))

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
