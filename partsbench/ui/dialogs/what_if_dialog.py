"""What if: a helper, an evening off, a piece more, a longer wait; the new dates beside the old."""

from __future__ import annotations

from dataclasses import dataclass, replace
from threading import Event

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from partsbench.core.outcomes import Refused
from partsbench.core.plan.what_if import Compared, compared
from partsbench.core.plan.words import difference, short
from partsbench.core.wording import capital
from partsbench.services.plan import asking, plans
from partsbench.services.plan.plans import PlanShown
from partsbench.services.plan.reading import in_hand
from partsbench.services.shop import Shop
from partsbench.ui.bench.controls import words
from partsbench.ui.dialogs.later import Later
from partsbench.ui.dialogs.lines import typed_or_chosen
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import labelled, quiet
from partsbench.ui.theme import sized

SECONDS = plans.SECONDS / 2
COLUMNS = ("Piece", "As it is", "Then", "")
OFFERED = ("off tonight", "helper Wren: Sat 9:00 to 13:00", "off Sat", "wait clear_water 24 h")
NOTHING_KEPT = "It is only asked: nothing is noted, and the plan stays."


@dataclass(frozen=True, slots=True)
class _Both:
    """The plan as things are and as they would be."""

    words: str
    now: PlanShown
    then: PlanShown


class WhatIfDialog(ShopDialog):
    """One field; a line for each piece with both dates."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, "", parent, name="what-if-dialog", title="What if")
        self.field = typed_or_chosen("what-if-field", "What if", OFFERED)
        self.sentence = words(0.8, bold=True, name="what-if-sentence")
        self.table = QTableWidget(0, len(COLUMNS))
        self._arrange()
        self.content.addLayout(labelled("What if", self.field))
        self.content.addWidget(self.sentence)
        self.content.addWidget(self.table, 1)
        self.content.addWidget(quiet(NOTHING_KEPT))
        self.ask = self.add_button("Ask", "what-if-ask", self.on_ask_pressed)
        edit = self.field.lineEdit()
        assert edit is not None
        edit.returnPressed.connect(self.on_ask_pressed)
        self._later = Later(self)
        self._later.ended.connect(self.on_ended)
        self._over = Event()
        self.finished.connect(self.on_finished)
        self.resize(760, 460)
        self.field.setFocus()

    def _arrange(self) -> None:
        self.table.setObjectName("what-if-dates")
        self.table.setAccessibleName("The dates as they are and as they would be")
        self.table.setHorizontalHeaderLabels(list(COLUMNS))
        self.table.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        self.table.setTabKeyNavigation(False)
        self.table.setFont(sized(0.6))
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)

    def refresh(self) -> None:
        """Nothing of the book is shown but what was asked for."""

    def on_ask_pressed(self) -> None:
        now = self.shop.clock()
        question = asking.question(self.shop, self.field.currentText(), now)
        if isinstance(question, Refused):
            self.say(question.sentence, fault=True)
            return
        usual = in_hand(self.shop, now)
        other = in_hand(self.shop, now, (), question.assumed)
        other = replace(other, shop=question.change(other.shop))
        said = capital(question.words)
        self.say("It is being reckoned.")
        self._later.start(
            lambda: _Both(
                said,
                plans.planned(usual, SECONDS, stop=self._over.is_set),
                plans.planned(other, SECONDS, stop=self._over.is_set),
            )
        )

    def on_ended(self, both: object) -> None:
        assert isinstance(both, _Both)
        self.say("")
        self.sentence.setText(f"{both.words}: {both.then.sentence}")
        rows = compared(both.now.ends, both.then.ends)
        self.table.setRowCount(len(rows))
        for n, row in enumerate(rows):
            for m, text in enumerate(_cells(both, row)):
                item = QTableWidgetItem(text)
                item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{COLUMNS[m]}: {text}")
                self.table.setItem(n, m, item)

    def on_finished(self) -> None:
        self._over.set()
        self._later.wait()


def _cells(both: _Both, row: Compared) -> tuple[str, str, str, str]:
    now = short(both.now.at, row.now) if row.now is not None else ""
    then = short(both.then.at, row.then) if row.then is not None else ""
    change = ""
    if row.now is not None and row.then is not None:
        change = difference(row.now, row.then)
    return both.then.shop.title(row.piece), now, then, change
