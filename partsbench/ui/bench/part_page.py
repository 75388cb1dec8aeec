"""What Teardown, Bench and Return share: questions about a part, loud answers, single keys."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QPushButton, QToolButton, QWidget

from partsbench.core.bench.state import Waits
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.piece.parts import Part
from partsbench.core.piece.piece import Piece
from partsbench.core.wording import sentences
from partsbench.services.acts.history import history
from partsbench.services.acts.places import known_places, put
from partsbench.services.books.pieces import edit_part
from partsbench.services.shop import Shop
from partsbench.ui.bench.ask import Ask
from partsbench.ui.bench.shout import Shout
from partsbench.ui.bench.wording import look_of, own_word, said_briefly, wait_words
from partsbench.ui.pages.page import Page
from partsbench.ui.theme import words_at

USUAL_NOTES = ("runs tight", "broken", "loose joint", "lifting veneer", "part missing")
PLACES_SHOWN = 6
READ_FROM_M = 2.0
SENTENCE_SHARE = 0.6
"""A loud answer: so much of its height has the sentence."""
LOUD_SHARE = 0.64
LEAST_LOUD, MOST_LOUD = 120, 400
"""A loud answer has that share of the height of the page, in px at least and at most so much."""


class PartPage(Page):
    """A page that works on one part at a time; `subject` is the part a question is about.

    A question takes the place of `buttons`; a loud answer lies over the page until the next scan.
    """

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.subject = ""
        self.buttons = QWidget()
        self.ask = Ask()
        self.loud = Shout(self, below=SENTENCE_SHARE, most=words_at(READ_FROM_M) * 1.1)
        self.loud.setObjectName("loud")
        self.loud.hide()
        self._seen = self._shown = 0
        self._at_hand: Piece | None = None
        self.answers: Mapping[str, Callable[[str], None]] = {
            "place": self.answer_place,
            "note": self.answer_note,
            "old mark": self.answer_old_mark,
        }
        self.ask.answered.connect(self.on_ask_answered)
        self.ask.closed.connect(self.on_ask_closed)

    def piece(self) -> Piece | None:
        """The piece at work as the book has it now."""
        return self._at_hand or (self.shop.piece(self.tag) if self.tag else None)

    def part(self, short: str) -> Part | None:
        piece = self.piece()
        return piece.part(short) if piece and short else None

    def tell(self, answer: Outcome | Done | Refused, *, loud: bool | None = None) -> bool:
        """Pass an answer on; True when it changed the book.

        `loud` lays it over the page, large: by itself only what stops the work is.
        """
        over = _stops(answer) if loud is None else loud
        if isinstance(answer, Outcome) and over:
            word = own_word(answer)
            self.loud.show_answer(look_of(answer), self._line(answer), answer.part, word)
        self.loud.setVisible(isinstance(answer, Outcome) and over)
        self.loud.raise_()
        self.come_back()
        changed = isinstance(answer, Done) or (isinstance(answer, Outcome) and answer.recorded)
        self.answered.emit(answer)
        if changed:
            self._seen = self._newest()
            before = self._shown
            self.changed.emit()
            if self._shown == before:
                self.refresh()
        return changed

    def _line(self, answer: Outcome) -> str:
        """The sentence, without the part where that is of this piece: its number stands above."""
        mine = self.piece() if answer.part and answer.tag == self.tag else None
        line = answer.beside if mine and answer.beside else said_briefly(answer)
        if answer.recorded:
            return line
        more = wait_words(answer, self.shop.clock()) if answer.part else answer.because
        return sentences(line, more)

    def verb_answers(self, outcome: Outcome) -> bool:
        """It is an answer of the wall, and not of the page's own way with a label or a key."""
        if self.pushing:
            return False
        in_force = self.at_bench.state.rules is not self.mode
        return in_force or not self.is_of_label(outcome)

    def is_of_label(self, outcome: Outcome) -> bool:
        """It is about the label in hand, and not about a verb, a load or an undo."""
        if outcome.tone in (Tone.VERB_ON, Tone.VERB_OFF):
            return False
        hand = self.hand
        strange = hand.waits in (Waits.STRANGE, Waits.ELSEWHERE) and outcome.code == hand.code
        return bool(outcome.part or outcome.home) or strange

    def take_answer(self, outcome: Outcome) -> None:
        """What a code of the wall did, or why not; that a verb is on stands in the band already."""
        in_band = outcome.tone in (Tone.VERB_ON, Tone.VERB_OFF)
        self.tell(outcome, loud=not in_band or _stops(outcome))

    def show_piece(self, tag: str) -> None:
        if tag != self.tag:
            self.loud.hide()
        super().show_piece(tag)

    def refresh(self) -> None:
        """Show the piece as the book now has it: `show_now`, with the piece read once."""
        self._shown += 1
        if self.hand.waits is Waits.RECORDED and self.is_stale():
            self.at_bench.undone()
        self._at_hand = self.shop.piece(self.tag) if self.tag else None
        try:
            self.show_now(self._at_hand)
        finally:
            self._at_hand = None

    def show_now(self, piece: Piece | None) -> None:
        """Show this piece, or that there is none."""

    def come_back(self) -> None:
        """Bring the keyboard from a button back to the page, where Enter goes on with the work."""
        holder = QApplication.focusWidget()
        on_a_button = isinstance(holder, QPushButton | QToolButton) and self.isAncestorOf(holder)
        if not self.ask.kind and (on_a_button or holder is None):
            self.setFocus()

    def is_stale(self) -> bool:
        """The book was changed by somebody else, or undone, since this page last changed it."""
        return self._seen != self._newest()

    def _newest(self) -> int:
        entries = history(self.shop, limit=1)
        return entries[0].id if entries else 0

    # Questions

    def ask_place(self, short: str) -> None:
        """Ask where a part is put."""
        places = known_places(self.shop)[:PLACES_SHOWN]
        self.ask_about(short, "place", f"Put {short} where?", places, hint="rack 2")

    def ask_note(self, short: str) -> None:
        """Ask for a note on a part."""
        self.ask_about(short, "note", f"Note on {short}", USUAL_NOTES, hint="your own words")

    def ask_old_mark(self, short: str) -> None:
        """Ask for the mark that an earlier owner left."""
        part = self.part(short)
        mark = part.old_mark if part else ""
        self.ask_about(short, "old mark", f"Old mark on {short}", hint="3", text=mark)

    def ask_about(
        self,
        short: str,
        kind: str,
        question: str,
        choices: Sequence[str] = (),
        *,
        hint: str = "",
        text: str = "",
    ) -> None:
        """Put a question about a part; nothing is asked of no part."""
        if short:
            self.subject = short
            self.buttons.hide()
            self.setFocusProxy(self.ask.field)
            self.ask.ask(kind, question, choices, hint=hint, text=text)

    def on_ask_answered(self, kind: str, text: str) -> None:
        self.answers[kind](text)

    def on_ask_closed(self) -> None:
        self.buttons.show()
        self.setFocusProxy(None)  # type: ignore[arg-type]  # its stub forgets that None ends it
        self.setFocus()

    def answer_place(self, text: str) -> None:
        self.settle(put(self.shop, text, [self.subject], here=self.tag))

    def answer_note(self, text: str) -> None:
        part = self.part(self.subject)
        if not text or part is None:
            self.ask.show_fault("Write a note, or leave it.")
            return
        whole = f"{part.note}; {text}" if part.note else text
        self._settle_edit(edit_part(self.shop, self.tag, self.subject, note=whole), text)

    def answer_old_mark(self, text: str) -> None:
        said = f"old mark {text}" if text else "no old mark"
        self._settle_edit(edit_part(self.shop, self.tag, self.subject, old_mark=text), said)

    def settle(self, answer: Outcome | Done | Refused) -> None:
        """An answer to a question of ours: when it is refused, the question stays."""
        if self.tell(answer, loud=False):
            self.ask.close_question()
        else:
            self.ask.show_fault(answer.sentence)

    def _settle_edit(self, made: Piece | Refused, said: str) -> None:
        done = Done(f"{self.subject}: {said}.", self.tag)
        self.settle(made if isinstance(made, Refused) else done)

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        if not self.ask.kind:
            return {}
        return {"ask": self.ask.kind, "text": self.ask.text, "part": self.subject}

    def restore_state(self, state: dict[str, str]) -> None:
        again = {"place": self.ask_place, "note": self.ask_note, "old mark": self.ask_old_mark}
        kind = state.get("ask", "")
        if kind in again and self.part(state.get("part", "")):
            again[kind](state["part"])
            self.ask.put_text(state.get("text", ""))

    # Qt

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        high = max(LEAST_LOUD, min(MOST_LOUD, round(self.height() * LOUD_SHARE)))
        self.loud.setGeometry(12, 8, self.width() - 24, high)

    def hideEvent(self, event: QHideEvent) -> None:
        self.loud.hide()
        super().hideEvent(event)


def _stops(answer: Outcome | Done | Refused) -> bool:
    return isinstance(answer, Outcome) and answer.answer in (Answer.STOP, Answer.OTHER_JOB)
