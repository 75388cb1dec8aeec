"""The clocks as a table; what is longest, why it is so, gets the most room."""

from __future__ import annotations

from PySide6.QtCore import QAbstractItemModel, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QSizePolicy, QTableView

from partsbench.ui.theme import grown

NOW, UNTIL = 64, 136
"""Px of the first columns, more where their words are longer."""
SHARES = (0.29, 0.25)
"""Of the rest: what is to be done, and where."""


class DayTable(QTableView):
    """One line for each group of faces with one clock; the columns share its width."""

    def __init__(self, model: QAbstractItemModel) -> None:
        super().__init__()
        self.setObjectName("day-table")
        self.setAccessibleName("What may be done, and what waits")
        self.setModel(model)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head = self.horizontalHeader()
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        head.setStretchLastSection(True)
        self.setMinimumHeight(grown(132))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)

    def resizeEvent(self, event: QResizeEvent) -> None:
        now = max(NOW, self.sizeHintForColumn(0))
        until = max(UNTIL, self.horizontalHeader().sectionSizeHint(1))
        rest = max(0, event.size().width() - now - until)
        for column, wide in enumerate((now, until, *(round(rest * s) for s in SHARES))):
            self.setColumnWidth(column, wide)
        super().resizeEvent(event)
