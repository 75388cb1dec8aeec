"""The Day: one sentence of what to do now and why, today's work, the ribbon, what is left open."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, Qt, QTimer
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from partsbench.core.finish.hands import Hands
from partsbench.core.finish.loads import behind_words
from partsbench.core.finish.loops import Loop
from partsbench.core.naming import few
from partsbench.core.outcomes import Answer, Done, Outcome
from partsbench.services.acts.bench import look
from partsbench.services.acts.ending import Ending, end
from partsbench.services.known.clock_doubt import clock_words
from partsbench.services.rules.clocks import clocks_of
from partsbench.services.shop import Shop
from partsbench.services.shown import day as days
from partsbench.services.shown.ribbon import ribbon
from partsbench.ui.bench.controls import KeyButton, words
from partsbench.ui.big_word import BigWord
from partsbench.ui.day.choices import HandsChoices
from partsbench.ui.day.day_model import DayModel, lines_of, lines_of_part
from partsbench.ui.day.day_table import DayTable
from partsbench.ui.day.loops_panel import LoopsPanel
from partsbench.ui.day.ribbon_view import RibbonView
from partsbench.ui.empty_hint import EmptyHint
from partsbench.ui.pages.page import Page
from partsbench.ui.theme import grown, words_at

if TYPE_CHECKING:
    from partsbench.ui.planner import PlanFound, ShopPlanner

READ_FROM_M = 2.0
SIDE = 196
MINUTE_MS = 60_000
MOST_STRAGGLERS = 6
NOTHING = "Nothing may be done and nothing waits: what has a finish path and is begun stands here."


class DayPage(Page):
    """A scan shows the clocks of its part and records nothing."""

    shows_plan = True

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.keys = self._keys()
        left = Qt.AlignmentFlag.AlignLeft
        self.sentence = BigWord(most=words_at(READ_FROM_M) * 1.35, align=left)
        self.sentence.setObjectName("day-sentence")
        self.because = words(0.8, name="day-because")
        self.said = words(0.4, bold=True, name="day-said")
        self.tonight = words(0.6, bold=True, name="day-tonight")
        self.choices = HandsChoices()
        self.ribbon = RibbonView()
        self.loops = LoopsPanel()
        self.stragglers = words(0, name="stragglers")
        self.model = DayModel(self)
        self.table = DayTable(self.model)
        EmptyHint(self.table, NOTHING)
        self.all_clocks = KeyButton("All clocks", "Esc", self.on_all_asked, name="all-clocks")
        self.sheet = QPushButton("Print day sheet…")
        self.today: days.Day | None = None
        self._part: tuple[str, str] = ("", "")
        self._followed: PlanFound | None = None
        self._minute = QTimer(self, interval=MINUTE_MS)
        self._build()
        self._connect()

    # Building

    def _build(self) -> None:
        whole = QVBoxLayout(self)
        whole.setContentsMargins(18, 12, 18, 10)
        whole.setSpacing(8)
        self.sentence.setMinimumHeight(62)
        whole.addWidget(self.sentence, 2)
        for label in (self.because, self.said):
            whole.addWidget(label)
        whole.addWidget(self.choices)
        whole.addWidget(self.table, 6)
        across = QHBoxLayout()
        across.setSpacing(16)
        self.loops.setFixedWidth(grown(SIDE))
        across.addWidget(self.loops)
        across.addWidget(self.ribbon, 1, Qt.AlignmentFlag.AlignTop)
        across.addWidget(self._behind())
        whole.addLayout(across)
        foot = QHBoxLayout()
        foot.addWidget(self.tonight, 1)
        stays = self.tonight.sizePolicy()
        stays.setRetainSizeWhenHidden(True)  # else the buttons take its room
        self.tonight.setSizePolicy(stays)
        foot.addWidget(self.all_clocks)
        self.load = QPushButton("Next load…")
        self.load.setObjectName("to-load")
        self.sheet.setObjectName("day-sheet")
        for button in (self.load, self.sheet):
            button.setAutoDefault(True)
            button.setMinimumHeight(grown(34))
            foot.addWidget(button)
        whole.addLayout(foot)

    def _behind(self) -> QWidget:
        side = QWidget()
        side.setFixedWidth(grown(SIDE))
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        self.behind_title = words(0.4, bold=True, name="stragglers-title")
        column.addWidget(self.behind_title)
        column.addWidget(self.stragglers)
        column.addStretch(1)
        return side

    def _connect(self) -> None:
        self.choices.changed.connect(self.refresh)
        self.loops.ended.connect(self.on_loop_ended)
        self.loops.masks_asked.connect(self.on_masks_asked)
        self.table.activated.connect(self.on_line_activated)
        self.sheet.clicked.connect(self.on_sheet_asked)
        self.load.clicked.connect(self.on_load_asked)
        self._minute.timeout.connect(self.on_minute_passed)

    def plan_with(self, planner: ShopPlanner) -> None:
        super().plan_with(planner)
        planner.found.connect(self.on_plan_found)

    # Showing

    def refresh(self) -> None:
        self._show_day()
        if self.isVisible():
            self.planner.ask()

    def _show_day(self) -> None:
        today = days.day(self.shop, self.choices.minutes, self.choices.hands)
        self.today = today
        self.sentence.show_text(today.sentence)
        self._say(self.because, today.because)
        self._say(self.said, " ".join(filter(None, (clock_words(self.shop), *today.notes))))
        self.ribbon.show_ribbon(ribbon(today))
        self.loops.show_loops(today.loops, today.at)
        self._show_stragglers(today)
        self._show_lines(today)

    def _show_lines(self, today: days.Day) -> None:
        tag, short = self._part
        self.all_clocks.setVisible(bool(short))
        if short:
            lines = lines_of_part(tag, short, clocks_of(self.shop, tag), today.at)
        else:
            doable = {id(t.group) for t in today.tasks}
            told = [g for g in today.clocks if id(g) in doable or g.said.answer is not Answer.GO]
            lines = lines_of(told, today.at)
        self.model.show_lines(lines)

    def _show_stragglers(self, today: days.Day) -> None:
        told = behind_words(today.stragglers)
        self.behind_title.setText("A coat behind" if told else "Nobody is a coat behind")
        self._say(self.stragglers, "\n".join(few(told, MOST_STRAGGLERS)))

    def on_plan_found(self, found: PlanFound) -> None:
        """What is to be done first is what the plan has first."""
        self._say(self.tonight, found.tonight.sentence if found.tonight else "")
        if self.isVisible() and found is not self._followed:
            self._show_day()
        self._followed = found

    def on_minute_passed(self) -> None:
        if self.isVisible():
            self.refresh()

    def _say(self, label: QWidget, text: str) -> None:
        label.setText(text)  # type: ignore[attr-defined]
        label.setVisible(bool(text))

    # Scans

    def scanned(self, text: str) -> None:
        found = look(self.shop, text, here=self.tag)
        self.answered.emit(found)
        if found.part:
            self.show_part(found.tag, found.part)

    def show_part(self, tag: str, short: str) -> None:
        """The clocks of one part in the table; "" for all of them."""
        self._part = (tag, short)
        if self.today:
            self._show_lines(self.today)
        if short:
            self.table.selectRow(0)

    def on_all_asked(self) -> None:
        self.show_part("", "")
        self.setFocus()

    def on_line_activated(self, index: QModelIndex) -> None:
        line = self.model.lines[index.row()]
        if line.short:
            self.show_part(line.tag, line.short)

    # Doing

    def on_loop_ended(self, loop: Loop, ending: Ending) -> None:
        said = end(self.shop, loop, ending, days.in_hand(self.shop, self.shop.clock()))
        self.answered.emit(said)
        if isinstance(said, Done) or (isinstance(said, Outcome) and said.recorded):
            self.changed.emit()
        self.refresh()
        self.setFocus()

    def on_masks_asked(self) -> None:
        self.page_asked.emit("masks", self.tag)

    def on_sheet_asked(self) -> None:
        self.page_asked.emit("day-sheet", self.tag)

    def on_load_asked(self) -> None:
        behind = self.today.stragglers if self.today else ()
        tags = {g.piece.codename: g.tag for g in self.today.clocks} if self.today else {}
        tag = tags.get(behind[0][0], self.tag) if behind else self.tag
        self.page_asked.emit("load", tag)

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        return {"hands": self.choices.hands.value, "minutes": str(self.choices.time.value())}

    def restore_state(self, state: dict[str, str]) -> None:
        if state.get("hands") in set(Hands):
            self.choices.choose(Hands(state["hands"]))
        if state.get("minutes", "").isdecimal():
            self.choices.time.setValue(int(state["minutes"]))

    # Qt

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._minute.start()
        self.planner.ask()

    def hideEvent(self, event: QHideEvent) -> None:
        self._minute.stop()
        super().hideEvent(event)

    def _keys(self) -> dict[int, Callable[[], None]]:
        key = Qt.Key
        return {
            key.Key_1: self.on_clean_pressed,
            key.Key_2: self.on_dusty_pressed,
            key.Key_3: self.on_gloves_pressed,
            key.Key_Escape: self.on_all_asked,
        }

    def on_clean_pressed(self) -> None:
        self.choices.choose(Hands.CLEAN)

    def on_dusty_pressed(self) -> None:
        self.choices.choose(Hands.DUSTY)

    def on_gloves_pressed(self) -> None:
        self.choices.choose(Hands.GLOVES)
