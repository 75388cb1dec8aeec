"""What the Bench page shows: number, word, operation, drawing, lanes, buttons, records."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QSpinBox, QVBoxLayout, QWidget

from partsbench.core.bench.state import USUAL_IDLE
from partsbench.core.finish.steps import Step
from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Answer
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.said_often import at_work, only_the
from partsbench.core.shown_times import moment, time_of_day
from partsbench.core.wording import capital, clauses
from partsbench.services.acts.bench_words import holds_left
from partsbench.services.known.cautions import words as caution_words
from partsbench.services.rules.ready import ready
from partsbench.services.shop import Shop
from partsbench.ui.bench.ask import Ask
from partsbench.ui.bench.bench_map import BenchMap
from partsbench.ui.bench.caution_band import CautionBand
from partsbench.ui.bench.controls import KeyButton, MainKeyButton, keys_of, words
from partsbench.ui.bench.flow import Flow
from partsbench.ui.bench.lanes import Lanes
from partsbench.ui.bench.looks import named
from partsbench.ui.bench.ready_strip import ReadyStrip
from partsbench.ui.bench.records_strip import RecordsStrip
from partsbench.ui.bench.shout import Shout
from partsbench.ui.bench.stand import BenchStand
from partsbench.ui.bench.wording import (
    clock_words,
    look_of,
    own_word,
    said_briefly,
    wait_words,
)
from partsbench.ui.big_word import BigWord
from partsbench.ui.theme import grown, words_at

READ_FROM_M = 2.5
MOST_MINUTES = 120
HEAD_HEIGHT, STEP_HEIGHT, LOW_HEIGHT = 140, 56, 152
"""Px that number and word, step and figure, and what is below them have at least."""
SCAN_A_PART = "Scan a part"
NO_STEP = "There is no step to record."
LEFT = Qt.AlignmentFlag.AlignLeft


@dataclass(frozen=True, slots=True)
class BenchActs:
    """What the buttons of the bench do, and their keys."""

    record: Callable[[], None]
    skip: Callable[[], None]
    time: Callable[[], None]
    back: Callable[[], None]
    that_was: Callable[[], None]
    place: Callable[[], None]
    note: Callable[[], None]
    find: Callable[[], None]
    insist: Callable[[], None]
    old_finish: Callable[[], None]
    wet: Callable[[], None]
    keep: Callable[[], None]
    undo: Callable[[], None]
    redo: Callable[[], None]


class BenchBoard(QWidget):
    """The widgets of the page and what stands on them; the page decides what happens.

    `ask` is where the page puts its questions.
    """

    def __init__(self, shop: Shop, acts: BenchActs, ask: Ask) -> None:
        super().__init__()
        self._shop = shop
        at_distance = words_at(READ_FROM_M)
        self.number = BigWord(align=LEFT, most=at_distance * 4, whole=0.5)
        self.number.setObjectName("part-number")
        self.shout = Shout()
        self.operation = BigWord(align=LEFT, most=at_distance)
        self.operation.setObjectName("operation")
        self.figure = BigWord(most=at_distance * 1.6, align=Qt.AlignmentFlag.AlignRight)
        self.figure.setObjectName("figure")
        self.home = words(1.5, name="home-words")
        self.map = BenchMap(shop)
        self.view = self.map.view
        self.cautions = CautionBand()
        self.lanes = Lanes()
        self.ready = ReadyStrip()
        self.choices = StepChoices()
        self.minutes = QSpinBox()
        self.minutes.setRange(1, MOST_MINUTES)
        self.minutes.setValue(round(USUAL_IDLE / timedelta(minutes=1)))
        self.minutes.setSuffix(" min idle")
        self.minutes.setAccessibleName("A verb goes off after so many minutes idle")
        self.minutes.setMinimumHeight(grown(34))
        self.records = RecordsStrip(shop, acts.undo, acts.redo)
        self.buttons = ask.instead = QWidget()
        self.told, self.more = QWidget(), QWidget()
        self._make_buttons(acts)
        self._lay_out(ask)

    def _make_buttons(self, acts: BenchActs) -> None:
        self.record_button = MainKeyButton("Record", "Enter", acts.record, name="record")
        self.skip_button = KeyButton("Skip", "S", acts.skip)
        self.time_button = KeyButton("At a time", "A", acts.time)
        self.back_button = KeyButton("Send back", "B", acts.back)
        self.that_button = KeyButton("That was…", "T", acts.that_was)
        self.place_button = KeyButton("Put at", "P", acts.place)
        self.note_button = KeyButton("Note", "N", acts.note)
        self.find_button = KeyButton("Find", "F", acts.find)
        self.insist_button = KeyButton("Insist", "I", acts.insist)
        self.old_button = KeyButton("Old finish", "O", acts.old_finish)
        self.wet_button = KeyButton("Sanded wet", "W", acts.wet)
        self.wet_button.setCheckable(True)
        self.keep_button = KeyButton("Keep recording", "K", acts.keep)
        self.more_button = KeyButton("More", "M", self.on_more_pressed, name="more")
        self.keys = keys_of((
            self.record_button, self.skip_button, self.time_button, self.back_button,
            self.that_button, self.place_button, self.note_button, self.find_button,
            self.insist_button, self.old_button, self.wet_button, self.keep_button,
            self.more_button, self.records.undo_button, self.records.redo_button,
        ))  # fmt: skip

    def _lay_out(self, ask: Ask) -> None:
        """Number, word and front; the caution band; the step: none of them moves or shrinks when
        something opens below."""
        head = self._head = QHBoxLayout()
        head.setSpacing(18)
        head.addWidget(self.number, 2)
        head.addWidget(self.shout, 3)
        top = self.turning = QHBoxLayout()
        top.setSpacing(20)
        top.addLayout(head, 5)
        top.addWidget(self.map, 2)
        line = self._line = QHBoxLayout()
        line.addWidget(self.operation, 5)
        line.addWidget(self.figure, 2)
        for big in (self.number, self.shout):
            big.setMinimumHeight(HEAD_HEIGHT)
        for big in (self.operation, self.figure):
            big.setMinimumHeight(STEP_HEIGHT)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(16, 8, 18, 6)
        whole.setSpacing(8)
        whole.addLayout(top, 5)
        whole.addWidget(self.cautions)
        whole.addLayout(line, 2)
        low = QWidget()
        low.setMinimumHeight(grown(LOW_HEIGHT))
        under = QVBoxLayout(low)
        under.setContentsMargins(0, 0, 0, 0)
        under.addWidget(self.buttons)
        under.addWidget(ask)
        under.addStretch(1)
        whole.addWidget(low, 1)
        self._lay_out_low()

    def _lay_out_low(self) -> None:
        """What is said about the part, or all that is rarely wanted; below it the small acts."""
        told = QVBoxLayout(self.told)
        more = QVBoxLayout(self.more)
        for column in (told, more):
            column.setContentsMargins(0, 0, 0, 0)
            column.setSpacing(6)
        for widget in (self.home, self.lanes, self.ready):
            told.addWidget(widget)
        told.addStretch(1)
        more.addWidget(self.choices)
        rare = QWidget()
        flow = Flow(rare)
        for button in (
            self.time_button, self.that_button, self.find_button, self.keep_button, self.minutes,
            self.records.undo_button, self.records.redo_button,
        ):  # fmt: skip
            flow.addWidget(button)
        more.addWidget(rare)
        more.addWidget(self.records)
        more.addStretch(1)
        row = QHBoxLayout()
        row.addWidget(self.record_button, 2)
        acts = QWidget()
        small = Flow(acts)
        for button in (
            self.old_button, self.wet_button, self.insist_button, self.skip_button,
            self.back_button, self.place_button, self.note_button, self.more_button,
        ):  # fmt: skip
            small.addWidget(button)
        row.addWidget(acts, 5)
        whole = QVBoxLayout(self.buttons)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.told)
        whole.addWidget(self.more)
        whole.addLayout(row)
        self.more.hide()

    def on_more_pressed(self) -> None:
        self.show_more(not self.more.isVisible())
        self.cautions.show_all(self.more.isVisible())

    def show_more(self, on: bool) -> None:
        """All that is rarely wanted, in the place of what is said about the part, or that again."""
        self.more.setVisible(on)
        self.told.setVisible(not on)
        self.more_button.show_words("Less" if on else "More")

    # What is shown

    def show_stand(self, stand: BenchStand) -> None:
        """Show a part, or that none was scanned yet."""
        state = stand.state
        self.map.show_part(stand.piece, stand.short)
        self.lanes.show_part(state, stand.face)
        lane = stand.lane if state else ()
        # What has dried is not yet what may be sanded: no tick beside the question about lead.
        told = ready(self._shop, lane, stand.now) if lane and not stand.asks_old_finish else ()
        self.ready.show_ready(told, stand.now)
        self.choices.show_steps(stand.options, stand.step, stand.face)
        self.keep_button.show_words("End keep recording" if stand.bench.keeps else "Keep recording")
        self.records.show_piece(stand.piece.tag if stand.piece else "")
        self._show_number(stand)
        self._show_word(stand)
        self._show_operation(stand)
        self.home.setText(_home_line(stand))
        self._show_cautions(stand)
        self._enable(stand)

    def _show_number(self, stand: BenchStand) -> None:
        short = stand.short
        if not short and stand.outcome:
            home = stand.outcome.home
            short = stand.outcome.part or (short_number(Family.HOME, home) if home else "?")
        self.number.show_text(short or SCAN_A_PART)
        way = QBoxLayout.Direction
        self._head.setDirection(way.LeftToRight if short else way.TopToBottom)
        for place, share in enumerate((2, 3) if short else (3, 2)):
            self._head.setStretch(place, share)
        # One over the other they share the room that each has beside the other.
        high = HEAD_HEIGHT if short else (HEAD_HEIGHT - self._head.spacing()) // 2
        for big in (self.number, self.shout):
            big.setMinimumHeight(high)

    def _show_word(self, stand: BenchStand) -> None:
        outcome = stand.outcome
        if outcome is None or outcome.planless:
            self.shout.show_answer(None, NO_STEP if outcome else stand.scans)
            return
        line = ""
        if outcome.unconfirmed:
            line = "if so, scan it again"
        elif outcome.recorded:
            line = f"recorded {clock_words(outcome.done_at, stand.now)}".strip()
        elif stand.held and stand.bench.hand.lifted:
            line = ": ".join(holds_left(len(outcome.holds)))
        elif stand.bench.verb and stand.short:
            line = ""
        elif stand.armed:
            line = "scan again to record"
        elif stand.may_be_done:
            line = "scan twice to record"
        self.shout.show_answer(look_of(outcome), line, word=own_word(outcome))

    def _show_operation(self, stand: BenchStand) -> None:
        outcome, step, now = stand.outcome, stand.step, stand.now
        figure = str(step.grit) if step and step.grit else ""
        if outcome and outcome.unconfirmed:
            self.operation.show_text(" ".join(outcome.checks))
        elif outcome and (stand.state is None or outcome.recorded):
            self.operation.show_text(said_briefly(outcome))
            figure = figure if outcome.then in (None, Answer.GO) else ""
        elif outcome and outcome.answer is not Answer.GO:
            self.operation.show_text(outcome.step_name or outcome.sentence)
            figure = wait_words(outcome, now)
        elif stand.state:
            self.operation.show_text(step.name if step else capital(stand.state.status))
            if outcome and outcome.until and outcome.step == (step.key if step else ""):
                figure = wait_words(outcome, now, "by")
        else:
            self.operation.show_text("")
        self.figure.show_text(figure)
        self._line.setStretch(1, 4 if " " in figure else 1)
        self.figure.setVisible(bool(figure))

    def _show_cautions(self, stand: BenchStand) -> None:
        """What has to be so before the step, each time it is asked; each caution the first time in
        a session that a part comes to its step; then what the path says of it."""
        outcome = stand.outcome
        if outcome is None:
            self.cautions.show_text("")
            return
        checks = () if outcome.recorded else outcome.checks
        asked = f"Is this so? {' '.join(checks)}" if checks else ""
        said = (asked, *caution_words(outcome.cautions), outcome.note)
        self.cautions.show_text("  ".join(filter(None, said)))

    def _enable(self, stand: BenchStand) -> None:
        self._name_main_button(stand)
        self.insist_button.setVisible(stand.held)
        self.old_button.setVisible(stand.asks_old_finish)
        self.wet_button.setVisible(stand.sands)
        self.wet_button.setChecked(stand.wet)
        self.skip_button.setEnabled(any(s.optional for s in stand.options))
        for button in (self.back_button, self.that_button, self.place_button, self.note_button):
            button.setEnabled(stand.state is not None)
        said = f"At {time_of_day(stand.at, stand.now)}" if stand.at else "At a time"
        self.time_button.show_words(said)

    def _name_main_button(self, stand: BenchStand) -> None:
        button, step = self.record_button, stand.step
        button.setEnabled(bool(stand.elsewhere) or (stand.state is not None and step is not None))
        if stand.elsewhere:
            button.show_words(f"Go to {stand.elsewhere}")
        elif stand.armed and step:
            button.show_words(f"Record: {step.did}")
        elif stand.asks_old_finish:
            button.show_words("Say what is on it")
        elif stand.held:
            button.show_words("Look again")
        else:
            button.show_words("Show what is next" if stand.state else "Record")


class StepChoices(QWidget):
    """The optional steps that may be recorded now, and the one that is due."""

    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("choices")
        self._flow = Flow(self)
        self._keys: dict[str, str] = {}
        self._shown: tuple[object, ...] = ()

    def show_steps(self, steps: tuple[Step, ...], at_hand: Step | None, face: str) -> None:
        """Show them when there is more than one; the one at hand is pressed in."""
        shown = (tuple(s.key for s in steps), at_hand.key if at_hand else "", face)
        self.setVisible(len(steps) > 1)
        if shown == self._shown:
            return
        self._shown = shown
        self._flow.clear()
        self._keys = {}
        self._flow.addWidget(QLabel("May be done now:"))
        for step in steps:
            text = f"{step.name} (may be skipped)" if step.optional else step.name
            button = KeyButton(text, "", self.on_step_pressed, name=f"step-{step.key}")
            button.setCheckable(True)
            button.setChecked(step is at_hand)
            self._keys[button.objectName()] = step.key
            self._flow.addWidget(button)

    def on_step_pressed(self) -> None:
        button = self.sender()
        if button is not None:
            self.chosen.emit(self._keys[button.objectName()])


def _home_line(stand: BenchStand) -> str:
    piece, state, outcome = stand.piece, stand.state, stand.outcome
    if piece is None or state is None:
        return at_work(piece.codename, piece.tag) if piece else ""
    if outcome and outcome.answer is not Answer.GO and outcome.because:
        return "  ·  ".join(w for w in (outcome.because, outcome.source) if w)
    pieces = [piece.codename, named(piece, state.part), state.place or word_of(state.where)]
    if stand.face:
        pieces.append(only_the(stand.face))
    if stand.at:
        pieces.append(f"at {moment(stand.at, stand.now)}")
    if state.part.note:
        pieces.append(state.part.note)
    if outcome and outcome.warnings:
        pieces.append(f"Mind: {clauses(outcome.warnings)}")
    return "  ·  ".join(pieces)
