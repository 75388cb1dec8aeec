"""The bench: one part, one huge word, its step; a second scan or a press records."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from partsbench.core.bench.events import Act, Push, What
from partsbench.core.bench.state import Mode, Waits
from partsbench.core.finish.steps import Step
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import NO_PIECE_AT_WORK
from partsbench.services.known.state import FaceState, PartState, part_state
from partsbench.services.shop import Shop
from partsbench.ui.bench.bench_board import BenchBoard
from partsbench.ui.bench.bench_questions import BenchQuestions
from partsbench.ui.bench.controls import scrolled
from partsbench.ui.bench.idle_clocks import IdleClocks
from partsbench.ui.bench.looks import tile_part
from partsbench.ui.bench.stand import BenchStand

LEAST = (840, 520)
BEAT_MS = 1000
_OF_A_REFUSAL = frozenset({"insist", "back to", "back why", "back anyway"})
"""Questions that the next scan puts away: they were about the label before."""


class BenchPage(BenchQuestions):
    """Turns keys and presses into events of the bench, and shows how things stand."""

    mode = Mode.BENCH

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self._at_work: PartState | None = None
        self._was_armed = False
        self._beat = QTimer(self)
        self._beat.setInterval(BEAT_MS)
        self._beat.timeout.connect(self.on_beat)
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
            key.Key_M: self.on_more_pressed,
            key.Key_Escape: self.on_escape_pressed,
        }

    # What is shown

    def show_piece(self, tag: str) -> None:
        if tag != self.tag:
            self.outcome = None
            self.ask.close_question()
        super().show_piece(tag)

    def show_now(self, piece: Piece | None) -> None:
        if self.outcome and self.outcome.recorded and self.is_stale():
            self.outcome = None
        if self.hand.waits is Waits.EMPTY:
            self.outcome = None
        self._at_work = self.state()
        self._was_armed = self.armed
        try:
            self.board.show_stand(self._stand(piece))
        finally:
            self._at_work = None

    def _stand(self, piece: Piece | None) -> BenchStand:
        """All that is shown, as it stands now."""
        other = self.shop.piece(self.elsewhere()) if self.elsewhere() else None
        return BenchStand(
            self.shop.clock(),
            piece,
            self._at_work,
            self.outcome,
            self.lane(),
            self.options(),
            self.chosen_step(),
            self.face,
            self.at,
            self.armed,
            self.at_bench.state,
            self._what_scans_do(),
            f"{other.codename} {other.tag}" if other else "",
            self.wet,
        )

    def _what_scans_do(self) -> str:
        if not self.tag:
            return NO_PIECE_AT_WORK
        if self.at_bench.expects:
            return self.at_bench.expects
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
        return state.worked(self.face) if state else ()

    def options(self) -> tuple[Step, ...]:
        """The steps that may be recorded now: optional ones first, then the one that is due."""
        state = self.state()
        return state.options(self.face) if state else ()

    def chosen_step(self) -> Step | None:
        """The step that a press records."""
        lane = self.lane()
        due = lane[0].progress.next if lane else None
        return next((s for s in self.options() if s.key == self.hand.step), due)

    # Scans and recording

    def scanned(self, text: str) -> None:
        self.idling.touch()
        if self.ask.kind == "that was":
            self.answer_that_was(text)
        else:
            self.acted(self.at_bench.scan(text, trigger=False))

    def on_beat(self) -> None:
        """What was armed may have grown too old for a second scan."""
        off = self.at_bench.tick()
        if off:
            self.take_answer(off)
        elif self._was_armed != self.armed:
            self.refresh()

    def shows(self, answer: object) -> bool:
        return answer is self.outcome or self.loud.isVisible()

    def elsewhere(self) -> str:
        """The tag of the piece that the label just scanned belongs to, when it is not this one."""
        hand = self.hand
        return hand.tag if hand.waits is Waits.ELSEWHERE and hand.tag != self.tag else ""

    def on_record_pressed(self) -> None:
        self.push(Push.ENTER)

    def on_skip_pressed(self) -> None:
        self.push(Push.SKIP)

    def fulfil(self, wish: Act) -> None:
        if wish.what is What.OLD_FINISH_ASKED:
            self.on_old_finish_pressed()
        elif wish.what is What.GO_TO:
            self.page_asked.emit("bench", wish.text)

    def take_answer(self, outcome: Outcome) -> None:
        self.idling.touch()
        if self.ask.kind in _OF_A_REFUSAL and self.subject != self.short:
            self.ask.close_question()
        if self.is_of_label(outcome):
            self.outcome = outcome
            if not self.tell(outcome, loud=False):
                self.refresh()
            return
        if not self.held():
            self.outcome = None
        super().take_answer(outcome)
        self.refresh()

    # Choosing by hand

    def on_tile_pressed(self, key: str) -> None:
        piece = self.piece()
        short = tile_part(piece, key) if piece else ""
        if short:
            self.scanned(short)

    def on_face_chosen(self, face: str) -> None:
        self.push(Push.FACE, face)

    def on_step_chosen(self, step: str) -> None:
        self.push(Push.STEP, step)

    def on_more_pressed(self) -> None:
        """All that is rarely wanted, in the place of what is said about the part."""
        self.board.show_more(not self.board.more.isVisible())

    def on_escape_pressed(self) -> None:
        self.loud.hide()
        if self.board.more.isVisible():
            self.board.show_more(False)
            return
        self.outcome = None
        self.push(Push.LEAVE)
        self.refresh()

    def on_minutes_changed(self, minutes: int) -> None:
        self.push(Push.IDLE, str(minutes))

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        state = {**super().saved_state(), "short": self.short, "face": self.face}
        if self.at:
            state["at"] = self.at.isoformat()
        state["minutes"] = f"{self.at_bench.state.idle / timedelta(minutes=1):g}"
        return {key: value for key, value in state.items() if value}

    def restore_state(self, state: dict[str, str]) -> None:
        if self.part(state.get("short", "")):
            self.push(Push.TURN_TO, label=state["short"])
        if "at" in state:
            self.push(Push.AT, at=datetime.fromisoformat(state["at"]))
        if state.get("minutes", "").isdigit():
            self.board.minutes.setValue(int(state["minutes"]))
        super().restore_state(state)
        self.refresh()

    # Qt

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.idling.begin()
        self._beat.start()

    def hideEvent(self, event: QHideEvent) -> None:
        self.idling.end()
        self._beat.stop()
        super().hideEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.idling.fit()
