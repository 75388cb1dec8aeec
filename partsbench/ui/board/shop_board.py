"""The cards of the pieces in hand, in columns as the width allows."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QScrollArea, QWidget

from partsbench.services.plan.board import BoardLine, board_lines
from partsbench.services.shop import Shop
from partsbench.services.shown.day import in_hand
from partsbench.services.shown.progress_map import progress_map
from partsbench.ui.board.piece_card import PieceCard
from partsbench.ui.planner import PlanFound, ShopPlanner

CARD_WIDE = 350
BEAT_MS = 30
"""A front is drawn at each beat, so that no key waits for all of them."""


class ShopBoard(QScrollArea):
    """Emits the tag of a card that is opened or chosen."""

    opened = Signal(str)
    chosen = Signal(str)

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self.cards: dict[str, PieceCard] = {}
        self._lines: dict[str, BoardLine] = {}
        self._to_draw: list[str] = []
        self._columns = 0
        self._beat = QTimer(self, interval=BEAT_MS)
        self._beat.timeout.connect(self.on_beat)
        self.setObjectName("shop-board")
        self.setAccessibleName("The board of the shop: pieces in hand")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        inner = QWidget()
        self._grid = QGridLayout(inner)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(8)
        self.setWidget(inner)

    def plan_with(self, planner: ShopPlanner) -> None:
        """Show of each piece what this one finds."""
        planner.found.connect(self.on_plan_found)

    def refresh(self) -> None:
        """The pieces in hand as the book has them; the plan follows in the background."""
        tags = in_hand(self._shop, self._shop.clock())
        if list(self.cards) != tags:
            self._renew(tags)
        self._to_draw = list(self.cards)
        if self.isVisible():
            self._go()

    def narrow(self, text: str) -> None:
        """Only the cards with that in their name, tag or title."""
        for card in self.cards.values():
            said = f"{card.name.text()} {card.what.text()}".casefold()
            card.setVisible(text.strip().casefold() in said)

    def on_plan_found(self, found: PlanFound) -> None:
        self._lines = board_lines(found.shown)
        for tag, card in self.cards.items():
            card.show_line(self._lines.get(tag))

    def on_beat(self) -> None:
        if not self._to_draw:
            self._beat.stop()
            return
        tag = self._to_draw.pop(0)
        if tag in self.cards:
            self.cards[tag].show_map(progress_map(self._shop, tag))

    def _go(self) -> None:
        self._beat.start()

    def _renew(self, tags: list[str]) -> None:
        for tag in [tag for tag in self.cards if tag not in tags]:
            gone = self.cards.pop(tag)
            self._grid.removeWidget(gone)
            gone.hide()
            gone.deleteLater()
        old, self.cards = self.cards, {}
        for tag in tags:
            piece = self._shop.piece(tag)
            if piece is None:
                continue
            self.cards[tag] = old.get(tag) or self._card(tag, piece.codename, piece.title)
        self._columns = 0
        self._place()

    def _card(self, tag: str, codename: str, title: str) -> PieceCard:
        card = PieceCard(tag, codename, title)
        card.opened.connect(self.opened)
        card.chosen.connect(self.chosen)
        return card

    def _place(self) -> None:
        columns = max(1, self.viewport().width() // CARD_WIDE)
        if columns == self._columns:
            return
        self._columns = columns
        for row in range(self._grid.rowCount()):
            self._grid.setRowStretch(row, 0)
        self._grid.setRowStretch(len(self.cards), 1)
        for column in range(max(columns, self._grid.columnCount())):
            self._grid.setColumnStretch(column, column < columns)
        before: QWidget | None = None
        for n, card in enumerate(self.cards.values()):
            self._grid.addWidget(card, n // columns, n % columns)
            card.show()
            if before is not None:
                QWidget.setTabOrder(before, card)
            before = card

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._go()

    def hideEvent(self, event: QHideEvent) -> None:
        self._beat.stop()
        super().hideEvent(event)
