"""The journal at the side of the window, beside whatever page is in front."""

from __future__ import annotations

from PySide6.QtWidgets import QDockWidget, QWidget

from partsbench.services.shop import Shop
from partsbench.ui.pages.history_panel import HistoryPanel


class HistoryDock(QDockWidget):
    """Follows the piece at work while it is on show."""

    def __init__(self, shop: Shop, parent: QWidget) -> None:
        super().__init__("History", parent)
        self.setObjectName("history-dock")
        self.panel = HistoryPanel(shop)
        self.setWidget(self.panel)

    def show_piece(self, tag: str) -> None:
        """Read the journal anew, if anybody looks at it."""
        if not self.isHidden():
            self.panel.show_piece(tag)
