"""The bench: one part, one huge word, its step; a second scan or a press records."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from partsbench.core.finish.steps import Step
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.services.bench import look, record, send_back, stated
from partsbench.services.history import correct, redo, undo
from partsbench.services.places import find
from partsbench.services.shop import Shop
from partsbench.services.state import FaceState, PartState, part_state
from partsbench.ui.bench.bench_board import BenchBoard
from partsbench.ui.bench.controls import scrolled
from partsbench.ui.bench.keep import KeepRecording
from partsbench.ui.bench.looks import tile_part
from partsbench.ui.bench.part_page import PartPage

LEAST = (940, 520)
WHATEVER_NEXT = "whatever comes next"
REASONS = ("run", "dust in it", "missed a spot", "sanded through", "wrong colour")


class BenchPage(PartPage):
    """`short` is the part shown; it is `armed` when the next press or second scan records."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.short = ""
        self.armed = False
        self.face = ""
        self.step = ""
        self.at: datetime | None = None
        self.outcome: Outcome | None = None
        self._back_to = ""
        self.keep = KeepRecording(self)
        self.keep.ran_out.connect(self.on_keep_ran_out)
        self.board = BenchBoard(shop, self)
        self.buttons = self.board.buttons
        self.board.view.pressed.connect(self.on_tile_pressed)
        self.board.lanes.face_chosen.connect(self.on_face_chosen)
        self.board.choices.chosen.connect(self.on_step_chosen)
        self.board.minutes.valueChanged.connect(self.on_minutes_changed)
        scrolled(self.board, self, LEAST)
        self.answers = {
            **self.answers,
            "time": self.answer_time,
            "that was": self.answer_that_was,
            "back to": self.answer_back_to,
            "back why": self.answer_back_why,
            "find": self.answer_find,
            "keep": self.answer_keep,
        }
        self.keys = {int(key): act for key, act in self._keys().items()}

    def _keys(self) -> dict[Qt.Key, object]:  # each value is a bound method
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

    def refresh(self) -> None:
        if self.outcome and self.outcome.recorded and self.is_stale():
            self.outcome = None
            self.armed = False
        piece = self.piece()
        part = self.part(self.short)
        if piece is None or part is None or part.retired:
            self.short = ""
            part = None
        state = part_state(self.shop, piece, part) if piece and part else None
        self.board.show_state(piece, state, self)

    def state(self) -> PartState | None:
        piece, part = self.piece(), self.part(self.short)
        return part_state(self.shop, piece, part) if piece and part else None

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
        shown = look(self.shop, text, here=self.tag)
        if shown.part and shown.answer is Answer.GO and self.keep.on:
            self._keep_recording(shown)
        elif self.armed and shown.part == self.short and shown.answer is Answer.GO:
            self._record()
        else:
            self._show(shown)

    def on_record_pressed(self) -> None:
        if self.armed:
            self._record()
        elif self.short:
            self._show(look(self.shop, self.short, here=self.tag, face=self.face))

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
        )
        self._recorded(answer)

    def _recorded(self, answer: Outcome | Refused) -> None:
        if isinstance(answer, Refused):
            self.tell(answer)
            return
        self._show(answer)

    def _keep_recording(self, shown: Outcome) -> None:
        if not self.keep.counts(shown.part):
            self._show(shown, armed=False)
            self.tell(Refused(f"{shown.part} is recorded in this run already."))
            return
        answer = record(self.shop, shown.part, here=self.tag, at=self.at, step=self.keep.step)
        if isinstance(answer, Outcome) and answer.recorded:
            self.keep.recorded(shown.part)
        self._recorded(answer)

    def _show(self, outcome: Outcome, *, armed: bool = True) -> None:
        """Show an answer; what was chosen for the last part is forgotten."""
        mine = outcome.answer is Answer.GO and outcome.tag == self.tag
        self.outcome = outcome
        if not (mine and outcome.part == self.short) or outcome.recorded:
            self.face = self.step = ""
        if outcome.recorded and not self.keep.on:
            self.at = None
        refused_mine = outcome.answer is Answer.STOP and outcome.part == self.short
        self.short = outcome.part if mine or refused_mine else ""
        self.armed = armed and mine and bool(outcome.step) and not outcome.recorded
        if not self.tell(outcome, loud=False):
            self.refresh()

    def _forget(self) -> None:
        self.short = self.face = self.step = ""
        self.armed = False
        self.at = None
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
        self._show(look(self.shop, self.short, here=self.tag, face=face))

    def on_step_chosen(self, step: str) -> None:
        self.step = step
        self.armed = bool(self.short)
        self.refresh()

    def on_escape_pressed(self) -> None:
        self._forget()
        self.refresh()

    # Keep recording

    def on_keep_pressed(self) -> None:
        if self.keep.on:
            self.keep.stop()
            self.at = None
            self.tell(Done("Keep recording is off."))
            return
        names = [s.name for s in self.options()]
        self.ask_about(self.tag, "keep", "Record what of each part that is scanned now?",
                       [WHATEVER_NEXT, *names])  # fmt: skip

    def answer_keep(self, text: str) -> None:
        step = next((s for s in self.options() if text in (s.name, s.key)), None)
        if step is None and text not in ("", WHATEVER_NEXT):
            self.ask.show_fault(f"No step “{text}” here; scan a part that is at it first.")
            return
        self.keep.start(step.key if step else "", step.did if step else WHATEVER_NEXT)
        self.armed = False
        self.ask.close_question()
        self.answered.emit(Done(f"Keep recording is on: {self.keep.words}."))
        self.refresh()

    def on_keep_ran_out(self) -> None:
        self.at = None
        off = f"Keep recording went off: nothing was scanned for {self.keep.minutes:g} min."
        self.answered.emit(Outcome(Answer.STOP, Tone.VERB_OFF, off, tag=self.tag))
        self.refresh()

    def on_minutes_changed(self, minutes: int) -> None:
        self.keep.set_minutes(minutes)

    # Questions

    def on_time_pressed(self) -> None:
        self.ask_about(self.tag, "time", "When was it done?",
                       ["now", "10 min ago", "30 min ago", "1 h ago"], hint="14:20")  # fmt: skip

    def answer_time(self, text: str) -> None:
        at = stated(self.shop, text)
        if isinstance(at, Refused):
            self.ask.show_fault(at.sentence)
            return
        self.at = None if text in ("", "now") else at
        self.ask.close_question()
        self.refresh()

    def on_that_was_pressed(self) -> None:
        self.ask_about(self.short, "that was", f"That was not {self.short}, but", hint="D6")

    def answer_that_was(self, text: str) -> None:
        self.settle(correct(self.shop, self.tag, self.subject, text))

    def on_back_pressed(self) -> None:
        done = {m.step for face in self.lane() for m in face.progress.done}
        steps = {s.name: s for face in self.lane() for s in face.path.steps if s.key in done}
        if self.short and not steps:
            self.tell(Refused(f"No step of {self.short} is behind it yet."))
        elif steps:
            self.ask_about(self.short, "back to", f"Send {self.short} back to which step?",
                           list(reversed(steps)))  # fmt: skip

    def answer_back_to(self, text: str) -> None:
        steps = {s.name.lower(): s for face in self.lane() for s in face.path.steps}
        step = steps.get(text.lower())
        if step is None:
            self.ask.show_fault("Choose one of the steps.")
            return
        self._back_to = step.key
        self.ask_about(self.subject, "back why", f"Why does it go back to {step.name}?", REASONS,
                       hint="the reason stays in its history")  # fmt: skip

    def answer_back_why(self, text: str) -> None:
        answer = send_back(self.shop, self.subject, self._back_to, text, here=self.tag,
                           face=self.face)  # fmt: skip
        if isinstance(answer, Outcome) and answer.recorded:
            self.ask.close_question()
            self._show(answer)
        else:
            self.ask.show_fault(answer.sentence)

    def on_find_pressed(self) -> None:
        self.ask_about(self.tag, "find", "Find which part?", hint="D6, a code, or an old mark")

    def answer_find(self, text: str) -> None:
        found = [s.sentence for s in find(self.shop, text, self.tag)]
        self.ask.show_list(found)
        self.ask.show_fault("" if found else f"Nothing is known of “{text}”.")

    def on_place_pressed(self) -> None:
        self.ask_place(self.short)

    def on_note_pressed(self) -> None:
        self.ask_note(self.short)

    def on_undo_pressed(self) -> None:
        self._went(undo(self.shop))

    def on_redo_pressed(self) -> None:
        self._went(redo(self.shop))

    def _went(self, answer: Done | Refused) -> None:
        self.armed = False
        self.outcome = None
        self.tell(answer)

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        state = {**super().saved_state(), "short": self.short, "face": self.face}
        if self.at:
            state["at"] = self.at.isoformat()
        state["minutes"] = f"{self.keep.minutes:g}"
        return {key: value for key, value in state.items() if value}

    def restore_state(self, state: dict[str, str]) -> None:
        if self.part(state.get("short", "")):
            self._show(look(self.shop, state["short"], here=self.tag))
            self.armed = False
        if "at" in state:
            self.at = datetime.fromisoformat(state["at"])
        if state.get("minutes", "").isdigit():
            self.board.minutes.setValue(int(state["minutes"]))
        super().restore_state(state)
        self.refresh()
