"""Return: the empty front fills up as every part is scanned into its own home."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from partsbench.core.bench.events import Act, Push, What
from partsbench.core.bench.state import Mode, Waits
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.returning import FitResult, missing
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown.proof import save_proof
from partsbench.ui import asking
from partsbench.ui.bench.controls import scrolled
from partsbench.ui.bench.part_page import PartPage
from partsbench.ui.bench.return_board import ReturnBoard, Returning
from partsbench.ui.pages.no_piece import NoPiece

LEAST = (780, 500)


class ReturnPage(PartPage):
    """`waiting` is a home that was scanned, `lit` a part whose home is shown, `fitting` a part just
    brought home that may be given a fit result."""

    mode = Mode.RETURN

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.last: Outcome | None = None
        self.board = ReturnBoard(self, self.ask)
        self.buttons = self.board.buttons
        self.board.view.pressed.connect(self.on_tile_pressed)
        stands = scrolled(self.board, self, LEAST, self.board.turning, last_first=True)
        self.nothing = NoPiece(self, stands)
        column = self.layout()
        assert column is not None
        column.addWidget(self.nothing)
        key = Qt.Key
        self.keys = {
            key.Key_Return: self.on_enter_pressed,
            key.Key_1: self.on_free_pressed,
            key.Key_2: self.on_tight_pressed,
            key.Key_3: self.on_wax_pressed,
            key.Key_4: self.on_sticks_pressed,
            key.Key_E: self.on_elimination_pressed,
            key.Key_P: self.on_place_pressed,
            key.Key_N: self.on_note_pressed,
            key.Key_Escape: self.on_escape_pressed,
        }

    # What is shown

    def show_piece(self, tag: str) -> None:
        if tag != self.tag:
            self.last = None
            self.ask.close_question()
        super().show_piece(tag)

    def show_now(self, piece: Piece | None) -> None:
        if self.last and self.last.recorded and self.is_stale():
            self.last = None
        self.nothing.stand(piece is None)
        at = Returning(self.waiting, self.lit, self.last, self.fitting, self.at_hand)
        self.board.show_state(piece_state(self.shop, piece) if piece else None, at)

    # Scans

    def scanned(self, text: str) -> None:
        if self.tag:
            self.acted(self.at_bench.scan(text, trigger=False))

    def take_answer(self, outcome: Outcome) -> None:
        self.loud.hide()
        if self.verb_answers(outcome):
            super().take_answer(outcome)
            return
        self.last = outcome
        if not self.tell(outcome, loud=False if outcome.recorded else None):
            self.refresh()

    def shows(self, answer: object) -> bool:
        return answer is self.last or self.loud.isVisible()

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

    def on_free_pressed(self) -> None:
        self._fit(FitResult.FREE)

    def on_tight_pressed(self) -> None:
        self._fit(FitResult.TIGHT)

    def on_wax_pressed(self) -> None:
        self._fit(FitResult.WAX)

    def on_sticks_pressed(self) -> None:
        self._fit(FitResult.STICKS)

    def _fit(self, result: FitResult) -> None:
        self.push(Push.FIT, result.value)

    def on_elimination_pressed(self) -> None:
        self.push(Push.REST)

    def on_place_pressed(self) -> None:
        self.ask_place(self.at_hand)

    def on_note_pressed(self) -> None:
        self.ask_note(self.at_hand)

    def on_proof_pressed(self) -> None:
        if self.piece() is None:
            return
        name = asking.file_name(self.shop, self.tag, "proof.pdf")
        target = asking.ask_new_file(self, "Save the proof sheet", name)
        if target:
            self.tell(save_proof(self.shop, self.tag, target))

    def on_escape_pressed(self) -> None:
        self.last = None
        self.loud.hide()
        self.push(Push.LEAVE)
        self.refresh()

    @property
    def at_hand(self) -> str:
        """The part that a note or a place is about."""
        return self.hand.part if self.hand.ours else ""

    def complete(self) -> bool:
        """Everything that came out is home again."""
        piece = self.piece()
        return piece is not None and not missing(piece_state(self.shop, piece))

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        state = {**super().saved_state(), "lit": self.lit}
        if self.waiting:
            state["waiting"] = str(self.waiting)
        return {key: value for key, value in state.items() if value}

    def restore_state(self, state: dict[str, str]) -> None:
        if self.part(state.get("lit", "")):
            self.acted(self.at_bench.scan(state["lit"], trigger=False))
        elif state.get("waiting", "").isdigit():
            home = short_number(Family.HOME, int(state["waiting"]))
            self.acted(self.at_bench.scan(home, trigger=False))
        super().restore_state(state)
        self.refresh()
