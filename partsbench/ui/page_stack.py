"""The pages behind one another, each loaded when it is first shown."""

from __future__ import annotations

from functools import cached_property
from importlib import import_module
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QScrollArea, QStackedWidget, QWidget

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.page_table import PAGES
from partsbench.ui.piece_view import PieceView
from partsbench.ui.settings import Settings

if TYPE_CHECKING:
    from partsbench.services.heard.session import Session
    from partsbench.ui.pages.page import Page
    from partsbench.ui.planner import ShopPlanner


class PageStack(QStackedWidget):
    """Passes on what its pages say."""

    answered = Signal(object)
    changed = Signal()
    page_asked = Signal(str, str)
    part_asked = Signal(str, str)

    def __init__(self, shop: Shop, settings: Settings, parent: QWidget) -> None:
        super().__init__(parent)
        self._shop = shop
        self._settings = settings
        self._curtain: PieceView | None = None
        self._frames: dict[str, QScrollArea] = {}
        self.pages: dict[str, Page] = {}

    @cached_property
    def session(self) -> Session:
        """The bench at work, one for all pages; loaded when the first of them needs it."""
        from partsbench.services.heard.session import Session

        made = Session(self._shop)
        for key, page in self.pages.items():
            page.session = made
            if self.currentWidget() is self._frames[key]:
                made.turn(page.mode, page.tag)
        return made

    @cached_property
    def planner(self) -> ShopPlanner:
        """The plan of the shop, one for all pages; loaded when the first of them shows it."""
        from partsbench.ui.planner import ShopPlanner

        return ShopPlanner(self._shop, self)

    def let_go(self) -> None:
        """Let what runs for the pages come to its end, before the window goes away."""
        if "planner" in self.__dict__:
            self.planner.wait()

    def bring(self, key: str, tag: str) -> None:
        """Bring a page to the front, with a piece, and the keyboard to it."""
        fresh = key not in self.pages
        if fresh:
            self._load(key)
        page = self.pages[key]
        self.setCurrentWidget(self._frames[key])
        page.show_piece(tag)
        if fresh:
            state = self._settings.entry(key)
            if state:
                page.restore_state(state)
        page.setFocus(Qt.FocusReason.OtherFocusReason)

    def hang_curtain(self, piece: Piece | None) -> PieceView:
        """The piece alone, until the first page is loaded."""
        self._curtain = PieceView(self)
        if piece:
            self._curtain.show_piece(piece)
        self.addWidget(self._curtain)
        return self._curtain

    def take_curtain_down(self) -> None:
        if self._curtain:
            self.removeWidget(self._curtain)
            self._curtain.deleteLater()
            self._curtain = None

    def _load(self, key: str) -> None:
        """Make the page, in a frame that scrolls where the window is too small for it."""
        from partsbench.core.bench.state import Mode

        entry = next(e for e in PAGES if e.key == key)
        module, name = entry.where.split(":")
        frame = self._frames[key] = QScrollArea(self)
        page: Page = getattr(import_module(module), name)(self._shop, frame)
        page.setObjectName(f"page-{key}")
        page.setAccessibleName(entry.title)
        if page.mode is not Mode.OTHER or "session" in self.__dict__:
            page.session = self.session
        if page.shows_plan:
            page.plan_with(self.planner)
        page.answered.connect(self.answered)
        page.changed.connect(self.changed)
        page.page_asked.connect(self.page_asked)
        page.part_asked.connect(self.part_asked)
        frame.setWidget(page)
        frame.setWidgetResizable(True)
        frame.setFrameShape(QScrollArea.Shape.NoFrame)
        frame.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.addWidget(frame)
        self.pages[key] = page
