"""The bench: one part, one huge word, its step; a second scan or a press records."""

from __future__ import annotations

from datetime import datetime, timedelta

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from partsbench.core.bench.events import Act, Push, What
from partsbench.core.bench.state import Mode, Waits
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import NO_PIECE_AT_WORK
from partsbench.core.verbs import wall_code
from partsbench.services.known.state import PartState
from partsbench.services.shop import Shop
from partsbench.ui.bench.ask import Ask
from partsbench.ui.bench.at_work import AtWork
from partsbench.ui.bench.bench_board import BenchActs, BenchBoard
from partsbench.ui.bench.controls import scrolled
from partsbench.ui.bench.idle_clocks import IdleClocks
from partsbench.ui.bench.looks import tile_part
from partsbench.ui.bench.loud import Loud
from partsbench.ui.bench.next_record import KeepQuestion, WhenQuestion, WhyQuestion
from partsbench.ui.bench.part_questions import PartQuestions
from partsbench.ui.bench.pushes import BenchPushes, WayBack
from partsbench.ui.bench.put_right import SendBack, ThatWas
from partsbench.ui.bench.questions import Questions
from partsbench.ui.bench.shown_part import ShownPart
from partsbench.ui.bench.stand import BenchStand
from partsbench.ui.bench.telling import Telling
from partsbench.ui.pages.page import Page

LEAST = (840, 520)
BEAT_MS = 1000
TIMES = ("now", "10 min ago", "30 min ago", "1 h ago")
_OF_A_REFUSAL = frozenset({"insist", "back to", "back why", "back anyway"})
"""Questions that the next scan puts away: they were about the label before."""


