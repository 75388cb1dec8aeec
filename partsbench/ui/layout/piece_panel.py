"""The piece as a whole and what its drawers are fitted with."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QWidget,
)

from partsbench.core.key_words import part_word, word_of
from partsbench.core.naming import together
from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.alike import MAY_BE
from partsbench.core.piece.codes import Family
from partsbench.core.piece.fittings import FITTINGS, fittings
from partsbench.core.piece.furnish import MOST_LEGS, MOST_PULLS
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Numbering
from partsbench.core.wording import plural
from partsbench.services.books import pieces
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.fields import Panel, heading, labelled, quiet, row

ORDER_WORDS = {
    Numbering.BY_ROW: "Row by row from the top",
    Numbering.BY_COLUMN: "Column by column from the left",
    Numbering.FROM_BOTTOM: "Row by row from the bottom",
}
FIXED_WORDS = "Labels are printed or work is recorded, so every number stays as it is."


class PiecePanel(Panel):
    """Name, order of numbers, legs, top, pulls and other fittings, twin and client."""

    client_asked = Signal()
    part_asked = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__("piece-panel", parent)
        self.desk = desk
        self.title = QLineEdit()
        self.order = QComboBox()
        self.fixed = quiet(FIXED_WORDS)
        self.legs = QSpinBox()
        self.equal = QCheckBox("Any leg fits any corner")
        self.top = QCheckBox("A top that comes off")
        self.hosts = QLabel()
        self.fitting = QComboBox()
        self.count = QSpinBox()
        self.give = QPushButton("Fit to the chosen")
        self.alike = QCheckBox("Alike: any to any place")
        self.add = QPushButton("Add another part…")
        self.twin = QPushButton("Make the mirrored twin")
        self.client = QPushButton("Client…")
        self._build()
        self._connect()

    def _build(self) -> None:
        for name, widget in (
            ("piece-title", self.title), ("number-order", self.order), ("legs", self.legs),
            ("equal-legs", self.equal), ("top", self.top), ("fitting", self.fitting),
            ("fitting-count", self.count), ("fit", self.give), ("alike", self.alike),
            ("add-part", self.add), ("twin", self.twin), ("client", self.client),
            ("numbers-fixed", self.fixed),
        ):  # fmt: skip
            widget.setObjectName(name)
        self.title.setAccessibleName("What the piece is called beside its codename")
        self.title.setPlaceholderText("tall chest")
        self.column.addLayout(labelled("Called", self.title))
        for numbering, words in ORDER_WORDS.items():
            self.order.addItem(words, numbering)
        self.order.setAccessibleName("Order of the numbers, as seen from the front")
        self.column.addLayout(labelled("Numbers", self.order))
        self.column.addWidget(self.fixed)
        self.column.addWidget(heading("Legs and top"))
        self.legs.setRange(0, MOST_LEGS)
        self.legs.setAccessibleName("How many legs")
        self.legs.setKeyboardTracking(False)
        self.column.addLayout(labelled("Legs", self.legs))
        self.column.addWidget(self.equal)
        self.column.addWidget(self.top)
        self.column.addWidget(heading("Pulls, locks and runners"))
        self.hosts.setWordWrap(True)
        self.hosts.setObjectName("fitting-hosts")
        self.column.addWidget(self.hosts)
        for key in FITTINGS:
            self.fitting.addItem(part_word(key), key)
        self.fitting.setAccessibleName("What is fitted")
        self.count.setRange(0, MOST_PULLS)
        self.count.setAccessibleName("How many on each; 0 takes them off")
        self.column.addLayout(row(self.count, QLabel("×"), self.fitting))
        self.column.addWidget(self.give)
        self.column.addWidget(self.alike)
        self.column.addWidget(heading("Anything else"))
        self.column.addWidget(self.add)
        self.column.addLayout(row(self.twin, self.client))
        self.column.addStretch()

    def _connect(self) -> None:
        self.desk.shown.connect(self.on_shown)
        self.desk.chose.connect(self.on_shown)
        self.title.editingFinished.connect(self.on_title_typed)
        self.order.activated.connect(self.on_order_chosen)
        self.legs.valueChanged.connect(self.on_legs_changed)
        self.equal.clicked.connect(self.on_legs_changed)
        self.top.clicked.connect(self.on_top_clicked)
        self.fitting.currentIndexChanged.connect(self.on_shown)
        self.give.clicked.connect(self.on_fit_asked)
        self.alike.clicked.connect(self.on_alike_clicked)
        self.add.clicked.connect(self.part_asked)
        self.client.clicked.connect(self.client_asked)
        self.twin.clicked.connect(self.on_twin_asked)

    def on_shown(self) -> None:
        piece = self.desk.piece
        self.inside.setEnabled(piece is not None)
        if piece is None:
            return
        if not self.title.isModified():
            self.title.setText(piece.title)
        self.order.setCurrentIndex(self.order.findData(piece.numbering))
        self.order.setEnabled(not piece.numbers_fixed)
        self.fixed.setVisible(piece.numbers_fixed)
        legs = [p for p in piece.present if p.family is Family.LEG]
        for control, value in ((self.legs, len(legs)), (self.count, self._count_now())):
            control.blockSignals(True)
            control.setValue(value)
            control.blockSignals(False)
        self.equal.setChecked(bool(legs) and all(p.group for p in legs))
        self.equal.setEnabled(bool(legs))
        self.top.setChecked(any(p.family is Family.TOP for p in piece.present))
        hosts = self._hosts()
        self.give.setEnabled(bool(hosts))
        words = together(p.short for p in hosts)
        mine = self._fitted()
        self.alike.setEnabled(len(mine) > 1 and all(p.family in MAY_BE for p in mine))
        self.alike.setChecked(bool(mine) and all(p.group for p in mine))
        self.hosts.setText(f"Each of {words}:" if hosts else "Choose drawers or doors first.")

    def _hosts(self) -> list[Part]:
        return [p for p in self.desk.parts() if p.family in (Family.DRAWER, Family.DOOR)]

    def _count_now(self) -> int:
        """How many of the fitting in hand the first chosen drawer has."""
        hosts = self._hosts()
        piece = self.desk.piece
        if not hosts or piece is None:
            return self.count.value()
        return len(fittings(piece, hosts[0].short, str(self.fitting.currentData())))

    def _fitted(self) -> list[Part]:
        """The fittings of the sort in hand on the chosen drawers and doors."""
        piece, name = self.desk.piece, str(self.fitting.currentData())
        hosts = self._hosts() if piece else []
        return [p for host in hosts for p in fittings(piece, host.short, name)] if piece else []

    def on_alike_clicked(self, alike: bool) -> None:
        shorts = [p.short for p in self._fitted()]
        answer = pieces.make_alike(self.desk.shop, self.desk.tag, shorts, alike)
        how = "are alike: any to any place" if alike else "have their own places"
        self.desk.settle(answer, f"{together(shorts)} {how}.")

    def on_title_typed(self) -> None:
        if not self.title.isModified() or self.desk.piece is None:
            return
        self.title.setModified(False)
        title = self.title.text().strip()
        if title != self.desk.piece.title:
            answer = pieces.rename(self.desk.shop, self.desk.tag, title)
            self.desk.settle(answer, f"Called {title}." if title else "Called nothing more.")

    def on_order_chosen(self) -> None:
        order = Numbering(self.order.currentData())
        if self.desk.piece and order is not self.desk.piece.numbering:
            answer = pieces.number_by(self.desk.shop, self.desk.tag, order)
            self.desk.settle(answer, f"Numbered {word_of(order)}.")

    def on_legs_changed(self) -> None:
        count, equal = self.legs.value(), self.equal.isChecked()
        answer = pieces.give_legs(self.desk.shop, self.desk.tag, count, equal)
        one = "1 leg that fits any corner" if equal else "1 leg with its own corner"
        words = "that fit any corner" if equal else "each with its own corner"
        self.desk.settle(answer, f"{plural(count, one, f'{count} legs {words}')}." if count
                         else "No legs.")  # fmt: skip

    def on_top_clicked(self, top: bool) -> None:
        answer = pieces.give_top(self.desk.shop, self.desk.tag, top)
        self.desk.settle(answer, "With a top that comes off." if top else "No top that comes off.")

    def on_fit_asked(self) -> None:
        hosts = [p.short for p in self._hosts()]
        count, name = self.count.value(), str(self.fitting.currentData())
        answer = pieces.give_fittings(self.desk.shop, self.desk.tag, hosts, count, name)
        self.desk.settle(answer, f"{count} × {name} on {together(hosts)}.")

    def on_twin_asked(self) -> None:
        if self.desk.piece is None:
            return
        title = f"mirrored {self.desk.piece.title}".strip()
        twin = pieces.mirror(self.desk.shop, self.desk.tag, title)
        if isinstance(twin, Refused):
            self.desk.answered.emit(twin)
            return
        told = f"The twin is in the book as {twin.tag}, with codes of its own."
        self.desk.answered.emit(Done(told, twin.tag))
        self.desk.changed.emit()
