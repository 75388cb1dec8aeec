"""Return: the empty front fills up as every part is scanned into its own home."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from partsbench.core.outcomes import Answer, Outcome, Refused, Tone
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.piece import Piece
from partsbench.services.identify import identify
from partsbench.services.proof import save_proof
from partsbench.services.returning import (
    FitResult,
    bring_home,
    by_elimination,
    missing,
    own_home,
    record_fit,
    sits_on,
)
from partsbench.services.shop import Shop
from partsbench.services.state import piece_state
from partsbench.ui import asking
from partsbench.ui.bench.controls import scrolled
from partsbench.ui.bench.part_page import PartPage
from partsbench.ui.bench.return_board import ReturnBoard, Returning
from partsbench.ui.pages.no_piece import NoPiece

LEAST = (780, 500)
FITS = tuple(FitResult)
ASKED_FOR_FIT = (Family.DRAWER, Family.DOOR)


class ReturnPage(PartPage):
    """`waiting` is a home that was scanned, `lit` a part whose home is shown, `host` the drawer at
    hand, whose pulls may follow, `fitting` a part just brought home that may be given a fit
    result."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.waiting = 0
        self.lit = ""
        self.host = ""
        self.fitting = ""
        self.last: Outcome | None = None
        self.board = ReturnBoard(self, self.ask)
        self.buttons = self.board.buttons
        self.board.view.pressed.connect(self.on_tile_pressed)
        stands = scrolled(self.board, self, LEAST, self.board.turning, last_first=True)
        self.nothing = NoPiece(self, stands)
        self.layout().addWidget(self.nothing)
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
            self._forget()
            self.ask.close_question()
        super().show_piece(tag)

    def show_now(self, piece: Piece | None) -> None:
        if self.last and self.last.recorded and self.is_stale():
            self.last = None
            self.fitting = ""
        self.nothing.stand(piece is None)
        at = Returning(self.waiting, self.lit, self.last, self.fitting, self.at_hand)
        self.board.show_state(piece_state(self.shop, piece) if piece else None, at)

    # Scans

    def scanned(self, text: str) -> None:
        if not self.tag:
            return
        known = identify(self.shop, text, self.tag)
        self.loud.hide()
        if isinstance(known, Outcome):
            self.last = known
            self.tell(known)
            self.refresh()
        elif known.part is None:
            self._home_scanned(known.piece, known.home)
        elif self.waiting:
            self._bring(known.part.short, short_number(Family.HOME, self.waiting))
        elif self.lit == known.part.short:
            self._bring(self.lit)
        elif self.lit and self._sits_on(self.lit, known.part.short):
            self._bring(self.lit, known.part.short)
        elif self.host and self._sits_on(known.part.short, self.host):
            self._bring(known.part.short, self.host)
        else:
            self.lit = self.host = known.part.short
            self.fitting = ""
            self._show(Answer.GO, own_home(known), part=self.lit, home=known.part.home.number)

    def _home_scanned(self, piece: Piece, number: int) -> None:
        if self.lit:
            self._bring(self.lit, short_number(Family.HOME, number))
            return
        self.waiting = number
        self.fitting = ""
        home = short_number(Family.HOME, number)
        self._show(Answer.GO, f"{home} waits: scan what goes in.", home=number)

    def _sits_on(self, short: str, host: str) -> bool:
        piece, part, other = self.piece(), self.part(short), self.part(host)
        if piece is None or part is None or other is None:
            return False
        return sits_on(piece, part, other)

    def _show(self, answer: Answer, sentence: str, *, part: str = "", home: int = 0) -> None:
        """Say something that records nothing."""
        self.last = Outcome(answer, Tone.ASK, sentence, tag=self.tag, part=part, home=home)
        self.tell(self.last)
        self.refresh()

    def _bring(self, short: str, home: str = "") -> None:
        """Record where a part was put; a right one is then asked how it runs."""
        host = home if self.part(home) else short
        self._forget()
        answer = bring_home(self.shop, self.tag, short, home)
        if isinstance(answer, Refused):
            self.tell(answer)
            return
        self.last = answer
        part = self.part(answer.part)
        right = answer.recorded and answer.answer is Answer.GO
        self.host = host if right else ""
        self.fitting = short if right and part and part.family in ASKED_FOR_FIT else ""
        if not self.tell(answer, loud=False if answer.recorded else None):
            self.refresh()

    # Presses and keys

    def on_tile_pressed(self, key: str) -> None:
        """A press on a home says what its label would."""
        if key and not key.startswith("C"):
            self.scanned(key)

    def on_enter_pressed(self) -> None:
        if self.lit:
            self._bring(self.lit)
        elif self.complete():
            self.on_proof_pressed()

    def on_free_pressed(self) -> None:
        self._fit(FitResult.FREE)

    def on_tight_pressed(self) -> None:
        self._fit(FitResult.TIGHT)

    def on_wax_pressed(self) -> None:
        self._fit(FitResult.WAX)

    def on_sticks_pressed(self) -> None:
        self._fit(FitResult.STICKS)

    def _fit(self, result: FitResult) -> None:
        if self.fitting:
            short, self.fitting = self.fitting, ""
            self.last = None
            self.tell(record_fit(self.shop, self.tag, short, result))

    def on_elimination_pressed(self) -> None:
        self._forget()
        self.last = None
        self.tell(by_elimination(self.shop, self.tag))

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
        self._forget()
        self.last = None
        self.loud.hide()
        self.refresh()

    @property
    def at_hand(self) -> str:
        """The part that a note or a place is about."""
        return self.lit or self.fitting or (self.last.part if self.last else "")

    def complete(self) -> bool:
        """Everything that came out is home again."""
        piece = self.piece()
        return piece is not None and not missing(piece_state(self.shop, piece))

    def _forget(self) -> None:
        self.waiting = 0
        self.lit = self.host = self.fitting = ""

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        state = {**super().saved_state(), "lit": self.lit}
        if self.waiting:
            state["waiting"] = str(self.waiting)
        return {key: value for key, value in state.items() if value}

    def restore_state(self, state: dict[str, str]) -> None:
        if self.part(state.get("lit", "")):
            self.lit = state["lit"]
        elif state.get("waiting", "").isdigit():
            self.waiting = int(state["waiting"])
        super().restore_state(state)
        self.refresh()