class BenchPage(Page):
    """Turns keys and presses into events of the bench, and shows how things stand.

    `outcome` is the answer that is shown; what is in the hand, the bench knows.
    """

    mode = Mode.BENCH

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.outcome: Outcome | None = None
        self._was_armed = False
        self.work = AtWork(self)
        self.shown = ShownPart(self, self.work)
        self.ask, self.loud = Ask(), Loud(self)
        self.questions = Questions(self, self.ask)
        self.telling = Telling(self, self.work, self.questions, self.loud)
        self._make_questions()
        self.pushes = BenchPushes(self)
        self.way_back = WayBack(self, self.telling, self.forget_answer)
        self._beat = QTimer(self)
        self._beat.setInterval(BEAT_MS)
        self._beat.timeout.connect(self.on_beat)
        self.board = BenchBoard(shop, self._acts(), self.ask)
        self.board.view.pressed.connect(self.on_tile_pressed)
        self.board.lanes.face_chosen.connect(self.pushes.face)
        self.board.choices.chosen.connect(self.pushes.step)
        self.board.minutes.valueChanged.connect(self.pushes.idle_minutes)
        scrolled(self.board, self, LEAST, self.board.turning)
        self.idling = IdleClocks(shop, self, self.is_asking)
        key = Qt.Key
        self.keys = {
            **self.board.keys,
            key.Key_R: self.pushes.record,
            key.Key_Escape: self.on_escape_pressed,
        }

    def _make_questions(self) -> None:
        asked, telling, shown = self.questions, self.telling, self.shown
        self.about = PartQuestions(self, self.work, asked, telling)
        self.when = WhenQuestion(self, asked, "When was it done?", TIMES)
        self.why = WhyQuestion(self, asked, self.ask_why_more)
        self.keep = KeepQuestion(self, asked, shown.options)
        self.that_was = ThatWas(self, asked, telling, shown)
        self.send_back = SendBack(self, asked, telling, shown, self.take_answer)

    def _acts(self) -> BenchActs:
        return BenchActs(
            record=self.pushes.record,
            skip=self.pushes.skip,
            time=self.when.ask,
            back=self.send_back.ask,
            that_was=self.that_was.ask,
            place=self.on_place_pressed,
            note=self.on_note_pressed,
            find=self.about.ask_find,
            insist=self.on_insist_pressed,
            old_finish=self.on_old_finish_pressed,
            wet=self.pushes.wet,
            keep=self.on_keep_pressed,
            undo=self.way_back.undo,
            redo=self.way_back.redo,
        )

    # What is shown

    def show_piece(self, tag: str) -> None:
        if tag != self.tag:
            self.outcome = None
            self.questions.close()
            self.loud.hide()
        super().show_piece(tag)

    def refresh(self) -> None:
        with self.work.showing() as piece:
            if self.hand.waits is Waits.EMPTY or self._is_overtaken():
                self.outcome = None
            self._was_armed = self.shown.armed
            with self.shown.showing() as state:
                self.board.show_stand(self._stand(piece, state))

    def _is_overtaken(self) -> bool:
        """What was recorded is not the latest change any more."""
        return bool(self.outcome and self.outcome.recorded and self.work.is_stale())

    def _stand(self, piece: Piece | None, state: PartState | None) -> BenchStand:
        """All that is shown, as it stands now."""
        elsewhere, shown, bench = self.elsewhere(), self.shown, self.at_bench.state
        other = self.shop.piece(elsewhere) if elsewhere else None
        return BenchStand(
            self.shop.clock(),
            piece,
            state,
            self.outcome,
            shown.lane(),
            shown.options(),
            shown.step(),
            shown.face,
            bench.at,
            shown.armed,
            bench,
            self._what_scans_do(),
            f"{other.codename} {other.tag}" if other else "",
            bench.wet,
        )

    def _what_scans_do(self) -> str:
        if not self.tag:
            return NO_PIECE_AT_WORK
        if self.at_bench.expects:
            return self.at_bench.expects
        return "A first scan shows, a second records."

    def is_asking(self) -> bool:
        """A question is open; it is not covered."""
        return bool(self.questions.kind)

    # Scans and recording

    def scanned(self, text: str) -> None:
        self.idling.touch()
        if self.that_was.asking:
            self.that_was.hear(text)
        else:
            self.acted(self.at_bench.scan(text, trigger=False))

    def asks_for(self, text: str) -> bool:
        return self.that_was.asking and wall_code(text) is None

    def on_beat(self) -> None:
        """What was armed may have grown too old for a second scan."""
        off = self.at_bench.tick()
        if off:
            self.take_answer(off)
        elif self._was_armed != self.shown.armed:
            self.refresh()

    def shows(self, answer: object) -> bool:
        return answer is self.outcome or self.loud.tells(answer)

    def elsewhere(self) -> str:
        """The tag of the piece that the label just scanned belongs to, when it is not this one."""
        hand = self.hand
        return hand.tag if hand.waits is Waits.ELSEWHERE and hand.tag != self.tag else ""

    def fulfil(self, wish: Act) -> None:
        if wish.what is What.OLD_FINISH_ASKED:
            self.on_old_finish_pressed()
        elif wish.what is What.GO_TO:
            self.page_asked.emit("bench", wish.text)

    def take_answer(self, outcome: Outcome) -> None:
        self.idling.touch()
        if self.questions.kind in _OF_A_REFUSAL and self.questions.subject != self.shown.short:
            self.questions.close()
        if self.telling.is_of_label(outcome):
            self.outcome = outcome
            if not self.telling.tell(outcome, loud=False):
                self.refresh()
            return
        if not self.shown.held:
            self.outcome = None
        self.telling.tell_of_wall(outcome)
        self.refresh()

    # Keys and presses

    def on_place_pressed(self) -> None:
        self.about.ask_place(self.shown.short)

    def on_note_pressed(self) -> None:
        self.about.ask_note(self.shown.short)

    def on_old_finish_pressed(self) -> None:
        """What holds it is answered in one screen for the whole piece."""
        self.page_asked.emit("old-finish", self.tag)

    def on_keep_pressed(self) -> None:
        if self.at_bench.state.keeps:
            self.keep.end()
        else:
            self.keep.ask()

    def on_insist_pressed(self) -> None:
        """The gravest of what holds it is insisted upon first."""
        if self.shown.held and self.outcome:
            short = self.shown.short
            self.why.ask(short, f"Record {short}", self.outcome.holds)

    def ask_why_more(self) -> None:
        """A reason lifted one hold, and there is another."""
        if self.hand.lifted:
            self.on_insist_pressed()

    def forget_answer(self) -> None:
        """What was answered does not stand any more."""
        self.outcome = None

    def on_tile_pressed(self, key: str) -> None:
        piece = self.work.piece()
        short = tile_part(piece, key) if piece else ""
        if short:
            self.scanned(short)

    def on_escape_pressed(self) -> None:
        self.loud.hide()
        if self.board.more.isVisible():
            self.board.show_more(False)
            return
        self.outcome = None
        self.push(Push.LEAVE)
        self.refresh()

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        bench = self.at_bench.state
        state = {**self.questions.half_made(), "short": self.shown.short, "face": self.shown.face}
        if bench.at:
            state["at"] = bench.at.isoformat()
        state["minutes"] = f"{bench.idle / timedelta(minutes=1):g}"
        return {key: value for key, value in state.items() if value}

    def restore_state(self, state: dict[str, str]) -> None:
        if self.work.part(state.get("short", "")):
            self.push(Push.TURN_TO, label=state["short"])
        if "at" in state:
            self.push(Push.AT, at=datetime.fromisoformat(state["at"]))
        if state.get("minutes", "").isdigit():
            self.board.minutes.setValue(int(state["minutes"]))
        self.about.restore(state)
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
