"""A loud answer over a page: what stops the work is not read past."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Outcome
from partsbench.ui.bench.shout import Shout
from partsbench.ui.bench.wording import look_of, own_word
from partsbench.ui.theme import words_at

READ_FROM_M = 2.0
SENTENCE_SHARE = 0.6
"""A loud answer: so much of its height has the sentence."""
LOUD_SHARE = 0.64
LEAST_LOUD, MOST_LOUD = 120, 400
"""A loud answer has that share of the height of the page, in px at least and at most so much."""


class Loud(Shout):
    """Lies over `page` from an answer to the next scan; it keeps to the width of the page, and goes
    with it."""

    def __init__(self, page: QWidget) -> None:
        super().__init__(page, below=SENTENCE_SHARE, most=words_at(READ_FROM_M) * 1.1)
        self.setObjectName("loud")
        self.hide()
        self._page = page
        self._told: object = None
        page.installEventFilter(self)

    def lay_over(self, answer: Outcome, line: str) -> None:
        """Show an answer in front of everything on the page."""
        self._told = answer
        self.show_answer(look_of(answer), line, answer.part, own_word(answer))
        self._fit()
        self.show()
        self.raise_()

    def tells(self, answer: object) -> bool:
        """It is this answer that lies over the page, and no earlier one."""
        return self.isVisible() and answer is self._told

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize:
            self._fit()
        elif event.type() == QEvent.Type.Hide:
            self.hide()
        return False

    def _fit(self) -> None:
        page = self._page
        high = max(LEAST_LOUD, min(MOST_LOUD, round(page.height() * LOUD_SHARE)))
        self.setGeometry(12, 8, page.width() - 24, high)
