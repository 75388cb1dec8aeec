"""Wood and hardware of a piece, asked at its intake: one question a dialog."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QFormLayout, QLabel, QSpinBox, QWidget

from partsbench.core.key_words import part_word
from partsbench.services.shop import Shop
from partsbench.services.shown import first_things
from partsbench.services.sums.measure import set_wood
from partsbench.ui.dialogs.lines import text_field, typed_or_chosen
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import quiet

CUTS = (("Not known, or both", "mixed"), ("Flat (cathedral grain)", "flat"),
        ("Quarter (straight grain)", "quarter"))  # fmt: skip


class WoodDialog(ShopDialog):
    """What it is made of; some parts may be of another wood."""

    helped_by = "sums"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, name="wood-dialog", title="What is it made of?")
        woods = ("", *first_things.wood_names())
        self.wood = typed_or_chosen("wood-wood", "Wood or board", woods)
        completer = self.wood.completer()
        assert completer is not None  # an editable box has one
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        self.cut = QComboBox()
        self.cut.setObjectName("wood-cut")
        self.cut.setAccessibleName("How it is sawn")
        for words, key in CUTS:
            self.cut.addItem(words, key)
        self.of = text_field("wood-of", "Only these parts", "all of it; or D5 D6")
        form = QFormLayout()
        form.addRow("Wood or board", self.wood)
        form.addRow("Sawn", self.cut)
        form.addRow("Only these parts", self.of)
        self.content.addLayout(form)
        self.content.addWidget(
            quiet("Veneer is named by its core, such as “veneer on MDF”. It tells how far a drawer "
                  "swells in its opening.")
        )  # fmt: skip
        self.content.addStretch(1)
        self.note = self.add_button("Note it", "wood-note", self.on_note)
        self.note.setDefault(True)
        self.resize(520, 280)

    def on_note(self) -> None:
        names = self.of.text().replace(",", " ").split()
        wood, cut = self.wood.currentText(), str(self.cut.currentData())
        if self.settle(set_wood(self.shop, self.tag, names, wood, cut)) and not names:
            self.accept()


class HardwareDialog(ShopDialog):
    """How many are there and good, front by front."""

    helped_by = "hardware"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(
            shop,
            tag,
            parent,
            name="hardware-dialog",
            title="Pulls, knobs and plates: what is there?",
        )
        self.boxes: dict[tuple[str, str], QSpinBox] = {}
        form = QFormLayout()
        for (front, kind), (wanted, have) in first_things.counted_now(shop, tag).items():
            box = QSpinBox()
            box.setObjectName(f"hardware-{front}-{kind}")
            box.setAccessibleName(f"{part_word(kind)} of {front}, there and good")
            box.setRange(0, wanted)
            of = f"of {wanted}"
            box.setSuffix(f" {of}")
            box.setValue(have)
            self.boxes[front, kind] = box
            form.addRow(f"{front}: {part_word(kind)}", box)
        if not self.boxes:
            form.addRow(
                QLabel("Nothing is fitted on its drawers and doors; the Layout page adds it.")
            )
        self.content.addLayout(form)
        self.content.addWidget(
            quiet("What is worn, bent or broken, spacings and threads: Sums, “Hardware counted”.")
        )
        self.all_there = self.add_button("All are there", "hardware-all", self.on_all_there)
        self.note = self.add_button("Note the count", "hardware-note", self.on_note)
        self.note.setDefault(True)
        for button in (self.all_there, self.note):
            button.setEnabled(bool(self.boxes))
        self.resize(460, 520)

    def on_all_there(self) -> None:
        for box in self.boxes.values():
            box.setValue(box.maximum())

    def on_note(self) -> None:
        counts = {key: box.value() for key, box in self.boxes.items()}
        if self.settle(first_things.count_good(self.shop, self.tag, counts)):
            self.accept()
