"""Teardown: the front, what to pull next, and a scan that says "this is out"."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from partsbench.core.bench.events import Act, Push, What
from partsbench.core.bench.state import Mode, Waits
from partsbench.core.key_words import choice_word, large_word, word_of
from partsbench.core.outcomes import Outcome
from partsbench.core.piece.parts import TIE_ON, Part, where_to_stick
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import NO_PIECE_AT_WORK, stick_it
from partsbench.core.wording import listed
from partsbench.services.acts.teardown import (
    SMALL_THINGS,
    Teardown,
    count_word,
    left_in,
    mind_words,
    teardown,
)
from partsbench.services.known.state import PieceState, Where, piece_state
from partsbench.services.shop import Shop
from partsbench.ui.bench.ask import Ask
from partsbench.ui.bench.at_work import AtWork
from partsbench.ui.bench.caution_band import CautionBand
from partsbench.ui.bench.controls import KeyButton, MainKeyButton, keys_of, scrolled, words
from partsbench.ui.bench.looks import named, open_doors, teardown_looks, tile_part
from partsbench.ui.bench.loud import Loud
from partsbench.ui.bench.part_questions import PartQuestions
from partsbench.ui.bench.questions import Questions
from partsbench.ui.bench.shout import Shout, WordLook
from partsbench.ui.bench.telling import Telling
from partsbench.ui.big_word import BigWord
from partsbench.ui.pages.no_piece import NoPiece
from partsbench.ui.pages.page import Page
from partsbench.ui.piece_view import PieceView

NUMBER_MM = 40.0
NO_BREAK = "\N{NO-BREAK SPACE}"
SHOUT_LEAST, MIND_LINES = 92, 3
TIED = "label: on a tie-on tag or in a bag"
LEAST = (780, 470)
NUMBER_LEAST, NUMBER_NARROW = 90, 130
"""Px that the number has at least; in a narrow window it stands above all else."""


class TeardownPage(Page):
    """`chosen` is a part picked out of order; without one the next to pull is at hand."""

    mode = Mode.TEARDOWN

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.work = AtWork(self)
        self.ask, self.loud = Ask(), Loud(self)
        self.buttons = QWidget()
        self.questions = Questions(self, self.ask)
        self.telling = Telling(self, self.work, self.questions, self.loud)
        self.about = PartQuestions(self, self.work, self.questions, self.telling)
        self._next = ""
        self._rest: tuple[str, ...] = ()
        self.view = PieceView()
        self.view.pressed.connect(self.on_tile_pressed)
        self.title = words(1, name="teardown-title")
        most = NUMBER_MM / 25.4 * self.logicalDpiY()
        self.number = BigWord(most=most, align=Qt.AlignmentFlag.AlignLeft, whole=0.5)
        self.number.setObjectName("next-number")
        self.where = words(1.5, bold=True, name="next-where")
        self.stick = words(1.5, name="next-stick")
        self.marks = words(0, name="next-marks")
        self.shout = Shout()
        self.shout.setMinimumHeight(SHOUT_LEAST)
        self.hint = CautionBand(MIND_LINES)
        self.hint.setObjectName("next-hint")
        self.counts = words(1.5, bold=True, name="counts")
        self._make_buttons()
        self._lay_out()
        self.keys = {
            **keys_of((
                self.out_button, self.stays_button, self.note_button, self.mark_button,
                self.place_button, self.rest_button,
            )),
            Qt.Key.Key_Space: self.on_out_pressed,
            Qt.Key.Key_M: self.hint.on_all_pressed,
            Qt.Key.Key_Escape: self.on_escape_pressed,
        }  # fmt: skip

    def _make_buttons(self) -> None:
        self.out_button = MainKeyButton(
            "This is out", "Enter", self.on_out_pressed, name="this-is-out"
        )
        self.stays_button = KeyButton("Stays in", "S", self.on_stays_pressed)
        self.note_button = KeyButton("Note", "N", self.on_note_pressed)
        self.mark_button = KeyButton("Old mark", "O", self.on_old_mark_pressed)
        self.place_button = KeyButton("Put at a place", "P", self.on_place_pressed)
        self.rest_button = KeyButton("All the rest stays on", "A", self.on_rest_pressed)

    def _lay_out(self) -> None:
        grid = QGridLayout(self.buttons)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(self.out_button, 0, 0, 1, 2)
        grid.addWidget(self.stays_button, 1, 0)
        grid.addWidget(self.place_button, 1, 1)
        grid.addWidget(self.note_button, 2, 0)
        grid.addWidget(self.mark_button, 2, 1)
        grid.addWidget(self.rest_button, 3, 0, 1, 2)
        side = QVBoxLayout()
        side.setSpacing(6)
        side.addWidget(self.title)
        head = QHBoxLayout()
        head.setSpacing(12)
        head.addWidget(self.number, 2)
        head.addWidget(self.shout, 3)
        side.addLayout(head, 1)
        side.addWidget(self.hint)
        for label in (self.where, self.stick, self.marks):
            side.addWidget(label)
        side.addSpacing(4)
        # A question is higher than the buttons: the counts make room for it.
        low = self.ask.instead = QWidget()
        under = QVBoxLayout(low)
        under.setContentsMargins(0, 0, 0, 0)
        under.setSpacing(6)
        under.addWidget(self.counts)
        under.addWidget(self.buttons)
        side.addWidget(low)
        side.addWidget(self.ask)
        across = QHBoxLayout()
        across.setSpacing(18)
        across.addWidget(self.view, 3)
        across.addLayout(side, 2)
        content = QWidget()
        whole = QVBoxLayout(content)
        whole.setContentsMargins(14, 10, 18, 12)
        whole.addLayout(across, 1)
        self.nothing = NoPiece(self, scrolled(content, self, LEAST, across, last_first=True))
        column = self.layout()
        assert column is not None
        column.addWidget(self.nothing)

    # What is shown

    def show_piece(self, tag: str) -> None:
        if tag != self.tag:
            self.questions.close()
            self.loud.hide()
        super().show_piece(tag)

    def refresh(self) -> None:
        with self.work.showing() as piece:
            self._show(piece)

    def _show(self, piece: Piece | None) -> None:
        self.buttons.setEnabled(piece is not None)
        self.nothing.stand(piece is None)
        if piece is None:
            self._show_no_piece()
            return
        state = piece_state(self.shop, piece)
        plan = teardown(state)
        self._next = plan.next.short if plan.next else ""
        self._rest = left_in(state)
        self.view.show_hidden = _a_hiding_door_is_out(state)
        looks = teardown_looks(state, plan.next, self.chosen)
        self.view.show_piece(piece, open_doors(piece, looks) if self.view.show_hidden else looks)
        self.counts.setText(_count_words(plan))
        self._show_word()
        part = piece.part(self.chosen) or plan.next
        if part:
            self._show_part(piece, state, part)
        else:
            self._show_finished(piece, back=_is_back(state))

    def _show_word(self) -> None:
        """What was just recorded, with a mark of its own; what is to be pulled stands above."""
        if self.pulled:
            self.shout.show_answer(WordLook.DONE, f"{self.pulled} is out", word=large_word("OUT"))
        elif self.chosen:
            self.shout.show_answer(None, "Enter, or its label: it is out.")
        else:
            self.shout.show_answer(None, "Pull it, stick its label, scan it.")

    def shows(self, answer: object) -> bool:
        told = isinstance(answer, Outcome) and answer.recorded and answer.part == self.pulled
        return bool(told) or self.loud.tells(answer)

    def _show_part(self, piece: Piece, state: PieceState, part: Part) -> None:
        out = _is_out(state, part.short)
        self.title.setText(f"{piece.codename} {piece.tag}: {_title(self.chosen, out)}")
        self.number.show_text(part.short, "ink")
        self.where.setText(named(piece, part))
        stick = where_to_stick(part)
        self.stick.setText(TIED if stick == TIE_ON else stick_it(stick))
        self.hint.show_text(mind_words(piece, part))
        self.marks.setText(_marks(part))
        self.out_button.show_words("Is out already" if out else "This is out")
        self.out_button.setEnabled(not out)
        self.rest_button.setVisible(len(self._rest) > 1)
        self.note_button.show_words(f"Note on {self.subject_at_hand}")
        self.mark_button.show_words(f"Old mark of {self.subject_at_hand}")
        self.place_button.show_words(f"Put {self.subject_at_hand} at")
        self._show_only(True)

    def _show_finished(self, piece: Piece, *, back: bool) -> None:
        name = f"{piece.codename} {piece.tag}"
        self.title.setText(f"{name}: together again" if back else f"{name}: taken apart")
        self.number.show_text("All home" if back else "All out", "go")
        home, out = "Every part is home again or stays in.", "Every part is out or stays in."
        self.where.setText(home if back else out)
        for label in (self.stick, self.marks):
            label.setText("")
        self.hint.show_text("")
        self.out_button.show_words("Go on to the bench")
        self.out_button.setEnabled(True)
        self.rest_button.hide()
        self._show_only(False)

    def _show_only(self, working: bool) -> None:
        for button in (self.stays_button, self.note_button, self.mark_button, self.place_button):
            button.setVisible(working)

    def _show_no_piece(self) -> None:
        self.view.clear()
        self.title.setText(NO_PIECE_AT_WORK)
        self.number.show_text("")
        for label in (self.where, self.stick, self.marks, self.counts):
            label.setText("")
        self.hint.show_text("")
        self.shout.show_answer(None)

    # Scans, presses and keys

    def scanned(self, text: str) -> None:
        """This is out."""
        if self.tag:
            self.acted(self.at_bench.scan(text, trigger=False))

    def on_tile_pressed(self, key: str) -> None:
        """The tile at hand is out; another one is first shown."""
        piece = self.work.piece()
        short = tile_part(piece, key) if piece else ""
        if short:
            self.push(Push.CHOOSE, label=short)
            self.refresh()

    def on_out_pressed(self) -> None:
        if self.tag:
            self.push(Push.ENTER)

    def on_stays_pressed(self) -> None:
        self.push(Push.STAYS)

    def on_rest_pressed(self) -> None:
        if len(self._rest) > 1:
            self.push(Push.REST)

    def fulfil(self, wish: Act) -> None:
        if wish.what is What.GO_TO:
            other = wish.text or self.tag
            self.page_asked.emit("bench" if not wish.text else "teardown", other)

    def take_answer(self, outcome: Outcome) -> None:
        if self.telling.is_of_wall(outcome):
            self.telling.tell_of_wall(outcome)
        elif not self.telling.tell(outcome):
            self.refresh()

    def on_note_pressed(self) -> None:
        self.about.ask_note(self.subject_at_hand)

    def on_old_mark_pressed(self) -> None:
        self.about.ask_old_mark(self.subject_at_hand)

    def on_place_pressed(self) -> None:
        self.about.ask_place(self.subject_at_hand)

    def on_escape_pressed(self) -> None:
        self.loud.hide()
        self.push(Push.LEAVE)
        self.refresh()

    @property
    def chosen(self) -> str:
        """The part picked out of order."""
        return self.hand.part if self.hand.ours and self.hand.waits is Waits.ARMED else ""

    @property
    def pulled(self) -> str:
        """The part that was just recorded as out."""
        return self.hand.part if self.hand.ours and self.hand.waits is Waits.RECORDED else ""

    @property
    def at_hand(self) -> str:
        """The part that a press or key is about."""
        return self.chosen or self._next

    @property
    def subject_at_hand(self) -> str:
        """The part that a note, an old mark or a place is about: the one in the hands."""
        return self.chosen or self.pulled or self._next

    # A half-made entry

    def saved_state(self) -> dict[str, str]:
        return self.questions.half_made()

    def restore_state(self, state: dict[str, str]) -> None:
        self.about.restore(state)

    # Qt

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        narrow = self.width() < LEAST[0]
        self.number.setMinimumHeight(NUMBER_NARROW if narrow else NUMBER_LEAST)


def _is_back(state: PieceState) -> bool:
    """Something came out, and all that did is home."""
    out = [own for own in state.parts.values() if own.was_out]
    return bool(out) and all(own.where in (Where.HOME, Where.STAYS) for own in out)


def _is_out(state: PieceState, short: str) -> bool:
    own = state.parts.get(short)
    return own is not None and own.where is Where.OUT and own.moved is not None


def _a_hiding_door_is_out(state: PieceState) -> bool:
    piece = state.piece
    doors = {o.behind for o in piece.front.openings if o.behind is not None}
    owners = [piece.occupant(number) for number in doors]
    return any(p and state.of(p.short).where is Where.OUT for p in owners)


def _count_words(plan: Teardown) -> str:
    names = {"openings": word_of(Where.OUT), SMALL_THINGS: choice_word("others")}
    told = ((names.get(c.name) or count_word(c.name), c) for c in plan.counts)
    # A count wraps before its name: one that is torn apart is read as another.
    counts = (f"{name} {c.out} of {c.of}".replace(" ", NO_BREAK) for name, c in told)
    return listed(counts)


def _title(chosen: str, out: bool) -> str:
    if not chosen:
        return "pull next"
    return "out already" if out else "pull this one"


def _marks(part: Part) -> str:
    old = f"old mark {part.old_mark}" if part.old_mark else ""
    return "; ".join(w for w in (old, part.note) if w)
