"""The bench: one part, one huge word, its step; a second scan or a press records."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from partsbench.core.finish.holds import OLD_FINISH_RULE
from partsbench.core.finish.steps import Step
from partsbench.core.outcomes import Answer, Outcome, Refused, Tone
from partsbench.core.piece.piece import Piece
from partsbench.services.bench import look, record
from partsbench.services.shop import Shop
from partsbench.services.state import FaceState, PartState, part_state
from partsbench.ui.bench.bench_board import BenchBoard
from partsbench.ui.bench.bench_questions import BenchQuestions
from partsbench.ui.bench.controls import scrolled
from partsbench.ui.bench.idle_clocks import IdleClocks
from partsbench.ui.bench.looks import tile_part
from partsbench.ui.bench.once import once
from partsbench.ui.bench.stand import Stand

LEAST = (840, 520)
ARMED_MS = 60_000
"""A second scan later than this after the first is a first one again."""


class BenchPage(BenchQuestions):
    """It is `armed` when the next press or second scan records what is shown."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.keep.ran_out.connect(self.on_keep_ran_out)
        self._at_work: PartState | None = None
        self.arming = QTimer(self)
        self.arming.setSingleShot(True)
        self.arming.setInterval(ARMED_MS)
        self.arming.timeout.connect(self.on_arming_ran_out)
        self.board = BenchBoard(shop, self, self.ask)
        self.buttons = self.board.buttons
        self.board.view.pressed.connect(self.on_tile_pressed)
        self.board.lanes.face_chosen.connect(self.on_face_chosen)
        self.board.choices.chosen.connect(self.on_step_chosen)
        self.board.minutes.valueChanged.connect(self.on_minutes_changed)
        scrolled(self.board, self, LEAST, self.board.turning)
        self.idling = IdleClocks(shop, self, self.is_asking)
        self.keys = self._keys()

    def _keys(self) -> dict[int, Callable[[], None]]:
        key = Qt.Key
        return {
            key.Key_Return: self.on_record_pressed,
            key.Key_R: self.on_record_pressed,
            key.Key_S: self.on_skip_pressed,
            key.Key_B: self.on_back_pressed,
            key.Key_A: self.on_time_pressed,
            key.Key_T: self.on_that_was_pressed,
            key.Key_P: self.on_place_pressed,
            key.Key_N: self.on_note_pressed,
            key.Key_F: self.on_find_pressed,
            key.Key_K: self.on_keep_pressed,
            key.Key_I: self.on_insist_pressed,
            key.Key_O: self.on_old_finish_pressed,
            key.Key_W: self.on_wet_pressed,
            key.Key_U: self.on_undo_pressed,
            key.Key_Y: self.on_redo_pressed,
            key.Key_Escape: self.on_escape_pressed,
        }

    # What is shown

    def show_piece(self, tag: str) -> None:
        if tag != self.tag:
            self._forget()
            self.ask.close_question()
            self.keep.stop()
        super().show_piece(tag)

    def show_now(self, piece: Piece | None) -> None:
        if self.outcome and self.outcome.recorded and self.is_stale():
            self.outcome = None
            self.armed = False
        self._at_work = self.state()
        if self._at_work is None:
            self.short = ""
        try:
            self.board.show_stand(self._stand(piece))
        finally:
            self._at_work = None

    def _stand(self, piece: Piece | None) -> Stand:
        """All that is shown, as it stands now."""
        other = self.shop.piece(self.elsewhere()) if self.elsewhere() else None
        return Stand(
            self.shop.clock(),
            self.keep,
            piece,
            self._at_work,
            self.outcome,
            self.lane(),
            self.options(),
            self.chosen_step(),
            self.face,
            self.at,
            self.armed,
            bool(self.verb()),
            self._what_scans_do(),
            f"{other.codename} {other.tag}" if other else "",
            self.wet,
        )

    def _what_scans_do(self) -> str:
        if not self.tag:
            return "No piece is at work."
        if self.session and self.session.expects:
            return self.session.expects
        if self.keep.on:
            return "Each scan records at once."
        return "A first scan shows, a second records."

    def is_asking(self) -> bool:
        """A question is open; it is not covered."""
        return bool(self.ask.kind)

    def state(self) -> PartState | None:
        """The part shown as the book now has it; read once while it is being shown."""
        if self._at_work:
            return self._at_work
        piece = self.piece()
        part = piece.part(self.short) if piece and self.short else None
        return part_state(self.shop, piece, part) if piece and part and not part.retired else None

    def lane(self) -> tuple[FaceState, ...]:
        """The faces that a record would go to."""
        state = self.state()
        if state is None:
            return ()
        return tuple(f for f in state.faces if f.name == self.face) if self.face else state.lane

    def options(self) -> tuple[Step, ...]:
        """The steps that may be recorded now: optional ones first, then the one that is due."""
        steps = [step for face in self.lane() for step in face.progress.choices]
        return tuple(dict.fromkeys(steps))

    def chosen_step(self) -> Step | None:
        """The step that a press records."""
        lane = self.lane()
        due = lane[0].progress.next if lane else None
        return next((s for s in self.options() if s.key == self.step), due)

    # Scans and recording

    def scanned(self, text: str) -> None:
        self.idling.touch()
        if self.ask.kind == "that was":
            self.answer_that_was(text)
            return
        shown = self.look(text)
        if self.keep.on and self._is_mine(shown):
            self._keep_recording(shown)
        elif self._counts_twice(shown):
            self._record()
        else:
            self.show_outcome(shown)

    def _counts_twice(self, shown: Outcome) -> bool:
        """The second scan of the part shown: it records, or is refused while the part is held."""
        again = shown.part == self.short and self._is_mine(shown)
        return again and (self.armed or (self.held() and bool(shown.held)))

    def on_arming_ran_out(self) -> None:
        self.armed = False
        if self.isVisible():
            self.refresh()

    def elsewhere(self) -> str:
        """The tag of the piece that the label just scanned belongs to, when it is not this one."""
        tag = self.outcome.tag if self.outcome else ""
        return tag if tag != self.tag else ""

    def on_record_pressed(self) -> None:
        if self.elsewhere() and self.outcome:
            code = self.outcome.code
            self.page_asked.emit("bench", self.elsewhere())
            self.scanned(code)
        elif self.armed:
            self._record()
        elif self.short and self.outcome and OLD_FINISH_RULE in self.outcome.held:
            self.on_old_finish_pressed()
        elif self.short:
            self.show_outcome(self.look(self.short, self.face))

    def on_skip_pressed(self) -> None:
        optional = [s for s in self.options() if s.optional]
        step = next((s for s in optional if s.key == self.step), optional[0] if optional else None)
        if self.short and step:
            self._record(step.key, skip=True)
        elif self.short:
            due = self.chosen_step()
            name = due.name if due else "This"
            self.tell(Refused(f"{name} cannot be left out of this path."))

    def _record(self, step: str = "", *, skip: bool = False) -> None:
        answer = record(
            self.shop,
            self.short,
            here=self.tag,
            at=self.at,
            face=self.face,
            step=step or self.step,
            skip=skip,
            cup=self.cup(),
            wet=self.wet,
            confirmed=True,
        )
        self._recorded(answer)

    def _recorded(self, answer: Outcome | Refused) -> None:
        if isinstance(answer, Refused):
            self.tell(answer)
            return
        self.show_outcome(once(self.session, answer))

    def look(self, text: str, face: str = "") -> Outcome:
        """What the bench answers for a code, with the mix in hand; warnings once a session."""
        shown = look(self.shop, text, here=self.tag, face=face, cup=self.cup(), wet=self.wet)
        return once(self.session, shown)

    def take_answer(self, outcome: Outcome) -> None:
        self.idling.touch()
        if outcome.part:
            self.show_outcome(outcome, armed=False)
            return
        if not (self.session and self.session.state.held):
            # What was answered for the part before is over; a reason may follow a refusal.
            self._put_away()
        super().take_answer(outcome)
        self.refresh()

    def _keep_recording(self, shown: Outcome) -> None:
        if not self.keep.counts(shown.part):
            self.show_outcome(shown, armed=False)
            self.tell(Refused(f"{shown.part} is recorded in this run already."))
            return
        # The first part of a run asks what has to be so; scanned again, it says that it is.
        asked = self.outcome is not None and self.outcome.unconfirmed
        answer = record(
            self.shop, shown.part, here=self.tag, at=self.at, step=self.keep.step, cup=self.cup(),
            wet=self.wet, confirmed=asked and shown.part == self.short,
        )  # fmt: skip
        if isinstance(answer, Outcome) and answer.recorded:
            self.keep.recorded(shown.part)
        self._recorded(answer)

    def show_outcome(self, outcome: Outcome, *, armed: bool = True) -> None:
        """Show an answer; what was chosen for the last part is forgotten."""
        mine = self._is_mine(outcome)
        self.outcome = outcome
        if not (mine and outcome.part == self.short) or outcome.recorded:
            self.face = self.step = ""
        if outcome.recorded and not self.keep.on:
            self.at = None
            self.wet = False
        self.short = outcome.part if mine or outcome.part == self.short else ""
        ready = outcome.answer is Answer.GO and bool(outcome.step) and not outcome.recorded
        self.armed = armed and mine and ready
        self.arming.start()
        if not self.tell(outcome, loud=False):
            self.refresh()

    def show_part(self, short: str) -> None:
        self.face = self.step = ""
        self.short, self.armed = short, False
        self.outcome = self.look(short)

    def _is_mine(self, outcome: Outcome) -> bool:
        """A part of the piece at work that was read well, whatever may be done to it now."""
        read = outcome.answer is Answer.GO or bool(outcome.step)
        return read and outcome.tag == self.tag and bool(outcome.part)

    def _forget(self) -> None:
        self._put_away()
        self.wet = False
        self.at = None

    def _put_away(self) -> None:
        """No part is shown any more; a time that was stated still counts."""
        self.short = self.face = self.step = ""
        self.armed = False
        self.outcome = None

    # Choosing by hand

    def on_tile_pressed(self, key: str) -> None:
        piece = self.piece()
        short = tile_part(piece, key) if piece else ""
        if short:
            self.scanned(short)

    def on_face_chosen(self, face: str) -> None:
        self.face = face
        self.step = ""
        self.show_outcome(self.look(self.short, face))

    def on_step_chosen(self, step: str) -> None:
        self.step = step
        self.armed = bool(self.short)
        self.arming.start()
        self.refresh()

    def on_escape_pressed(self) -> None:
        self.loud.hide()
        self._forget()
        self.refresh()

    def on_keep_ran_out(self) -> None:
        self.at = None
        off = f"Keep recording went off: nothing was scanned for {self.keep.minutes:g} min."
        self.answered.emit(Outcome(Answer.STOP, Tone.VERB_OFF, off, tag=self.tag))
        self.refresh()

    def on_minutes_changed(self, minutes: int) -> None:
        self.keep.set_minutes(minutes)

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        state = {**super().saved_state(), "short": self.short, "face": self.face}
        if self.at:
            state["at"] = self.at.isoformat()
        state["minutes"] = f"{self.keep.minutes:g}"
        return {key: value for key, value in state.items() if value}

    def restore_state(self, state: dict[str, str]) -> None:
        if self.part(state.get("short", "")):
            self.show_outcome(self.look(state["short"]))
            self.armed = False
        if "at" in state:
            self.at = datetime.fromisoformat(state["at"])
        if state.get("minutes", "").isdigit():
            self.board.minutes.setValue(int(state["minutes"]))
        super().restore_state(state)
        self.refresh()

    # Qt

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.idling.begin()

    def hideEvent(self, event: QHideEvent) -> None:
        self.idling.end()
        super().hideEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.idling.fit()
