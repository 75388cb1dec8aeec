"""The cup beside a load: which mix is in the gun, what is in it, and what it goes on."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QDoubleSpinBox, QGridLayout, QLabel, QVBoxLayout, QWidget

from partsbench.core.said_often import cup_name
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.ui.bench.controls import words
from partsbench.ui.layout.fields import heading, quiet

NO_CUP = "No cup in hand"


class CupPanel(QWidget):
    """Emits when another cup is taken in hand, and when another volume is asked about."""

    chosen = Signal(int)
    """The number of the cup; 0 for none."""
    asked = Signal()

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self.cup = QComboBox()
        self.cup.setObjectName("load-cup")
        self.cup.setAccessibleName("Cup in hand")
        self.cup.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.cup.setMinimumContentsLength(18)
        self.words = words(0, name="cup-words")
        self.spread = _spin("spread", "Mix for a square metre", "ml/m²", 2000)
        self.holds = _spin("cup-holds", "The cup holds", "ml", 5000)
        grid = QGridLayout()
        for row, (text, box) in enumerate((("Spread", self.spread), ("Cup holds", self.holds))):
            label = QLabel(text)
            label.setBuddy(box)
            grid.addWidget(label, row, 0)
            grid.addWidget(box, row, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(heading("Cup"))
        column.addWidget(self.cup)
        column.addWidget(self.words)
        column.addLayout(grid)
        column.addWidget(quiet("With both, the load is broken into cups where a row ends."))
        self.cup.activated.connect(self.on_cup_chosen)
        self.spread.valueChanged.connect(self.on_volume_changed)
        self.holds.valueChanged.connect(self.on_volume_changed)

    def show_cup(self, number: int) -> None:
        """Offer the cups that are not empty, with the one in hand chosen."""
        full = cups.listed(self._shop)
        with QSignalBlocker(self.cup):
            self.cup.clear()
            self.cup.addItem(NO_CUP, 0)
            for cup in full:
                self.cup.addItem(cup_name(cup.number, cup.cup.name), cup.number)
            self.cup.setCurrentIndex(max(0, self.cup.findData(number)))
        found = next((c for c in full if c.number == number), None)
        self.words.setText(cups.words(found, self._shop) if found else "")
        self.words.setVisible(found is not None)

    def on_cup_chosen(self) -> None:
        self.chosen.emit(int(self.cup.currentData()))

    def on_volume_changed(self) -> None:
        self.asked.emit()


def _spin(name: str, what: str, unit: str, most: float) -> QDoubleSpinBox:
    box = QDoubleSpinBox()
    box.setObjectName(name)
    box.setAccessibleName(what)
    box.setRange(0, most)
    box.setDecimals(0)
    box.setSingleStep(10)
    box.setSuffix(f" {unit}")
    box.setSpecialValueText("not said")
    return box
