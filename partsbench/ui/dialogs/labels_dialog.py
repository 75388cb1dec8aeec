"""Print, opened on the labels of the piece at work."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from partsbench.services.shop import Shop
from partsbench.ui.dialogs.label_pane import LabelPane
from partsbench.ui.dialogs.paper_dialogs import sheets
from partsbench.ui.dialogs.print_dialog import PrintDialog


class LabelsDialog(PrintDialog):
    """`only` are the parts chosen on the page, if any."""

    def __init__(
        self, shop: Shop, tag: str, parent: QWidget | None = None, only: Sequence[str] = ()
    ) -> None:
        self.labels = LabelPane(shop, tag, only)
        super().__init__(shop, tag, parent, [self.labels, *sheets(shop, tag)], "labels")
