"""After a cut of power: the last record that is there, and the question what was done since."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QWidget

from partsbench.core.shown_times import time_of_day
from partsbench.core.wording import sentences
from partsbench.services.acts.history import history
from partsbench.services.books import restart
from partsbench.services.books.restart import TimeGap
from partsbench.services.known import climate
from partsbench.services.shop import Shop
from partsbench.ui.bench.controls import words
from partsbench.ui.theme import grown

NOTHING = "Nothing"
SOMETHING = "Something: I record it with its time"
COLD = "Nothing, and heater or fan stood still"


class RestartBar(QFrame):
    """Stands above the page until it is answered; work can go on meanwhile."""

    answered = Signal(object)
    bench_asked = Signal()

    def __init__(self, shop: Shop, gap: TimeGap, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shop = shop
        self._gap = gap
        self.setObjectName("restart-bar")
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.question = words(0.6, bold=True, name="restart-question")
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 6, 14, 6)
        row.addWidget(self.question, 1)
        for text, name, pressed in (
            (NOTHING, "restart-nothing", self.on_nothing_pressed),
            (SOMETHING, "restart-something", self.on_something_pressed),
            (COLD, "restart-cold", self.on_cold_pressed),
        ):
            button = QPushButton(text)
            button.setObjectName(name)
            button.setAutoDefault(True)
            button.setMinimumHeight(grown(34))
            button.clicked.connect(pressed)
            row.addWidget(button)
        newest = history(self._shop, limit=1)
        last = f"Last in the book, {time_of_day(newest[0].at, gap[1])}: {newest[0].sentence}." \
            if newest else ""  # fmt: skip
        self.question.setText(sentences(last, restart.restart_words(gap)))

    def on_nothing_pressed(self) -> None:
        self._answer("nothing")

    def on_something_pressed(self) -> None:
        self._answer("recorded with its time")
        self.bench_asked.emit()

    def on_cold_pressed(self) -> None:
        """The waits that ran meanwhile are lengthened by the gap."""
        self.answered.emit(climate.note_power_cut(self._shop, *self._gap, heating=True))
        self._answer("nothing")

    def _answer(self, said: str) -> None:
        self.answered.emit(restart.answer_restart(self._shop, said))
        self.hide()
        self.deleteLater()
