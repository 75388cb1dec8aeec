"""Copies of the book: where they go, which there are, and getting one back."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QListWidget, QListWidgetItem, QWidget

from partsbench.core.keeping import RULE
from partsbench.core.outcomes import Refused
from partsbench.core.shown_times import moment
from partsbench.services.books import copies
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.empty_hint import EmptyHint

NONE_YET = (
    "No copy yet. Choose a folder, on a second disk if there is one: the first is made at once."
)


class CopiesDialog(ShopDialog):
    """A copy chosen and asked for tells what it would lose; asked for once more, it is the book.

    That is done with the window closed, which then opens on it.
    """

    helped_by = "book"
    get_back_asked = Signal(Path)
    """The copy that is to be the book."""

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None) -> None:
        super().__init__(shop, tag, parent, name="copies", title="Copies of the book")
        self._ready: Path | None = None
        self.standing = QLabel()
        self.standing.setObjectName("copies-standing")
        self.list = QListWidget()
        self.list.setObjectName("copies-list")
        self.list.setAccessibleName("Copies of the book, the latest first")
        EmptyHint(self.list, NONE_YET)
        rule = QLabel(RULE)
        for label in (self.standing, rule):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.content.addWidget(self.standing)
        self.content.addWidget(self.list, 1)
        self.content.addWidget(rule)
        self.add_button("Choose folder…", "copies-folder", self.on_folder_asked)
        self.add_button("Copy now", "copies-now", self.on_copy_asked)
        self.add_button("Another file…", "copies-other", self.on_other_asked)
        self.back = self.add_button("Get it back…", "copies-back", self.on_back_asked)
        self.list.currentItemChanged.connect(self.on_chosen)
        self.resize(680, 460)
        self.refresh()

    def refresh(self) -> None:
        self.standing.setText(copies.standing(self.shop))
        self.list.clear()
        for copy in copies.kept(self.shop):
            when = moment(copy.at, self.shop.clock(), year=True)
            item = QListWidgetItem(f"{when}    {copy.path.name}")
            item.setData(Qt.ItemDataRole.UserRole, copy.path)
            self.list.addItem(item)
        self.on_chosen()

    def on_chosen(self) -> None:
        self._ready = None
        self.back.setText("Get it back…")
        self.back.setEnabled(self.list.currentItem() is not None)

    def on_folder_asked(self) -> None:
        folder = asking.ask_folder(self, "A folder for copies of the book")
        if folder:
            self.settle(copies.choose_folder(self.shop, folder))

    def on_copy_asked(self) -> None:
        self.settle(copies.make(self.shop))

    def on_other_asked(self) -> None:
        file = asking.ask_book(self, "A copy to get back")
        if file:
            self.ask_about(file)

    def on_back_asked(self) -> None:
        if self._ready is not None:
            self.get_back_asked.emit(self._ready)
            return
        self.ask_about(self.list.currentItem().data(Qt.ItemDataRole.UserRole))

    def ask_about(self, copy: Path) -> None:
        """Tell what would be lost; the button then does it."""
        lost = copies.would_lose(self.shop, copy)
        if isinstance(lost, Refused):
            self.on_chosen()
            self.say(lost.sentence, fault=True)
            return
        self._ready = copy
        self.back.setEnabled(True)
        self.back.setText("Yes, get it back")
        self.say(f"{copy.name}: {copies.loss_words(lost)} The book as it is stays beside it.")
