"""What the Bench page shows: number, word, operation, drawing, lanes, buttons, records."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QSpinBox, QVBoxLayout, QWidget

from partsbench.core.finish.steps import Step
from partsbench.core.outcomes import Answer, Outcome
from partsbench.core.piece.piece import Piece
from partsbench.services.cautions import words as caution_words
from partsbench.services.ready import ready
from partsbench.services.shop import Shop
from partsbench.services.state import PartState
from partsbench.ui.bench.controls import KeyButton, MainKeyButton, words
from partsbench.ui.bench.flow import Flow
from partsbench.ui.bench.keep import MOST_MINUTES, USUAL_MINUTES
from partsbench.ui.bench.keep_band import KeepBand
from partsbench.ui.bench.lanes import Lanes
from partsbench.ui.bench.looks import bench_looks, named
from partsbench.ui.bench.ready_strip import ReadyStrip
from partsbench.ui.bench.records_strip import RecordsStrip
from partsbench.ui.bench.shout import Shout
from partsbench.ui.bench.wording import clock_words, said_briefly, wait_words
from partsbench.ui.big_word import BigWord
from partsbench.ui.piece_view import PieceView
from partsbench.ui.theme import words_at

if TYPE_CHECKING:
    from partsbench.ui.pages.bench_page import BenchPage

READ_FROM_M = 2.5
CAUTION_HEIGHT = 11.5
SCAN_A_PART = "Scan a part"
LEFT = Qt.AlignmentFlag.AlignLeft


class BenchBoard(QWidget):
    """The widgets of the page and what stands on them; the page decides what happens."""

    def __init__(self, shop: Shop, page: BenchPage) -> None:
        super().__init__()
        self._cautioned: set[str] = set()
        self._mindful: tuple[str, tuple[str, ...]] = ("", ())
        at_distance = words_at(READ_FROM_M)
        self.number = BigWord(align=LEFT, most=at_distance * 4, whole=0.5)
        self.number.setObjectName("part-number")
        self.shout = Shout()
        self.shout.setMaximumHeight(360)
        self.operation = BigWord(align=LEFT, most=at_distance)
        self.operation.setObjectName("operation")
        self.figure = BigWord(most=at_distance * 1.6, align=Qt.AlignmentFlag.AlignRight)
        self.figure.setObjectName("figure")
        self.home = words(1.5, name="home-words")
        self.view = PieceView()
        self.view.setMinimumSize(200, 150)
        self.view.setMaximumHeight(320)
        self.cautions = BigWord(bold=False, most=CAUTION_HEIGHT, align=LEFT)
        self.cautions.setObjectName("cautions")
        self.lanes = Lanes()
        self.ready = ReadyStrip()
        self.choices = Choices()
        self.keep_band = KeepBand()
        self.minutes = QSpinBox()
        self.minutes.setRange(1, MOST_MINUTES)
        self.minutes.setValue(USUAL_MINUTES)
        self.minutes.setSuffix(" min idle")
        self.minutes.setAccessibleName("Keep recording goes off after so many minutes idle")
        self.minutes.setMinimumHeight(34)
        self.records = RecordsStrip(shop, page.on_undo_pressed, page.on_redo_pressed)
        self.buttons = QWidget()
        self._make_buttons(page)
        self._lay_out(page)

    def _make_buttons(self, page: BenchPage) -> None:
        self.record_button = MainKeyButton("Record", "Enter", page.on_record_pressed, name="record")
        self.skip_button = KeyButton("Skip", "S", page.on_skip_pressed)
        self.time_button = KeyButton("At a time", "A", page.on_time_pressed)
        self.back_button = KeyButton("Send back", "B", page.on_back_pressed)
        self.that_button = KeyButton("That was…", "T", page.on_that_was_pressed)
        self.place_button = KeyButton("Put at", "P", page.on_place_pressed)
        self.note_button = KeyButton("Note", "N", page.on_note_pressed)
        self.find_button = KeyButton("Find", "F", page.on_find_pressed)
        self.insist_button = KeyButton("Insist", "I", page.on_insist_pressed)
        self.keep_button = KeyButton("Keep recording", "K", page.on_keep_pressed)

    def _lay_out(self, page: BenchPage) -> None:
        head = self._head = QHBoxLayout()
        head.setSpacing(18)
        head.addWidget(self.number, 2)
        head.addWidget(self.shout, 3)
        line = self._line = QHBoxLayout()
        line.addWidget(self.operation, 5)
        line.addWidget(self.figure, 2)
        left = QVBoxLayout()
        left.setSpacing(6)
        left.addLayout(head, 2)
        left.addLayout(line, 1)
        left.addWidget(self.home)
        right = QVBoxLayout()
        right.addWidget(self.view, 4)
        right.addWidget(self.cautions, 3)
        top = self.turning = QHBoxLayout()
        top.setSpacing(20)
        top.addLayout(left, 3)
        top.addLayout(right, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(16, 8, 18, 8)
        whole.setSpacing(8)
        whole.addWidget(self.keep_band)
        whole.addLayout(top, 1)
        whole.addWidget(self.lanes)
        whole.addWidget(self.ready)
        whole.addWidget(self.choices)
        whole.addWidget(self.buttons)
        whole.addWidget(page.ask)
        whole.addWidget(self.records)
        self._lay_out_buttons()

    def _lay_out_buttons(self) -> None:
        row = QHBoxLayout(self.buttons)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.record_button, 2)
        rest = QWidget()
        flow = Flow(rest)
        for button in (
            self.insist_button,
            self.skip_button,
            self.time_button,
            self.back_button,
            self.that_button,
            self.place_button,
            self.note_button,
            self.find_button,
            self.keep_button,
            self.minutes,
            self.records.undo_button,
            self.records.redo_button,
        ):
            flow.addWidget(button)
        row.addWidget(rest, 5)

    # What is shown

    def show_state(self, piece: Piece | None, state: PartState | None, page: BenchPage) -> None:
        """Show a part, or that none was scanned yet."""
        part = state.part if state else None
        outcome = page.outcome
        if piece:
            self.view.show_piece(piece, bench_looks(piece, part))
        else:
            self.view.clear()
        self.lanes.show_part(state, page.face)
        now = page.shop.clock()
        self.ready.show_ready(ready(page.shop, page.lane(), now) if state else (), now)
        self.choices.show_steps(page.options(), page.chosen_step(), page.face or "")
        self.keep_band.show_keep(page.keep)
        self.keep_button.show_words("End keep recording" if page.keep.on else "Keep recording")
        self.records.show_piece(page.tag)
        self._show_number(state, outcome)
        self._show_word(outcome, page)
        self._show_operation(state, page)
        self.home.setText(_home_line(piece, state, page))
        self._show_cautions(page)
        self._enable(page)

    def _show_number(self, state: PartState | None, outcome: Outcome | None) -> None:
        short = state.part.short if state else ""
        if not short and outcome:
            short = outcome.part or "?"
        self.number.show_text(short or SCAN_A_PART)
        way = QBoxLayout.Direction
        self._head.setDirection(way.LeftToRight if short else way.TopToBottom)
        for place, share in enumerate((2, 3) if short else (3, 2)):
            self._head.setStretch(place, share)

    def _show_word(self, outcome: Outcome | None, page: BenchPage) -> None:
        if outcome is None:
            self.shout.show_answer(None, _how_scans_count(page))
            return
        line = ""
        if outcome.recorded:
            line = f"recorded {clock_words(outcome.done_at, page.shop.clock())}".strip()
        elif (page.keep.on or page.verb()) and page.short:
            line = ""
        elif page.armed:
            line = "scan again to record"
        elif page.short and outcome.step and outcome.answer is Answer.GO:
            line = "scan twice to record"
        self.shout.show_answer(outcome.then or outcome.answer, line)

    def _show_operation(self, state: PartState | None, page: BenchPage) -> None:
        outcome, step = page.outcome, page.chosen_step()
        figure = str(step.grit) if step and step.grit else ""
        if outcome and (state is None or outcome.recorded):
            self.operation.show_text(said_briefly(outcome))
            figure = figure if outcome.then in (None, Answer.GO) else ""
        elif outcome and outcome.answer is not Answer.GO:
            self.operation.show_text(outcome.step_name or outcome.sentence)
            figure = wait_words(outcome, page.shop.clock())
        elif state:
            self.operation.show_text(step.name if step else state.status.capitalize())
            if outcome and outcome.until and outcome.step == (step.key if step else ""):
                figure = wait_words(outcome, page.shop.clock(), "by")
        else:
            self.operation.show_text("")
        self.figure.show_text(figure)
        self._line.setStretch(1, 4 if " " in figure else 1)
        self.figure.setVisible(bool(figure))

    def _show_cautions(self, page: BenchPage) -> None:
        """Each caution is shown the first time in a session that a part comes to its step."""
        step = page.chosen_step() if page.short else None
        shown = (page.short + (step.key if step else ""), step.cautions if step else ())
        if shown != self._mindful:
            fresh = [key for key in shown[1] if key not in self._cautioned]
            self._cautioned.update(fresh)
            self.cautions.show_text("  ".join(caution_words(fresh)))
            self._mindful = shown
        self.cautions.setVisible(bool(self.cautions.text()))

    def _enable(self, page: BenchPage) -> None:
        step = page.chosen_step()
        has_part = bool(page.short)
        self._name_main_button(page, step)
        self.insist_button.setVisible(page.held())
        self.skip_button.setEnabled(any(s.optional for s in page.options()))
        for button in (self.back_button, self.that_button, self.place_button, self.note_button):
            button.setEnabled(has_part)
        said = f"At {page.at.astimezone():%H:%M}" if page.at else "At a time"
        self.time_button.show_words(said)

    def _name_main_button(self, page: BenchPage, step: Step | None) -> None:
        button = self.record_button
        button.setEnabled(bool(page.elsewhere()) or (bool(page.short) and step is not None))
        if page.elsewhere():
            other = page.shop.piece(page.elsewhere())
            button.show_words(f"Go to {other.codename} {other.tag}" if other else "Record")
        elif page.armed and step:
            button.show_words(f"Record: {step.did}")
        elif page.held():
            button.show_words("Look again")
        else:
            button.show_words("Show what is next" if page.short else "Record")


class Choices(QWidget):
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


def _how_scans_count(page: BenchPage) -> str:
    if not page.tag:
        return "No piece is at work."
    if page.verb():
        return "Each scan does what the verb says."
    if page.keep.on:
        return "Each scan records at once."
    return "A first scan shows, a second records."


def _home_line(piece: Piece | None, state: PartState | None, page: BenchPage) -> str:
    if piece is None or state is None:
        return f"{piece.codename} {piece.tag} is at work." if piece else ""
    outcome = page.outcome
    if outcome and outcome.answer is not Answer.GO and outcome.because:
        return "  ·  ".join(w for w in (outcome.because, outcome.source) if w)
    pieces = [piece.codename, named(piece, state.part), state.place or state.where.value]
    if page.face:
        pieces.append(f"only the {page.face}")
    if page.at:
        pieces.append(f"at {page.at.astimezone():%H:%M on %d %b}")
    if state.part.note:
        pieces.append(state.part.note)
    if outcome and outcome.warnings:
        pieces.append("Mind: " + "; ".join(outcome.warnings))
    return "  ·  ".join(pieces)
