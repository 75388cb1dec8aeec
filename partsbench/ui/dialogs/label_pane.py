"""Labels: which, on what, from which label of a used sheet on, and how far the printer is out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QComboBox,
    QDoubleSpinBox,
    QGridLayout,
    QLabel,
    QRadioButton,
)

from partsbench.core.naming import together
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.services.shown.labels import SheetShape
from partsbench.ui.dialogs.drawing import Drawn, drawn_labels
from partsbench.ui.dialogs.print_pane import PrintPane
from partsbench.ui.dialogs.sheet_picker import SheetPicker
from partsbench.ui.layout.fields import heading, quiet

MOST_OFFSET = 10.0


class LabelPane(PrintPane):
    """Handing the labels out is what the book notes."""

    def __init__(self, shop: Shop, tag: str, only: Sequence[str] = ()) -> None:
        super().__init__("labels", "Labels", "labels.pdf")
        self.shop = shop
        self.tag = tag
        self.only = list(only)
        self.what = QButtonGroup(self)
        self.everything = QRadioButton("All parts")
        self.left = QRadioButton("Only those not printed yet")
        self.chosen = QRadioButton("Only those chosen")
        self.homes = QCheckBox("Home labels for the openings and corners too")
        self.reprint = QCheckBox("Print again with the next letter")
        self.stock = QComboBox()
        self.picker = SheetPicker()
        self.right = QDoubleSpinBox()
        self.down = QDoubleSpinBox()
        self._build()
        self._show_stock()
        self.begin()
        self._connect()

    def _build(self) -> None:
        column = self.column
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
        self.stock.setCurrentIndex(self.stock.findData(labels.usual_stock(self.shop)))
        column.addWidget(self.stock)
        column.addWidget(quiet("First free label of the sheet: click it."))
        column.addWidget(self.picker)
        column.addLayout(self._offsets())
        column.addStretch()

    def _offsets(self) -> QGridLayout:
        grid = QGridLayout()
        grid.addWidget(QLabel("If the printer is off, move all by"), 0, 0, 1, 2)
        across, down = labels.usual_offset(self.shop)
        for place, (name, word, box, usual) in enumerate(
            (
                ("offset-right", "right", self.right, across),
                ("offset-down", "down", self.down, down),
            )
        ):
            box.setObjectName(name)
            box.setAccessibleName(f"Move all {word} by")
            box.setRange(-MOST_OFFSET, MOST_OFFSET)
            box.setSingleStep(0.5)
            box.setDecimals(1)
            box.setSuffix(f" mm {word}")
            box.setValue(usual)
            grid.addWidget(box, 1, place)
        return grid

    def _connect(self) -> None:
        self.what.buttonClicked.connect(self.changed)
        self.homes.toggled.connect(self.changed)
        self.reprint.toggled.connect(self.changed)
        self.stock.currentIndexChanged.connect(self.on_stock_chosen)
        self.picker.start_changed.connect(self.changed)
        self.right.valueChanged.connect(self.changed)
        self.down.valueChanged.connect(self.changed)

    def begin(self) -> None:
        """The labels not yet printed, or all."""
        piece = self.shop.piece(self.tag)
        left = labels.unprinted(self.shop, piece) if piece else []
        every = len(piece.present) if piece else 0
        self.everything.setText(f"All {every} parts")
        count = "all of them" if len(left) == every else str(len(left)) if left else "none left"
        self.left.setText(f"Only those not printed yet ({count})")
        self.left.setEnabled(0 < len(left) < every)
        words = together(self.only, 6)
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
        self.changed.emit()

    def plan(self) -> Callable[[], Drawn | Refused] | Refused:
        plan = labels.plan_sheet(
            self.shop,
            self.tag,
            only=self._names(self.shop.piece(self.tag)),
            homes=self.homes.isChecked(),
            reprint=self.reprint.isChecked(),
            stock=self._stock(),
            start=self.picker.start,
            offset=self._offset(),
        )
        if isinstance(plan, Refused):
            return plan
        if plan.runs:
            self.picker.show_count(len(plan.runs[0].contents))
        return partial(drawn_labels, plan)

    def hand_out(self, drawn: Drawn, how: str) -> Done | Refused:
        assert drawn.sheet is not None
        noted = labels.hand_out(self.shop, drawn.sheet)
        if isinstance(noted, Refused):
            return noted
        kept = labels.keep_offset(self.shop, self._offset())
        return kept if isinstance(kept, Refused) else Done(f"{noted.sentence} {how}", self.tag)

    def _names(self, piece: Piece | None) -> list[str]:
        if self.chosen.isChecked():
            return self.only
        return labels.unprinted(self.shop, piece) if self.left.isChecked() and piece else []

    def _offset(self) -> tuple[float, float]:
        return self.right.value(), self.down.value()

    def _stock(self) -> str:
        return str(self.stock.currentData())

    def _show_stock(self) -> None:
        shape = labels.sheet_shape(self._stock())
        if isinstance(shape, SheetShape):
            self.picker.show_shape(shape)

    def on_stock_chosen(self) -> None:
        self._show_stock()
        self.changed.emit()
