"""The latest records of a piece, and the way back."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QGridLayout, QWidget

from partsbench.core.shown_times import weekday
from partsbench.services.acts.history import history, last_change, next_redo
from partsbench.services.shop import Shop
from partsbench.ui.bench.controls import KeyButton, words
from partsbench.ui.bench.wording import brief

SHOWN = 4


class RecordsStrip(QWidget):
    """Four sentences with their times, newest first, and undo and redo."""

    def __init__(
        self, shop: Shop, on_undo: Callable[[], None], on_redo: Callable[[], None]
    ) -> None:
        super().__init__()
        self._shop = shop
        self._lines = [words(name=f"record-{place}") for place in range(SHOWN)]
        self.undo_button = KeyButton("Undo", "U", on_undo, name="undo")
        self.redo_button = KeyButton("Redo", "Y", on_redo, name="redo")
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(18)
        grid.setVerticalSpacing(1)
        for place, line in enumerate(self._lines):
            grid.addWidget(line, place % 2, place // 2)
            grid.setColumnStretch(place // 2, 1)

    def show_piece(self, tag: str) -> None:
        """Read the journal anew."""
        entries = history(self._shop, tag, SHOWN) if tag else []
        now = self._shop.clock()
        lines = [f"{weekday(e.at, now)}  {brief(e.sentence)}" for e in entries]
        for place, label in enumerate(self._lines):
            label.setText(lines[place] if place < len(lines) else "")
        back, forth = last_change(self._shop), next_redo(self._shop)
        self.undo_button.setEnabled(back is not None)
        self.undo_button.setToolTip(f"Takes back: {back.sentence}" if back else "Nothing to undo")
        self.redo_button.setEnabled(forth is not None)
        self.redo_button.setToolTip(f"Does again: {forth.sentence}" if forth else "Nothing to redo")

    def text(self) -> str:
        """What is shown, a line each."""
        return "\n".join(label.text() for label in self._lines if label.text())
