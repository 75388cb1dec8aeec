"""What a page shows while no piece is at work: that, and the two ways on."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from partsbench.services.books.watching import all_pieces
from partsbench.ui.main_button import MainButton
from partsbench.ui.pages.page import Page
from partsbench.ui.theme import grown, sized

BROAD = 520


class NoPiece(QWidget):
    """Takes the place of `rest`, the page's own content, until there is a piece.

    `then` says what will stand there.
    """

    def __init__(self, page: Page, rest: QWidget, then: str = "its front stands") -> None:
        super().__init__(page)
        self._page = page
        self._rest = rest
        self.setObjectName("no-piece")
        said = QLabel("No piece is at work")
        said.setFont(sized(5, bold=True))
        said.setWordWrap(True)
        self._then = then
        self.why = QLabel()
        self.why.setObjectName("no-piece-why")
        self.why.setFont(sized(1))
        self.why.setWordWrap(True)
        new = MainButton("Take in a new piece", "no-piece-new")
        new.clicked.connect(self.on_new_pressed)
        self.choose = QPushButton("Choose one of the book")
        self.choose.setObjectName("no-piece-choose")
        self.choose.setMinimumHeight(grown(46))
        self.choose.setAutoDefault(True)
        self.choose.clicked.connect(self.on_choose_pressed)
        middle = QWidget()
        middle.setMaximumWidth(grown(BROAD))
        column = QVBoxLayout(middle)
        column.setSpacing(12)
        for widget in (said, self.why, new, self.choose):
            column.addWidget(widget)
        across = QHBoxLayout()  # an alignment would not ask how high the words are when broken
        across.addStretch(1)
        across.addWidget(middle, BROAD)
        across.addStretch(1)
        whole = QVBoxLayout(self)
        whole.addStretch(2)
        whole.addLayout(across)
        whole.addStretch(3)
        self.hide()

    def stand(self, wanted: bool) -> None:
        """Show this instead of the page's content, or the content again.

        In an empty book there is nothing to choose: one thing is left to do.
        """
        some = bool(all_pieces(self._page.shop)) if wanted else False
        self.choose.setVisible(some)
        way = "Take a piece in, or choose one of the book" if some else "Take a piece in"
        self.why.setText(f"{way}: {self._then} here then.")
        self.setVisible(wanted)
        self._rest.setVisible(not wanted)

    def on_new_pressed(self) -> None:
        self._page.page_asked.emit("start", "")

    def on_choose_pressed(self) -> None:
        self._page.page_asked.emit("pieces", "")
