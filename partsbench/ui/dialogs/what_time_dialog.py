"""What time it really was, where the computer's clock was wrong."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from partsbench.core.said_often import NO_TIME_IN_DOUBT
from partsbench.services.known.clock_doubt import AS_NOTED, clock_words, say_time, time_questions
from partsbench.services.shop import Shop
from partsbench.ui.bench.controls import words
from partsbench.ui.dialogs.lines import Lines, text_field
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import labelled, quiet

NOTHING = NO_TIME_IN_DOUBT
MOVES = (
    "Say when the last of these records was made. The others move by as much, since the clock ran "
    "on between them. It stands in the history and can be undone."
)


class WhatTimeDialog(ShopDialog):
    """What is in doubt, one line for each time that the clock was set, and a field for the time."""

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, name="what-time-dialog", title="What time was it")
        self.clock = words(0.3, bold=True, name="what-time-clock")
        self.questions = Lines("what-time-list", "Records in doubt", empty=NOTHING)
        self.time = text_field("what-time-field", "It was", "14:20, yesterday 14:20, 3 h ago")
        self.content.addWidget(self.clock)
        self.content.addWidget(self.questions, 1)
        self.content.addLayout(labelled("It was", self.time))
        self.content.addWidget(quiet(MOVES))
        self.said = self.add_button("That was the time", "what-time-said", self.on_time_said)
        self.right = self.add_button("It is right as noted", "what-time-right", self.on_right_said)
        self.questions.picked.connect(self.on_question_picked)
        self.time.returnPressed.connect(self.on_time_said)
        self.resize(640, 420)
        self.refresh()
        self.time.setFocus()

    def refresh(self) -> None:
        now = self.shop.clock()
        self._asked = time_questions(self.shop)
        fault = clock_words(self.shop)
        self.clock.setText(fault)
        self.clock.setVisible(bool(fault))
        self.questions.show_lines([q.sentence(now) for q in self._asked])
        if self._asked and self.questions.row() < 0:
            self.questions.choose(0)
        self.on_question_picked(self.questions.row())

    def on_question_picked(self, place: int) -> None:
        for button in (self.said, self.right):
            button.setEnabled(0 <= place < len(self._asked))

    def on_time_said(self) -> None:
        text = self.time.text().strip()
        if not text:
            self.say("Write the time first.", fault=True)
        elif self._say(text):
            self.time.clear()

    def on_right_said(self) -> None:
        self._say(AS_NOTED)

    def _say(self, text: str) -> bool:
        place = self.questions.row()
        if not 0 <= place < len(self._asked):
            return False
        return self.settle(say_time(self.shop, self._asked[place].last.id, text))
