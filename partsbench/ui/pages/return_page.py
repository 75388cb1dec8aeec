"""Return: the empty front fills up as every part is scanned into its own home."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from partsbench.core.bench.events import Act, Push, What
from partsbench.core.bench.state import Mode, Waits
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.codes import Family, short_number
from partsbench.services.acts.returning import FitResult, missing
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.ui.bench.ask import Ask
from partsbench.ui.bench.at_work import AtWork
from partsbench.ui.bench.controls import scrolled
from partsbench.ui.bench.count_question import CountQuestion
from partsbench.ui.bench.loud import Loud
from partsbench.ui.bench.part_questions import PartQuestions
from partsbench.ui.bench.questions import Questions
from partsbench.ui.bench.return_board import ReturnActs, ReturnBoard, Returning
from partsbench.ui.bench.telling import Telling
from partsbench.ui.pages.no_piece import NoPiece
from partsbench.ui.pages.page import Page

LEAST = (780, 500)


class ReturnPage(Page):
    """`waiting` is a home that was scanned, `lit` a part whose home is shown, `fitting` a part just
    brought home that may be given a fit result."""

    mode = Mode.RETURN

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.last: Outcome | None = None
        self.work = AtWork(self)
        self.ask, self.loud = Ask(), Loud(self)
        self.questions = Questions(self, self.ask)
        self.telling = Telling(self, self.work, self.questions, self.loud)
        self.about = PartQuestions(self, self.work, self.questions, self.telling)
        self.count = CountQuestion(self, self.work, self.questions, self.telling, self.put_down)
        self.board = ReturnBoard(self._acts(), self.ask)
        self.board.view.pressed.connect(self.on_tile_pressed)
        stands = scrolled(self.board, self, LEAST, self.board.turning, last_first=True)
        self.nothing = NoPiece(self, stands)
        column = self.layout()
        assert column is not None
        column.addWidget(self.nothing)
        self.keys = {
            **self.board.keys,
            Qt.Key.Key_M: self.board.cautions.on_all_pressed,
            Qt.Key.Key_Escape: self.on_escape_pressed,
        }

    def _acts(self) -> ReturnActs:
        return ReturnActs(
            enter=self.on_enter_pressed,
            fit=self.on_fit_chosen,
            elimination=self.on_elimination_pressed,
            count=self.count.ask,
            place=self.on_place_pressed,
            note=self.on_note_pressed,
            proof=self.on_proof_pressed,
        )

    # What is shown

    def show_piece(self, tag: str) -> None:
        if tag != self.tag:
            self.last = None
            self.questions.close()
            self.loud.hide()
        super().show_piece(tag)

    def refresh(self) -> None:
        with self.work.showing() as piece:
            if self.last and self.last.recorded and self.work.is_stale():
                self.last = None
            self.nothing.stand(piece is None)
            at = Returning(self.waiting, self.lit, self.last, self.fitting, self.at_hand)
            self.board.show_state(piece_state(self.shop, piece) if piece else None, at)

    # Scans

    def scanned(self, text: str) -> None:
        if self.tag:
            self.acted(self.at_bench.scan(text, trigger=False))

    def take_answer(self, outcome: Outcome) -> None:
        if self._found_nothing(outcome):
            self.answered.emit(outcome)
            return
        self.loud.hide()
        if self.telling.is_of_wall(outcome):
            self.telling.tell_of_wall(outcome)
            return
        self.last = outcome
        if not self.telling.tell(outcome, loud=False if outcome.recorded else None):
            self.refresh()

    def _found_nothing(self, outcome: Outcome) -> bool:
        """A key had nothing to do with what is in the hand: that is told at the foot, and what the
        last scan was answered with stays readable."""
        about = outcome.part or outcome.home or outcome.recorded
        return self.pushing and self.hand.waits is not Waits.EMPTY and not about

    def shows(self, answer: object) -> bool:
        """The board has words for a home, and for a part of which something was just recorded."""
        last = self.last
        told = self.waiting or self.lit or (last and last.recorded and last.part)
        return (answer is last and bool(told)) or self.loud.tells(answer)

    def fulfil(self, wish: Act) -> None:
        if wish.what is What.PROOF:
            self.on_proof_pressed()
        elif wish.what is What.GO_TO:
            self.page_asked.emit("return", wish.text)

    @property
    def waiting(self) -> int:
        """The number of a home that waits for its part; 0 for none."""
        return self.hand.home if self.hand.waits is Waits.HOME else 0

    @property
    def lit(self) -> str:
        """The part whose home is shown; "" for none."""
        return self.hand.part if self.hand.ours and self.hand.waits is Waits.ARMED else ""

    @property
    def fitting(self) -> str:
        """The part just brought home that may be given a fit result."""
        return self.hand.part if self.hand.fits and self.hand.waits is Waits.RECORDED else ""

    # Presses and keys

    def on_tile_pressed(self, key: str) -> None:
        """A press on a home says what its label would."""
        if key and not key.startswith("C"):
            self.scanned(key)

    def on_enter_pressed(self) -> None:
        self.push(Push.ENTER)

    def on_fit_chosen(self, result: FitResult) -> None:
        self.push(Push.FIT, result.value)

    def on_elimination_pressed(self) -> None:
        self.push(Push.REST)

    def on_place_pressed(self) -> None:
        self.about.ask_place(self.at_hand)

    def on_note_pressed(self) -> None:
        self.about.ask_note(self.at_hand)

    def on_proof_pressed(self) -> None:
        if self.work.piece() is None:
            return
        from partsbench.ui.dialogs.paper_dialogs import ProofDialog

        made = ProofDialog(self.shop, self.tag, self)
        made.settled.connect(self.telling.tell)
        made.open()

    def on_escape_pressed(self) -> None:
        self.put_down()
        self.refresh()

    def put_down(self) -> None:
        """Nothing is in the hand, and no answer stands."""
        self.last = None
        self.loud.hide()
        self.push(Push.LEAVE)

    @property
    def at_hand(self) -> str:
        """The part that a note or a place is about."""
        return self.hand.part if self.hand.ours else ""

    def complete(self) -> bool:
        """Everything that came out is home again."""
        piece = self.work.piece()
        return piece is not None and not missing(piece_state(self.shop, piece))

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        state = {**self.questions.half_made(), "lit": self.lit}
        if self.waiting:
            state["waiting"] = str(self.waiting)
        return {key: value for key, value in state.items() if value}

    def restore_state(self, state: dict[str, str]) -> None:
        if self.work.part(state.get("lit", "")):
            self.acted(self.at_bench.scan(state["lit"], trigger=False))
        elif state.get("waiting", "").isdigit():
            home = short_number(Family.HOME, int(state["waiting"]))
            self.acted(self.at_bench.scan(home, trigger=False))
        self.about.restore(state)
        self.refresh()
