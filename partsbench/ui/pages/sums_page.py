"""Sums: a decision chosen at the left, its answer as a sentence, and what would answer better."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QListView,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.outcomes import Done, Refused
from partsbench.core.said_often import CHOOSE_A_PIECE
from partsbench.core.sums.units import Measures
from partsbench.services.known.identify import KnownLabel
from partsbench.services.shop import Shop
from partsbench.services.sums import drill
from partsbench.services.sums.asked.description import SumEntry, SumQuestion, Values
from partsbench.services.sums.asked.hardware import where_to_drill
from partsbench.services.sums.habits import habits, set_habit
from partsbench.ui.pages.page import Page
from partsbench.ui.sums.forms import EntryForm, Fields
from partsbench.ui.sums.table import AT_THE_BENCH, DECISIONS, OF_THE_PIECE, find
from partsbench.ui.sums.told_model import DecisionModel
from partsbench.ui.sums.told_view import ToldView
from partsbench.ui.theme import grown, sized

if TYPE_CHECKING:
    from partsbench.ui.dialogs.print_dialog import PrintDialog

LIST_WIDTH = 190
NARROW = 760
"""px; less than this is too little for the list of decisions beside an answer."""
UNIT_WORDS = {Measures.METRIC: "mm, °C, ml", Measures.US: "inches, °F, fl oz"}


class SumsPage(Page):
    """Answers anew at each letter typed; nothing is kept but what is noted by its button."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setObjectName("sums-page")
        self.decision: SumQuestion = DECISIONS[0]
        self.typed: dict[str, dict[str, str]] = {}
        """What stands in the fields of each decision that was looked at."""
        self.fields = Fields(())
        self.forms: list[EntryForm] = []
        self._sheet_scanned = ""
        self.list = QListView(self)
        self.model = DecisionModel(
            (("THE PIECE AT WORK", OF_THE_PIECE), ("AT THE BENCH", AT_THE_BENCH)), self
        )
        self.chooser = QComboBox(self)
        self.question = QLabel(self)
        self.units = QComboBox(self)
        self.told = ToldView(self)
        self.write = QPushButton("Print the sheet…", self)
        self._body = QWidget()
        self._column = QVBoxLayout(self._body)
        self._arrange()
        self._choose(self.decision)

    # The page as the window uses it

    def refresh(self) -> None:
        now = list(Measures).index(habits(self.shop).measures)
        self.units.blockSignals(True)
        self.units.setCurrentIndex(now)
        self.units.blockSignals(False)
        self._show_examples()
        self._answer()

    def scanned(self, text: str) -> None:
        """At a drilling sheet: the sheet, then the front. Else the part goes into a field."""
        if self.decision.sheet and not self._sheet_scanned:
            drawn = drill.sheet_front(self.shop, text, self.tag)
            if not isinstance(drawn, KnownLabel):
                self.answered.emit(drawn)
                return
            self._sheet_scanned = text
            self.answered.emit("The sheet is read; now scan the label on the front itself.")
        elif self.decision.sheet:
            sheet, self._sheet_scanned = self._sheet_scanned, ""
            self.answered.emit(drill.right_front(self.shop, sheet, text, self.tag))
        else:
            self._put_part(text)

    def saved_state(self) -> dict[str, str]:
        self.typed[self.decision.key] = self.fields.values()
        return {"decision": self.decision.key, "typed": json.dumps(self.typed)}

    def restore_state(self, state: dict[str, str]) -> None:
        try:
            typed = json.loads(state.get("typed", "{}"))
        except json.JSONDecodeError:
            typed = {}
        self.typed = {
            key: {k: str(v) for k, v in values.items()}
            for key, values in (typed.items() if isinstance(typed, dict) else ())
            if isinstance(values, dict)
        }
        self.fields.clear()
        self.show_decision(state.get("decision", ""))

    def show_decision(self, key: str) -> None:
        """Bring one decision up by its key."""
        self.list.setCurrentIndex(self.model.index(self.model.row_of(key)))
        self._choose(find(DECISIONS, key))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Where it is narrow the list of decisions becomes one field."""
        super().resizeEvent(event)
        narrow = event.size().width() < NARROW
        self.list.setVisible(not narrow)
        self.chooser.setVisible(narrow)

    # What happened

    def on_decision_picked(self, place: int) -> None:
        self.show_decision(DECISIONS[place].key)

    def on_decision_changed(self, now: QModelIndex, _before: QModelIndex) -> None:
        decision = self.model.decision(now.row())
        if decision is not None and decision is not self.decision:
            self._choose(decision)

    def on_asks_edited(self) -> None:
        self._answer()

    def on_entry_noted(self, entry: SumEntry, values: Values) -> None:
        if not self.tag and self.decision.of_piece:
            self.answered.emit(Refused(CHOOSE_A_PIECE))
            return
        done = entry.note(self.shop, self.tag, values)
        self.answered.emit(done)
        if isinstance(done, Done):
            for form in self.forms:
                if form.entry is entry:
                    form.fields.clear()
                    form.show_kept(self.shop)
            self._answer()
            self.changed.emit()

    def on_units_chosen(self, place: int) -> None:
        self.answered.emit(set_habit(self.shop, "units", list(Measures)[place].value))
        self._show_examples()
        self._answer()
        self.changed.emit()

    def on_write_asked(self) -> None:
        found = where_to_drill(self.shop, self.tag, self.fields.values())
        if isinstance(found, Refused):
            self.answered.emit(found)
            return
        self.drill_dialog(found).open()

    def drill_dialog(self, found: drill.Drilling) -> PrintDialog:
        """The sheet as it will come out."""
        from partsbench.ui.dialogs.paper_dialogs import DrillDialog

        made = DrillDialog(self.shop, self.tag, found, self)
        made.settled.connect(self.answered)
        return made

    # Inside

    def _choose(self, decision: SumQuestion) -> None:
        if self.decision is not decision:
            self.typed[self.decision.key] = self.fields.values()
        self.decision = decision
        self.chooser.setCurrentIndex(DECISIONS.index(decision))
        self._sheet_scanned = ""
        self.question.setText(decision.question)
        self.write.setVisible(decision.sheet)
        self._set_fields(decision)
        self._set_forms(decision)
        self._show_examples()
        self._answer()

    def _show_examples(self) -> None:
        for fields in (self.fields, *(form.fields for form in self.forms)):
            fields.show_examples(habits(self.shop).measures)

    def _set_fields(self, decision: SumQuestion) -> None:
        fresh = Fields(decision.asks, self._body)
        fresh.setObjectName("asks")
        fresh.fill(self.typed.get(decision.key, {}))
        fresh.edited.connect(self.on_asks_edited)
        self._column.replaceWidget(self.fields, fresh)
        self.fields.hide()
        self.fields.deleteLater()
        self.fields = fresh
        fresh.setVisible(bool(decision.asks))

    def _set_forms(self, decision: SumQuestion) -> None:
        for form in self.forms:
            self._column.removeWidget(form)
            form.hide()
            form.deleteLater()
        self.forms = [EntryForm(entry, self._body) for entry in decision.entries]
        for form in self.forms:
            form.noted.connect(self.on_entry_noted)
            form.show_kept(self.shop)
            self._column.insertWidget(self._column.count() - 1, form)
        self._entries.setVisible(bool(self.forms))

    def _answer(self) -> None:
        if self.decision.of_piece and not self.tag:
            self.told.show_told(Refused("Choose a piece first: this is about the piece at work."))
            return
        typed = self.fields.values()
        needed = not self.decision.of_piece and self.decision.asks
        if needed and not any(typed[a.key] for a in self.decision.asks if not a.choices):
            self.told.show_told(Refused("Type what you know; the answer comes as you type."))
            return
        self.told.show_told(self.decision.answer(self.shop, self.tag, typed))

    def _put_part(self, text: str) -> None:
        """A scanned part of this piece goes where a part is asked for."""
        from partsbench.services.known.identify import KnownLabel, identify

        known = identify(self.shop, text, self.tag)
        if not isinstance(known, KnownLabel):
            self.answered.emit(known)
            return
        name = known.part.short if known.part else f"H{known.home}"
        for fields in (self.fields, *(form.fields for form in self.forms)):
            for key in ("part", "drawer", "of"):
                if key in fields.fields:
                    fields.fill({key: name})
                    self.answered.emit(f"{name} goes into the field “{_label(fields, key)}”.")
                    return
        self.answered.emit(f"{name} is not asked for here.")

    def _arrange(self) -> None:
        self.list.setObjectName("decisions")
        self.list.setAccessibleName("Decisions")
        self.list.setModel(self.model)
        self.list.setFixedWidth(grown(LIST_WIDTH))
        self.list.setFrameShape(QFrame.Shape.NoFrame)
        self.list.setSpacing(1)
        self.list.setCurrentIndex(self.model.index(self.model.row_of(self.decision.key)))
        self.list.selectionModel().currentChanged.connect(self.on_decision_changed)
        self.chooser.setObjectName("decision")
        self.chooser.setAccessibleName("Decision")
        self.chooser.addItems([decision.title for decision in DECISIONS])
        self.chooser.activated.connect(self.on_decision_picked)
        self.question.setObjectName("question")
        self.question.setFont(sized(0.5))
        self.question.setWordWrap(True)
        self.units.setObjectName("units")
        self.units.setAccessibleName("Units")
        self.units.addItems([UNIT_WORDS[m] for m in Measures])
        self.units.activated.connect(self.on_units_chosen)
        self.write.setObjectName("write-sheet")
        self.write.setMinimumHeight(grown(36))
        self.write.clicked.connect(self.on_write_asked)
        self._entries = QLabel("What you know", self._body)
        self._entries.setFont(sized(0.5, bold=True))
        self._arrange_body()
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 12, 12, 12)
        row.setSpacing(16)
        row.addWidget(self.list)
        row.addWidget(self._scroller(), 1)
        self.setFocusProxy(self.list)

    def _arrange_body(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.question, 1)
        head.addWidget(self.units)
        self._column.setContentsMargins(0, 0, 12, 0)
        self._column.setSpacing(8)
        self._column.addWidget(self.chooser)
        self._column.addLayout(head)
        for widget in (self.fields, self.told, self.write, self._entries):
            self._column.addWidget(widget)
        self._column.addStretch(1)

    def _scroller(self) -> QScrollArea:
        scroller = QScrollArea(self)
        scroller.setWidget(self._body)
        scroller.setWidgetResizable(True)
        scroller.setFrameShape(QFrame.Shape.NoFrame)
        scroller.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        return scroller


def _label(fields: Fields, key: str) -> str:
    return fields.fields[key].accessibleName()
