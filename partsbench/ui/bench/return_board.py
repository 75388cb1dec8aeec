"""What the Return page shows: the front filling up, what was scanned, moves, what is missing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from partsbench.core.key_words import large_word, word_of
from partsbench.core.outcomes import Answer, Outcome
from partsbench.core.piece.codes import Family, short_number
from partsbench.core.piece.parts import HomeKind
from partsbench.core.piece.piece import home_words
from partsbench.core.said_often import NO_PIECE_AT_WORK
from partsbench.services.acts.by_count import alike_left
from partsbench.services.acts.returning import (
    FitResult,
    Missing,
    missing,
    moves_home,
)
from partsbench.services.known.state import SEATED, PieceState
from partsbench.ui.bench.ask import Ask
from partsbench.ui.bench.caution_band import CautionBand
from partsbench.ui.bench.controls import KeyButton, MainKeyButton, keys_of, words
from partsbench.ui.bench.looks import open_doors, return_looks
from partsbench.ui.bench.moves_list import arrows, move_lines
from partsbench.ui.bench.shout import Shout, WordLook
from partsbench.ui.bench.tray import tray_lines
from partsbench.ui.big_word import BigWord
from partsbench.ui.piece_view import PieceView
from partsbench.ui.theme import grown, words_at

READ_FROM_M = 2.0
SHOUT_LEAST, MIND_LINES = 92, 3
MOST_UNFINISHED, MOST_NAMED = 3, 4
FITS = (
    (FitResult.FREE, "Runs free", "free"),
    (FitResult.TIGHT, "Tight", "tight"),
    (FitResult.WAX, "Needs wax", "wax"),
    (FitResult.STICKS, "Sticks", "sticks"),
)
"""How a part may run, and what its button says; the keys are 1 to 4."""
LEFT = Qt.AlignmentFlag.AlignLeft


@dataclass(frozen=True, slots=True)
class ReturnActs:
    """What the buttons of the page do, and their keys."""

    enter: Callable[[], None]
    fit: Callable[[FitResult], None]
    elimination: Callable[[], None]
    count: Callable[[], None]
    place: Callable[[], None]
    note: Callable[[], None]
    proof: Callable[[], None]


class FitButton(KeyButton):
    """How a part runs in its home; a press tells that."""

    def __init__(self, words_: str, key: str, result: FitResult, name: str,
                 tell: Callable[[FitResult], None]) -> None:  # fmt: skip
        super().__init__(words_, key, self.on_chosen, name=name)
        self._result, self._tell = result, tell

    def on_chosen(self) -> None:
        self._tell(self._result)


@dataclass(frozen=True, slots=True)
class Returning:
    """How far it is: a home that waits, a part whose home is lit, the last answer, the part that
    may be given a fit result, and the one that a note is about; 0, "" and None for none."""

    waiting: int = 0
    lit: str = ""
    last: Outcome | None = None
    fitting: str = ""
    at_hand: str = ""


class ReturnBoard(QWidget):
    """The widgets of the page and what stands on them; the page decides what happens.

    `ask` is where the page puts its questions.
    """

    def __init__(self, acts: ReturnActs, ask: Ask) -> None:
        super().__init__()
        at_distance = words_at(READ_FROM_M)
        self.view = PieceView()
        self.title = words(1, name="return-title")
        self.number = BigWord(most=at_distance * 2.4, align=LEFT, whole=0.5)
        self.number.setObjectName("return-number")
        self.number.setMinimumHeight(70)
        self.shout = Shout()
        self.shout.setMinimumHeight(SHOUT_LEAST)
        self.cautions = CautionBand(MIND_LINES)
        self.sentence = BigWord(most=at_distance * 0.62, align=LEFT)
        self.sentence.setObjectName("return-sentence")
        self.sentence.setMinimumHeight(grown(60))
        self.moves = words(1, bold=True, name="moves")
        self.tray = words(0.6, name="tray")
        self.buttons = ask.instead = QWidget()
        ask.spare = self.cautions
        self._make_buttons(acts)
        self._lay_out(ask)

    def _make_buttons(self, acts: ReturnActs) -> None:
        self.home_button = MainKeyButton(
            "It is in its home", "Enter", acts.enter, name="in-its-home"
        )
        self.fit_title = words(1, bold=True, name="fit-title")
        self.fit_buttons = {
            result: FitButton(said, str(key), result, f"fit-{name}", acts.fit)
            for key, (result, said, name) in enumerate(FITS, 1)
        }
        self.elimination_button = KeyButton(
            "The rest by elimination", "E", acts.elimination, name="elimination"
        )
        self.elimination_button.setToolTip(
            "Accepts as home what could go nowhere else: the one left of its size. "
            "It is marked so on the proof sheet."
        )
        self.count_button = KeyButton("Home by count", "C", acts.count, name="home-by-count")
        self.count_button.setToolTip(
            "Says how many of the parts that are alike are home, whichever they are."
        )
        self.place_button = KeyButton("Put at", "P", acts.place)
        self.note_button = KeyButton("Note", "N", acts.note)
        self.proof_button = MainKeyButton("Proof sheet", "Enter", acts.proof, name="proof")
        self.proof_button.setMinimumHeight(grown(110))
        self.so_far_button = KeyButton("Proof sheet so far", "", acts.proof, name="proof-so-far")
        self.keys = keys_of((
            self.home_button, *self.fit_buttons.values(),
            self.elimination_button, self.count_button, self.place_button, self.note_button,
        ))  # fmt: skip

    def _lay_out(self, ask: Ask) -> None:
        grid = QGridLayout(self.buttons)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(self.home_button, 0, 0, 1, 4)
        grid.addWidget(self.fit_title, 1, 0, 1, 4)
        for place, button in enumerate(self.fit_buttons.values()):
            grid.addWidget(button, 2 + place // 2, place % 2 * 2, 1, 2)
        grid.addWidget(self.elimination_button, 4, 0, 1, 4)
        grid.addWidget(self.count_button, 5, 0, 1, 4)
        small = QHBoxLayout()
        for other in (self.place_button, self.note_button, self.so_far_button):
            small.addWidget(other)
        grid.addLayout(small, 6, 0, 1, 4)
        grid.addWidget(self.proof_button, 7, 0, 1, 4)
        side = QVBoxLayout()
        side.setSpacing(6)
        side.addWidget(self.title)
        head = QHBoxLayout()
        head.setSpacing(12)
        head.addWidget(self.number, 2)
        head.addWidget(self.shout, 3)
        side.addLayout(head, 3)
        side.addWidget(self.sentence, 2)
        side.addWidget(self.moves)
        # Above the buttons: a question has its room while there is nothing to mind.
        side.addWidget(self.cautions)
        side.addWidget(self.buttons)
        side.addWidget(ask)
        across = self.turning = QHBoxLayout()
        across.setSpacing(18)
        across.addWidget(self.view, 3)
        across.addLayout(side, 2)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(14, 8, 18, 8)
        whole.addLayout(across, 1)
        whole.addWidget(self.tray)

    # What is shown

    def show_state(self, state: PieceState | None, at: Returning) -> None:
        """Show how far a piece has come home."""
        self.buttons.setEnabled(state is not None)
        if state is None:
            self.view.clear()
            self.title.setText(NO_PIECE_AT_WORK)
            self.number.show_text("")
            self.sentence.show_text("")
            self.shout.show_answer(None)
            self.cautions.show_text("")
            return
        left = missing(state)
        todo = moves_home(state)
        self.view.show_hidden = _hidden_to_fill(state, left)
        looks = return_looks(state, at.waiting, at.lit)
        if self.view.show_hidden:
            looks = open_doors(state.piece, looks)
        self.view.show_piece(state.piece, looks)
        drawn = arrows(todo)
        turns = [a.turns for a in drawn] if len(todo) > 1 else []
        self.view.show_arrows([(a.start, a.end) for a in drawn], turns)
        self.title.setText(f"{state.piece.codename} {state.piece.tag}: {_how_far(state, left)}")
        lines = move_lines(todo) if len(todo) > 1 else []
        self._show_words(state, left, at, lines)
        self.moves.setText("\n".join(lines))
        self.moves.setVisible(bool(lines))
        self.tray.setText("\n".join(tray_lines(state, left)))
        self._show_buttons(state, left, at)

    def _show_words(
        self, state: PieceState, left: list[Missing], at: Returning, lines: list[str]
    ) -> None:
        last = at.last
        self.cautions.show_text("; ".join(last.warnings) if last and not at.waiting else "")
        if at.waiting:
            self.number.show_text(short_number(Family.HOME, at.waiting), "ink")
            self.shout.show_answer(None, "Scan what goes in.")
            self.sentence.show_text("")
        elif at.lit:
            self.number.show_text(at.lit, "ink")
            self._show_home(state, at.lit, last)
        elif last and last.recorded and last.part:
            right = last.answer is Answer.GO
            self.number.show_text(last.part, "ink")
            look, word = (
                (WordLook.DONE, large_word("HOME")) if right else (WordLook.STOP, "NOT HERE")
            )
            self.shout.show_answer(look, word=word)
            open_ = _unfinished(state, last.part) if right else ""
            self.sentence.show_text(f"{last.sentence} {open_}".strip())
        elif not left:
            open_ = _unfinished(state)
            self.number.show_text("All home", "wait" if open_ else "go")
            self.shout.show_answer(None)
            self.sentence.show_text(f"Every part is in its own home. {open_}".strip())
        else:
            self.number.show_text(f"{len(left)} to come", "ink")
            self.shout.show_answer(None, "Scan a home, then what goes in; or a part alone.")
            move = f"Next move: {lines[0].removeprefix('1  ')}" if lines else ""
            self.sentence.show_text(move)

    def _show_home(self, state: PieceState, lit: str, last: Outcome | None) -> None:
        """Where it goes, as large as the word; and whether it may be handled yet."""
        part = state.piece.part(lit)
        home = short_number(Family.HOME, part.home.number) if part and part.home.number else ""
        waits = last is not None and last.answer is Answer.WAIT
        look = WordLook.WAIT if waits else WordLook.GO
        self.shout.show_answer(look, "too soon" if waits else "", word=home or word_of(look))
        self.sentence.show_text(_where(state, lit))

    def _show_buttons(self, state: PieceState, left: list[Missing], at: Returning) -> None:
        self.home_button.setVisible(bool(at.lit))
        fitting = bool(at.fitting)
        self.fit_title.setText(f"How does {at.fitting} run?" if fitting else "")
        self.fit_title.setVisible(fitting)
        for each in self.fit_buttons.values():
            each.setVisible(fitting)
        openings_left = any(m.part.family in SEATED for m in left)
        self.elimination_button.setVisible(openings_left and not at.lit and not fitting)
        self.count_button.setVisible(bool(alike_left(state, left)) and not at.lit and not fitting)
        for button in (self.place_button, self.note_button):
            button.setVisible(bool(at.at_hand) and not fitting)
        self.proof_button.setVisible(not left and not fitting)
        self.so_far_button.setVisible(bool(left) and not fitting)


def _where(state: PieceState, short: str) -> str:
    """`lives in H2, row 1, right` for a part."""
    part = state.piece.part(short)
    if part is None:
        return ""
    if part.home.kind is HomeKind.STAYS:
        return home_words(state.piece, part)
    where = home_words(state.piece, part)
    if not part.home.number:
        return f"lives {where}"
    return f"lives in {short_number(Family.HOME, part.home.number)}, {where}"


def _unfinished(state: PieceState, only: str = "") -> str:
    """What goes home before its finish is done, by its next step: it may be a dry fit, but that is
    said. All of the piece, or `only` one part; "" for none."""
    due: dict[str, list[str]] = {}
    for short, part in state.parts.items():
        if part.next_step and only in ("", short):
            due.setdefault(part.next_step.name, []).append(short)
    if only:
        return f"Not finished: {next(iter(due))} comes next." if due else ""
    told = [
        f"{', '.join(each) if len(each) <= MOST_NAMED else f'{len(each)} parts'}: {step}"
        for step, each in due.items()
    ]
    more = [f"and {len(told) - MOST_UNFINISHED} more"] if len(told) > MOST_UNFINISHED else []
    return f"Not finished: {'; '.join([*told[:MOST_UNFINISHED], *more])}." if told else ""


def _how_far(state: PieceState, left: list[Missing]) -> str:
    homes = [s for s in state.parts.values() if s.part.family in SEATED]
    waiting = {m.part.short for m in left}
    home = sum(s.part.short not in waiting for s in homes)
    return f"{home} of {len(homes)} homes filled"


def _hidden_to_fill(state: PieceState, left: list[Missing]) -> bool:
    """What a door hides is shown until it is back, and the door itself is not yet."""
    hidden = {o.number for o in state.piece.front.openings if o.behind is not None}
    out = {m.part.home.number for m in left if m.part.family in SEATED}
    doors = {o.behind for o in state.piece.front.openings if o.behind is not None}
    return bool(hidden & out) or bool(doors & out)
