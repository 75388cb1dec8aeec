"""Which piece is at work: all pieces of the book, the newest first."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QComboBox, QWidget

from partsbench.services.books.watching import all_pieces
from partsbench.services.shop import Shop
from partsbench.ui.theme import grown

NONE = "No piece at work"
MOST = 40
"""So many are offered here, which is a full shop; the page of all pieces has the others."""


def title_of(codename: str, tag: str, title: str) -> str:
    """A piece in one line."""
    return f"{codename}  {tag}" + (f"  {title}" if title else "")


class PieceChooser(QComboBox):
    """Emits the tag when a person chooses another piece."""

    piece_chosen = Signal(str)

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self.setObjectName("piece-chooser")
        self.setAccessibleName("Piece at work")
        self.setToolTip("The piece at work; all pieces of the book are on the page Pieces")
        self.setMinimumWidth(grown(170))
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(24)
        self.activated.connect(self.on_activated)

    def show_pieces(self, tag: str) -> None:
        """Offer what the book has now, with the piece of that tag chosen."""
        lines = [(title_of(p.codename, p.tag, p.title), p.tag) for p in all_pieces(self._shop)]
        offered = lines[:MOST] + [line for line in lines[MOST:] if line[1] == tag]
        self._fill(offered or [(NONE, "")], tag)

    def _fill(self, lines: Sequence[tuple[str, str]], tag: str) -> None:
        with QSignalBlocker(self):
            self.clear()
            for text, data in lines:
                self.addItem(text, data)
            at = self.findData(tag, Qt.ItemDataRole.UserRole)
            if at < 0:
                self.insertItem(0, NONE, "")
                at = 0
            self.setCurrentIndex(at)

    def on_activated(self, index: int) -> None:
        tag = self.itemData(index, Qt.ItemDataRole.UserRole)
        if tag:
            self.piece_chosen.emit(tag)
