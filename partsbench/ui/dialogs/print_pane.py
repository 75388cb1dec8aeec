"""What can be printed, each with its own choices at the side of the one dialog that prints."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QLabel

from partsbench.core.outcomes import Done, Refused
from partsbench.services.shop import Shop
from partsbench.services.sums.habits import habits
from partsbench.ui.dialogs.drawing import Drawn, pictured
from partsbench.ui.layout.fields import Panel, heading

PAPERS = {"a4": "A4", "letter": "Letter"}
Make = Callable[[str, bool], bytes | Refused]
"""The PDF on `a4` or `letter`, and whether it is for the client."""


class PrintPane(Panel):
    """Choices of one thing to print. `title` stands in the list, `file` is what it is saved as."""

    changed = Signal()
    """Something was chosen: the pages are to be drawn anew."""

    def __init__(self, key: str, title: str, file: str) -> None:
        super().__init__(f"{key}-side")
        self.key = key
        self.title = title
        self.file = file

    def plan(self) -> Callable[[], Drawn | Refused] | Refused:
        """Read the book; what comes back draws the pages and needs no book."""
        raise NotImplementedError

    def hand_out(self, drawn: Drawn, how: str) -> Done | Refused:
        """Note in the book what has to be noted, now that the pages were saved or printed."""
        raise NotImplementedError

    def begin(self) -> None:
        """Offer what is most likely wanted now."""


class SheetPane(PrintPane):
    """A sheet of paper: which size, and for whom. `noted` notes that it was handed out."""

    def __init__(
        self,
        shop: Shop,
        tag: str,
        key: str,
        title: str,
        make: Make,
        *,
        for_client: bool = False,
        noted: Callable[[], Done | Refused] | None = None,
    ) -> None:
        super().__init__(key, title, f"{title}.pdf")
        self._noted = noted
        self._tag = tag
        self._make = make
        self.paper = QComboBox()
        self.paper.setObjectName(f"{key}-paper")
        self.paper.setAccessibleName("Paper")
        for name, word in PAPERS.items():
            self.paper.addItem(word, name)
        self.paper.setCurrentIndex(self.paper.findData(habits(shop).word("paper", "a4")))
        self.client = QCheckBox("For the client: hidden parts are left off")
        self.client.setObjectName(f"{key}-client")
        self.client.setVisible(for_client)
        label = QLabel("Paper")
        label.setBuddy(self.paper)
        self.column.addWidget(heading("Paper"))
        self.column.addWidget(self.paper)
        self.column.addWidget(self.client)
        self.column.addStretch()
        self.paper.currentIndexChanged.connect(self.changed)
        self.client.toggled.connect(self.changed)

    def plan(self) -> Callable[[], Drawn | Refused] | Refused:
        pdf = self._make(str(self.paper.currentData()), self.client.isChecked())
        return pdf if isinstance(pdf, Refused) else partial(pictured, pdf)

    def hand_out(self, drawn: Drawn, how: str) -> Done | Refused:
        fault = self._noted() if self._noted else None
        return fault if isinstance(fault, Refused) else Done(how, self._tag)
