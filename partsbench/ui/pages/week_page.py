"""The Week: when what is done and how good that is, the lanes of the shop, and what if."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QProgressBar, QVBoxLayout, QWidget

from partsbench import files
from partsbench.core import shown_times
from partsbench.core.outcomes import Done, Refused
from partsbench.services.acts.bench import look
from partsbench.services.plan import out
from partsbench.services.plan.plans import PlanShown
from partsbench.services.plan.week import week_of
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui.bench.controls import KeyButton, words
from partsbench.ui.big_word import BigWord
from partsbench.ui.dialogs.lines import Lines
from partsbench.ui.pages.page import Page
from partsbench.ui.planner import PlanFound, ShopPlanner
from partsbench.ui.theme import grown, words_at
from partsbench.ui.week.week_view import ARROW_KEYS, WeekView

READ_FROM_M = 2.0
MINUTE_MS = 60_000
SENTENCE_PX, NEXT_PX, THEN_PX, SAID_PX = 38, 66, 38, 88
"""What is next is read from two metres; when all is done, from the bench."""
NO_PLAN_YET = "The plan of the shop is being made."
ARROWS = "The arrow keys go from stretch to stretch, and what is done in it stands below."


class WeekPage(Page):
    """A scan shows how its part stands and records nothing."""

    shows_plan = True

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.shown: PlanShown | None = None
        self.lost: tuple[str, ...] = ()
        self.sure: tuple[str, ...] = ()
        self.tonight = self.moved_words = ""
        self._drawn: PlanShown | None = None
        left = Qt.AlignmentFlag.AlignLeft
        self.sentence = BigWord(NO_PLAN_YET, most=words_at(READ_FROM_M) * 0.6, align=left)
        self.sentence.setObjectName("week-sentence")
        self.next = BigWord(most=words_at(READ_FROM_M), align=left, role="accent")
        self.next.setObjectName("week-next")
        self.then = BigWord(most=words_at(READ_FROM_M) * 0.6, align=left)
        self.then.setObjectName("week-then")
        self.moved = words(0.2, bold=True, name="week-changed")
        self.view = WeekView()
        self.told = words(0.3, name="week-told")
        self.said = Lines("week-said", "When each piece is done, what is promised, what is held")
        self.progress = QProgressBar()
        self.stop = KeyButton("Stop looking", "Esc", self.on_stop_asked, name="week-stop")
        self.what_if = KeyButton("What if…", "1", self.on_what_if_asked, name="week-what-if")
        self.calendar = KeyButton("Calendar…", "2", self.on_calendar_asked, name="week-calendar")
        self.table = KeyButton("Table…", "3", self.on_table_asked, name="week-table")
        self.print = KeyButton("Print…", "4", self.on_print_asked, name="week-print")
        self._minute = QTimer(self, interval=MINUTE_MS)
        self.keys = self._keys()
        self._build()
        self._connect()

    def _build(self) -> None:
        self.sentence.setFixedHeight(SENTENCE_PX)
        self.next.setFixedHeight(NEXT_PX)
        self.then.setFixedHeight(THEN_PX)
        self.said.setMinimumHeight(grown(SAID_PX // 2))
        self.said.setMaximumHeight(grown(SAID_PX))
        whole = QVBoxLayout(self)
        whole.setContentsMargins(18, 6, 18, 6)
        whole.setSpacing(4)
        for widget in (self.next, self.then, self.sentence, self.moved):
            whole.addWidget(widget)
        whole.addWidget(self.view, 1)
        whole.addWidget(self.told)
        whole.addWidget(self.said)
        foot = QHBoxLayout()
        self.progress.setObjectName("week-progress")
        self.progress.setAccessibleName("Looking for a better plan")
        self.progress.setRange(0, 100)
        self.progress.setFormat("Looking for a better plan")
        foot.addWidget(self.progress, 1)
        foot.addWidget(self.stop)
        foot.addStretch(1)
        for button in (self.what_if, self.calendar, self.table, self.print):
            foot.addWidget(button)
        whole.addLayout(foot)
        self.on_busy_changed(False)
        self._show()

    def _connect(self) -> None:
        self.view.chosen.connect(self.on_span_chosen)
        self._minute.timeout.connect(self.refresh)

    def plan_with(self, planner: ShopPlanner) -> None:
        super().plan_with(planner)
        planner.found.connect(self.on_plan_found)
        planner.progressed.connect(self.on_progressed)
        planner.busy_changed.connect(self.on_busy_changed)
        self.on_busy_changed(planner.busy)

    def _keys(self) -> dict[int, Callable[[], None]]:
        key = Qt.Key
        return {
            key.Key_Escape: self.on_stop_asked,
            key.Key_1: self.on_what_if_asked,
            key.Key_2: self.on_calendar_asked,
            key.Key_3: self.on_table_asked,
            key.Key_4: self.on_print_asked,
            **{each: partial(self.view.go, each) for each in ARROW_KEYS},
        }

    # Showing

    def refresh(self) -> None:
        if self.isVisible():
            self.planner.ask()

    def scanned(self, text: str) -> None:
        self.answered.emit(look(self.shop, text, here=self.tag))

    def on_plan_found(self, found: PlanFound) -> None:
        """Each is taken, so that no page tells an older plan than another; what is not seen is
        not drawn."""
        if self.shown is not found.shown:
            self.shown, self.lost, self.sure = found.shown, found.lost, found.sure
            self.moved_words = found.moved
            self.tonight = found.tonight.sentence if found.tonight else ""
            if self.isVisible():
                self._show()

    def _show(self) -> None:
        shown = self._drawn = self.shown
        if shown is None:
            self.view.show_week(None)
            return
        week = week_of(shown)
        self.sentence.show_text(shown.sentence)
        self.next.show_text(week.next_act)
        self.next.setVisible(bool(week.next_act))
        self.then.show_text(week.then)
        self.then.setVisible(bool(week.then))
        self.moved.setText(self.moved_words)
        self.moved.setVisible(bool(self.moved_words))
        self.view.show_week(week)

    def on_span_chosen(self) -> None:
        """What is chosen stands in the list, act by act; else what is to be said of the plan."""
        lane, span, shown = self.view.lane, self.view.span, self.shown
        if shown is None:
            lines: list[str] = []
            self.told.setText("")
        elif lane is None or span is None:
            tonight = (self.tonight,) if self.tonight else ()
            lines = [*self.lost, *tonight, *shown.sentences, *self.sure]
            # What moved is worth the room of a hint.
            self.told.setText(ARROWS if shown.shop.stints and not self.moved_words else "")
            self.told.setVisible(bool(self.told.text()))
        else:
            lines = list(span.sentences)
            since, until = (shown_times.weekday(t, shown.at) for t in (span.starts, span.ends))
            self.told.setText(f"{lane.name}, {since} to {until}: {', '.join(span.of)}")
            self.told.show()
        self.said.show_lines(lines)
        self.said.setVisible(bool(lines))

    def on_progressed(self, share: float) -> None:
        self.progress.setValue(round(share * 100))

    def on_busy_changed(self, busy: bool) -> None:
        self.progress.setVisible(busy)
        self.stop.setVisible(busy)
        self.progress.setValue(0)

    def on_stop_asked(self) -> None:
        """Esc first stops the search, then chooses nothing."""
        if self.planner.busy:
            self.planner.stop()
        else:
            self.view.choose_none()

    # Going on from it

    def on_what_if_asked(self) -> None:
        from partsbench.ui.dialogs.what_if_dialog import WhatIfDialog

        if self._planned():
            self.planner.stop()
            WhatIfDialog(self.shop, self).open()

    def on_calendar_asked(self) -> None:
        if shown := self._planned():
            self._write(out.calendar(shown), "Save the plan as a calendar", "week.ics")

    def on_table_asked(self) -> None:
        if shown := self._planned():
            # Spreadsheets take a table for the machine's own letters unless the file says so.
            data = out.table(shown).encode("utf-8-sig")
            self._write(data, "Save the plan as a table", "week.csv")

    def on_print_asked(self) -> None:
        if shown := self._planned():
            self.print_dialog(shown).open()

    def print_dialog(self, shown: PlanShown) -> QDialog:
        """The week of that plan on one sheet, ready to be opened."""
        from partsbench.ui.dialogs.paper_dialogs import WeekDialog

        made = WeekDialog(self.shop, self.tag, shown, self.lost, self)
        made.settled.connect(self.answered)
        return made

    def _planned(self) -> PlanShown | None:
        """The plan that there is something in; None, and why, where there is none."""
        if self.shown is not None and self.shown.shop.stints:
            return self.shown
        self.answered.emit(Refused(self.shown.sentence if self.shown else NO_PLAN_YET))
        return None

    def _write(self, data: bytes, title: str, name: str) -> None:
        target = asking.ask_new_file(self, title, name)
        if target is None:
            return
        fault = files.write(target, data)
        self.answered.emit(fault or Done(f"Written: {target}."))

    # Qt

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._minute.start()
        self.planner.ask()
        if self._drawn is not self.shown:
            self._show()

    def hideEvent(self, event: QHideEvent) -> None:
        self._minute.stop()
        super().hideEvent(event)
