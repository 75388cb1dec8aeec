"""Every key of the window, from the one table of actions."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QHeaderView, QTableView, QVBoxLayout, QWidget

from partsbench.core.wording import within
from partsbench.ui.actions import ACTIONS
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.page_table import PAGES

ALWAYS = (
    ("Arrows", "From one opening to the next"),
    ("Enter", "Press the opening, or answer yes"),
    ("Space", "Choose the opening, or take it out of the choice"),
    ("Tab", "To the next control"),
)


class KeysDialog(FittingDialog):
    """A table with the key and what it does."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Keys")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        model = QStandardItemModel(self)
        model.setHorizontalHeaderLabels(["Key", "What it does"])
        for key, what in lines():
            row = [QStandardItem(key), QStandardItem(what)]
            for item in row:
                item.setEditable(False)
            model.appendRow(row)
        self.table = QTableView()
        self.table.setAccessibleName("Keys")
        self.table.setModel(model)
        self.table.verticalHeader().hide()
        self.table.setShowGrid(False)
        self.table.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        self.table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        self.table.setTabKeyNavigation(False)
        layout = QVBoxLayout(self)
        layout.addWidget(self.table)
        self.resize(760, 560)


def lines() -> list[tuple[str, str]]:
    """Key and meaning, as the table of actions has them."""
    native = QKeySequence.SequenceFormat.NativeText
    pages = [(p.shortcut, f"{p.title}: {p.tip}") for p in PAGES]
    rest = [(a.shortcut, f"{within(a.text)}: {a.tip}") for a in ACTIONS]
    named = [(QKeySequence(key).toString(native), what) for key, what in pages + rest]
    return [*named, *ALWAYS]
