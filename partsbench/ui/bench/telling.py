"""How a page tells an answer: to the window, loud over the page, and as a change of the book."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import SignalInstance

from partsbench.core.bench.state import Mode, Waits
from partsbench.core.outcomes import Answer, Done, Outcome, Refused, Tone
from partsbench.core.wording import sentences
from partsbench.services.shop import Shop
from partsbench.ui.bench.at_work import AtWork
from partsbench.ui.bench.loud import Loud
from partsbench.ui.bench.questions import Questions
from partsbench.ui.bench.wording import said_briefly, wait_words

if TYPE_CHECKING:
    from partsbench.services.heard.session import Session


class TellingPage(Protocol):
    """The page whose answers are told; `pushing`: what is answered was asked by a key of it."""

    shop: Shop
    tag: str
    mode: Mode
    pushing: bool

    @property
    def at_bench(self) -> Session: ...
    @property
    def answered(self) -> SignalInstance: ...
    @property
    def changed(self) -> SignalInstance: ...
    def refresh(self) -> None: ...


class Telling:
    """Tells the answers of one page."""

    def __init__(self, page: TellingPage, work: AtWork, questions: Questions, loud: Loud) -> None:
        self._page = page
        self._work = work
        self._questions = questions
        self._loud = loud

    def tell(self, answer: Outcome | Done | Refused, *, loud: bool | None = None) -> bool:
        """Pass an answer on; True when it changed the book.

        `loud` lays it over the page, large: by itself only what stops the work is.
        """
        over = _stops(answer) if loud is None else loud
        if isinstance(answer, Outcome) and over:
            self._loud.lay_over(answer, self._line(answer))
        else:
            self._loud.hide()
        self._questions.come_back()
        changed = isinstance(answer, Done) or (isinstance(answer, Outcome) and answer.recorded)
        self._page.answered.emit(answer)
        if changed:
            self._work.changed_here()
            before = self._work.times_shown
            self._page.changed.emit()
            if self._work.times_shown == before:
                self._page.refresh()
        return changed

    def tell_of_wall(self, outcome: Outcome) -> None:
        """What a code of the wall did, or why not; that a verb is on stands in the band already."""
        in_band = outcome.tone in (Tone.VERB_ON, Tone.VERB_OFF)
        self.tell(outcome, loud=not in_band or _stops(outcome))

    def settle(self, answer: Outcome | Done | Refused) -> None:
        """An answer to a question of the page: when it is refused, the question stays."""
        if self.tell(answer, loud=False):
            self._questions.close()
        else:
            self._questions.refuse(answer.sentence)

    def is_of_wall(self, outcome: Outcome) -> bool:
        """It is an answer of the wall, and not of the page's own way with a label or a key."""
        page = self._page
        if page.pushing:
            return False
        in_force = page.at_bench.state.rules is not page.mode
        return in_force or not self.is_of_label(outcome)

    def is_of_label(self, outcome: Outcome) -> bool:
        """It is about the label in hand, and not about a verb, a load or an undo."""
        if outcome.tone in (Tone.VERB_ON, Tone.VERB_OFF):
            return False
        hand = self._page.at_bench.state.hand
        strange = hand.waits in (Waits.STRANGE, Waits.ELSEWHERE) and outcome.code == hand.code
        return bool(outcome.part or outcome.home) or strange

    def _line(self, answer: Outcome) -> str:
        """The sentence, without the part where that is of this piece: its number stands above."""
        mine = self._work.piece() if answer.part and answer.tag == self._page.tag else None
        line = answer.beside if mine and answer.beside else said_briefly(answer)
        if answer.recorded:
            return line
        more = wait_words(answer, self._page.shop.clock()) if answer.part else answer.because
        return sentences(line, more)


def _stops(answer: Outcome | Done | Refused) -> bool:
    return isinstance(answer, Outcome) and answer.answer in (Answer.STOP, Answer.OTHER_JOB)
