"""Adding a part: bags, keys, shelves, whatever else came with the piece."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialogButtonBox,
    QFormLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.key_words import place_word
from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.furnish import walk
from partsbench.core.piece.parts import Home, HomeKind, family_word
from partsbench.core.piece.piece import Piece, opening_words
from partsbench.core.wording import capital
from partsbench.services.books import pieces
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.fields import quiet
from partsbench.ui.layout.looks import part_words
from partsbench.ui.theme import grown

PLAIN = (Family.SHELF, Family.RUNNER, Family.DRAWER, Family.DOOR, Family.LEG, Family.TOP)
KINDS = (
    (Family.BAG, "Bag with things in it"),
    (Family.LOCK, capital(family_word(Family.LOCK))),
    (Family.PULL, "Pull, knob or plate"),
    *((f, capital(family_word(f))) for f in PLAIN),
    (Family.OTHER, "Anything else"),
)
ON_PIECE = "the piece as a whole"


class PartDialog(FittingDialog):
    """Asks what it is, what it belongs to and what is in it, and adds it to the piece."""

    helped_by = "layout"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.kind = QComboBox()
        self.name = QLineEdit()
        self.belongs = QComboBox()
        self.spot = QLineEdit()
        self.contents = QLineEdit()
        self.fragile = QCheckBox("Fragile or heavy")
        self.told = QLabel()
        self.setObjectName("part-dialog")
        self.setWindowTitle("Add a part")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._build()

    def _build(self) -> None:
        for name, widget, words in (
            ("new-kind", self.kind, "What it is"),
            ("new-name", self.name, "Its name"),
            ("new-belongs", self.belongs, "What it belongs to"),
            ("new-spot", self.spot, "Where there"),
            ("new-contents", self.contents, "What is in it"),
            ("new-fragile", self.fragile, "Fragile or heavy"),
        ):
            widget.setObjectName(name)
            widget.setAccessibleName(words)
        for family, words in KINDS:
            self.kind.addItem(words, family)
        self.name.setPlaceholderText("screws of the top")
        self.spot.setPlaceholderText("left, inside, upper hinge…")
        self.contents.setPlaceholderText("8 screws, 2 plates")
        self.kind.currentIndexChanged.connect(self.on_kind_chosen)
        form = QFormLayout()
        form.addRow("It is a", self.kind)
        form.addRow("Called", self.name)
        form.addRow("Belongs to", self.belongs)
        form.addRow("Where there", self.spot)
        form.addRow("Contents", self.contents)
        form.addRow("", self.fragile)
        box = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        box.button(QDialogButtonBox.StandardButton.Ok).setText("Add it")
        box.accepted.connect(self.accept)
        box.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(quiet("It gets the next number of its kind; no other number moves."))
        self.told.setWordWrap(True)
        self.told.setObjectName("part-told")
        self.told.hide()
        column.addWidget(self.told)
        column.addWidget(box)
        self.on_kind_chosen()
        self.setMinimumWidth(grown(440))

    def on_kind_chosen(self) -> None:
        """Offer the homes that such a part can have; the chosen part first."""
        family = Family(self.kind.currentData())
        self.belongs.clear()
        piece = self.desk.piece
        for words, home, parent in homes_for(piece, family) if piece else ():
            self.belongs.addItem(words, (home.kind.value, home.number, home.spot, parent))
            if parent and parent == self.desk.part:
                self.belongs.setCurrentIndex(self.belongs.count() - 1)
        in_opening = family in (Family.DRAWER, Family.DOOR, Family.LEG)
        self.spot.setEnabled(not in_opening)
        self.contents.setEnabled(family in (Family.BAG, Family.OTHER))

    def accept(self) -> None:
        home = self.belongs.currentData()
        if home is None:
            self._tell("There is no place for one: draw an opening or a corner for it first.")
            return
        kind, number, spot, parent = home
        words = self.spot.text().strip() if self.spot.isEnabled() else ""
        answer = pieces.add_part(
            self.desk.shop,
            self.desk.tag,
            Family(self.kind.currentData()),
            Home(HomeKind(kind), number, words or spot),
            self.name.text().strip(),
            parent=parent,
            contents=self.contents.text().strip() if self.contents.isEnabled() else "",
            fragile=self.fragile.isChecked(),
        )
        if isinstance(answer, Refused):
            self._tell(answer.sentence)
            return
        new = answer.parts[-1] if isinstance(answer, Piece) else None
        self.desk.settle(answer, f"Added {new.short}." if new else "Added.")
        if new:
            self.desk.choose_part(new.short)
        super().accept()

    def _tell(self, sentence: str) -> None:
        self.told.setText(sentence)
        self.told.show()


def homes_for(piece: Piece, family: Family) -> list[tuple[str, Home, str]]:
    """Where such a part can live: words, the home, and the part it would travel with."""
    if family in (Family.DRAWER, Family.DOOR):
        return [
            (_opening(piece, o.number), Home(HomeKind.OPENING, o.number), "")
            for o in piece.front.openings
            if piece.occupant(o.number) is None
        ]
    if family is Family.LEG:
        return [
            (f"{place_word(c.spot)} corner", Home(HomeKind.CORNER, c.number, c.spot), "")
            for c in piece.corners
            if piece.occupant(c.number) is None
        ]
    if family in (Family.RUNNER, Family.SHELF):
        return [
            *((_opening(piece, o.number), Home(HomeKind.OPENING, o.number), "")
              for o in piece.front.openings),
            (ON_PIECE, Home(HomeKind.ON_PIECE), ""),
        ]  # fmt: skip
    whole = [(ON_PIECE, Home(HomeKind.ON_PIECE), "")]
    if family is Family.TOP:
        return [(ON_PIECE, Home(HomeKind.ON_PIECE, spot="top"), "")]
    hosts = [
        (f"{p.short}, {part_words(piece, p)}", Home(HomeKind.ON_PART), p.short)
        for p in walk(piece)
        if p.family is not Family.BAG
    ]
    return whole + hosts


def _opening(piece: Piece, number: int) -> str:
    opening = piece.front.opening(number)
    occupant = piece.occupant(number)
    words = opening_words(piece.front, opening) if opening else ""
    if occupant:
        return f"H{number}, {words} (of {occupant.short})"
    return f"H{number}, {words}"
