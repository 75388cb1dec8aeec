"""Cups: what is in the gun, written down as it is poured, and the same again at another volume."""

from __future__ import annotations

from math import isfinite

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.finish.cups import Poured, StoredCup
from partsbench.core.finish.durations import parse_duration
from partsbench.core.outcomes import Done, Refused
from partsbench.core.said_often import cup_name, no_pot_life
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.ui.bench.controls import words
from partsbench.ui.dialogs.lines import Lines, number_field, said, text_field
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import Panel, heading, quiet

ROWS = 4
HEADS = {"product": "Product", "parts": "Parts", "lot": "Lot"}
BY_VOLUME = "Parts by volume as poured; a lot tells one batch of a product from another."
NO_CUP = "No cup yet. Write down a mix as you pour it; it then has a code, and can be made again."


class CupsDialog(ShopDialog):
    """Cups in use at the left, with what the chosen one is; a new mix at the right."""

    helped_by = "load"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, name="cups-dialog", title="Cups")
        self.list = Lines("cups-list", "Cups in use", empty=NO_CUP)
        self.about = words(0, name="cup-about")
        self.volume = number_field("again-volume", "The same again, at", "ml", 0, 20_000)
        self.recipe = words(0.4, bold=True, name="cup-recipe")
        self.name = text_field("cup-name", "Name of the mix", "deep blue")
        self.product = QComboBox()
        self.product.setObjectName("cup-product")
        self.product.setAccessibleName("What it is: its class of product")
        self.product.addItem("not said", "")
        for key, name in cups.classes().items():
            self.product.addItem(name, key)
        self.poured: list[tuple[QLineEdit, QLineEdit, QLineEdit]] = []
        self.tint = number_field("cup-tint", "Tint", "%", 0, 100, unsaid=False)
        self.thinned = number_field("cup-thinned", "Thinned", "%", 0, 100, unsaid=False)
        self.holds = number_field("cup-volume", "Volume", "ml", 0, 20_000)
        self.sheen = text_field("cup-sheen", "Sheen", "satin")
        self.pot = text_field("cup-pot", "Pot life", "4 h")
        self.strained = QCheckBox("Strained")
        self._build()
        self.again = self.add_button("Make it again", "cup-again", self.on_again_asked)
        self.strain = self.add_button("It is strained", "cup-strained", self.on_strained_asked)
        self.empty = self.add_button("It is empty", "cup-empty", self.on_empty_asked)
        self.save = self.add_button("Write down this mix", "cup-save", self.on_save_asked)
        self.resize(980, 560)
        self.refresh()
        self.name.setFocus()

    def _build(self) -> None:
        self.list.picked.connect(self.on_cup_picked)
        self.volume.valueChanged.connect(self.on_volume_changed)
        left = QVBoxLayout()
        left.addWidget(heading("In use"))
        left.addWidget(self.list, 1)
        left.addWidget(self.about)
        line = QHBoxLayout()
        line.addWidget(QLabel("The same again, at"))
        line.addWidget(self.volume, 1)
        left.addLayout(line)
        left.addWidget(self.recipe)
        panel = Panel("cup-form")
        panel.column.addWidget(heading("A new mix"))
        panel.column.addWidget(quiet(BY_VOLUME))
        form = QFormLayout()
        form.addRow("Name", self.name)
        form.addRow("What it is", self.product)
        panel.column.addLayout(form)
        panel.column.addLayout(self._rows())
        more = QFormLayout()
        for text, widget in (
            ("Tint", self.tint),
            ("Thinned by", self.thinned),
            ("Volume", self.holds),
            ("Sheen", self.sheen),
            ("Pot life", self.pot),
            ("", self.strained),
        ):
            more.addRow(text, widget)
        self.strained.setObjectName("cup-is-strained")
        panel.column.addLayout(more)
        panel.column.addStretch(1)
        both = QHBoxLayout()
        both.addLayout(left, 1)
        both.addWidget(panel, 1)
        self.content.addLayout(both)

    def _rows(self) -> QGridLayout:
        grid = QGridLayout()
        for column, text in enumerate(HEADS.values()):
            grid.addWidget(QLabel(text), 0, column)
        for place in range(ROWS):
            fields = tuple(
                text_field(f"poured-{place}-{key}", f"{head} {place + 1}")
                for key, head in HEADS.items()
            )
            for column, field in enumerate(fields):
                grid.addWidget(field, place + 1, column)
            self.poured.append((fields[0], fields[1], fields[2]))
        grid.setColumnStretch(0, 3)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(2, 1)
        return grid

    # Showing

    def refresh(self) -> None:
        self._cups = cups.listed(self.shop)
        self.list.show_lines([cup_name(c.number, c.cup.name) for c in self._cups])
        self._show_about()

    def chosen(self) -> StoredCup | None:
        place = self.list.row()
        return self._cups[place] if 0 <= place < len(self._cups) else None

    def on_cup_picked(self, _place: int) -> None:
        self._show_about()

    def on_volume_changed(self) -> None:
        self._show_about()

    def _show_about(self) -> None:
        cup = self.chosen()
        self.about.setText(f"{cups.words(cup, self.shop)} Code {cups.code(cup)}." if cup else "")
        for button in (self.again, self.strain, self.empty):
            button.setEnabled(cup is not None)
        ml = said(self.volume)
        found = cups.recipe(self.shop, cup.number, ml) if cup and ml else None
        self.recipe.setText(found.sentence if found else "")

    # Doing

    def on_again_asked(self) -> None:
        ml = said(self.volume)
        if ml is None:
            self.say("Say how many ml are wanted.", fault=True)
            return
        self._made(cups.make_again(self.shop, self._number_chosen(), ml))

    def on_strained_asked(self) -> None:
        self.settle(cups.strained(self.shop, self._number_chosen()))

    def on_empty_asked(self) -> None:
        self.settle(cups.empty(self.shop, self._number_chosen()))

    def _number_chosen(self) -> int:
        """The buttons are pressed with a cup chosen only."""
        cup = self.chosen()
        assert cup is not None
        return cup.number

    def on_save_asked(self) -> None:
        poured = self.poured_lines()
        if isinstance(poured, Refused):
            self.settle(poured)
            return
        pot = self.pot.text().strip()
        life = parse_duration(pot) if pot else None
        if pot and life is None:
            self.settle(Refused(no_pot_life(pot)))
            return
        self._made(
            cups.make(
                self.shop,
                self.name.text(),
                poured,
                tint=self.tint.value(),
                thinned=self.thinned.value(),
                strained=self.strained.isChecked(),
                sheen=self.sheen.text(),
                pot_life=life,
                volume_ml=said(self.holds),
                product=str(self.product.currentData()),
            )
        )

    def poured_lines(self) -> list[Poured] | Refused:
        """What was poured, as typed; empty lines are left out."""
        found = []
        for product, parts, lot in self.poured:
            name, amount = product.text().strip(), _number(parts.text())
            if not name and not parts.text().strip():
                continue
            if not name:
                return Refused("Say on each line what was poured.")
            if amount is None:
                return Refused(f"{name}: parts are a number above 0.")
            found.append(Poured(name, lot.text().strip(), amount))
        return found

    def _made(self, made: StoredCup | Refused) -> None:
        if isinstance(made, Refused):
            self.settle(made)
        else:
            self.settle(Done(f"Cup {made.number} is written down; its code is {cups.code(made)}."))
            self.list.choose(0)


def _number(text: str) -> float | None:
    try:
        amount = float(text.strip().replace(",", "."))
    except ValueError:
        return None
    return amount if isfinite(amount) and amount > 0 else None
