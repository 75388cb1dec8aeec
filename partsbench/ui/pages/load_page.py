"""The Load: what one filling of the gun coats, in which order, and its record in one go."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QHBoxLayout, QListView, QSizePolicy, QVBoxLayout, QWidget

from partsbench.core.bench.events import Act, Push, Took, What
from partsbench.core.bench.state import Mode, load_code
from partsbench.core.finish.cups import StoredCup
from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Outcome, Refused
from partsbench.core.piece.codes import CodeFault, parse_code
from partsbench.core.piece.piece import Piece
from partsbench.core.shown_times import time_of_day, weekday
from partsbench.core.wording import listed, plural
from partsbench.services.acts import loads
from partsbench.services.acts.loads import Proposal
from partsbench.services.known.cautions import words as caution_words
from partsbench.services.shop import Shop
from partsbench.ui.bench.ask import Ask
from partsbench.ui.bench.caution_band import CautionBand
from partsbench.ui.bench.controls import KeyButton, MainKeyButton, keys_of, words
from partsbench.ui.bench.next_record import WhenQuestion, WhyQuestion
from partsbench.ui.bench.questions import Questions
from partsbench.ui.big_word import BigWord
from partsbench.ui.load.cup_panel import CupPanel
from partsbench.ui.load.load_model import LoadLine, LoadModel, load_lines
from partsbench.ui.pages.no_piece import NoPiece
from partsbench.ui.pages.page import Page
from partsbench.ui.piece_view import Pattern, PieceView, TileLook
from partsbench.ui.piece_view.keys import tile_key
from partsbench.ui.theme import grown, sized, words_at

SIDE = 330
MOST_WAITING = 4
IT_IS_SO = "It is so"
TIMES = ("now", "30 min ago", "1 h ago")


class LoadPage(Page):
    """Before: a proposal. Then a load that is taken: ticks, a time, and one record for all.

    A scan of a part in the load takes its tick off or puts it on; nothing is recorded by that.
    """

    mode = Mode.LOAD

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.proposal: Proposal | None = None
        self.number = 0
        """The load that is taken and not ended; 0 for none."""
        self.title = BigWord(most=words_at(2.0) * 1.3, align=Qt.AlignmentFlag.AlignLeft)
        self.title.setObjectName("load-title")
        self.order = words(0.6, name="load-order")
        self.cautions = CautionBand()
        self.view = PieceView()
        self.cup_panel = CupPanel(shop)
        self.model = LoadModel(self)
        self.list = QListView()
        self.waiting = words(0, name="load-waiting")
        self.main = MainKeyButton("Take this load", "Enter", self.on_main_pressed, name="load-main")
        self.strip = KeyButton("Tally strip…", "P", self.on_strip_pressed, name="tally-strip")
        self.time = KeyButton("At a time", "A", self.on_time_pressed, name="load-time")
        self.all_button = KeyButton("Tick all", "T", self.on_all_pressed, name="tick-all")
        self.drop = KeyButton("Give it up", "G", self.on_drop_pressed, name="load-drop")
        self.keys = {
            **keys_of((self.main, self.strip, self.time, self.all_button, self.drop)),
            Qt.Key.Key_M: self.cautions.on_all_pressed,
        }
        self.ask = Ask()
        self.questions = Questions(self, self.ask)
        self.when = WhenQuestion(self, self.questions, "When was it coated?", TIMES)
        self.why = WhyQuestion(self, self.questions)
        self.questions.heard_by("confirm", self.on_confirmed)
        self.content = QWidget()
        self.nothing = NoPiece(self, self.content)
        self._build()

    # Building

    def _build(self) -> None:
        self.title.setMinimumHeight(64)
        self.list.setObjectName("load-list")
        self.list.setAccessibleName("The load in spray order; Space ticks what is coated")
        self.list.setModel(self.model)
        self.list.setFont(sized(1.6))
        self.list.setSpacing(3)
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.model.ticked.connect(self.on_ticked)
        self.cup_panel.chosen.connect(self.on_cup_chosen)
        self.cup_panel.asked.connect(self.refresh)
        self.view.setMinimumSize(260, 150)
        for tall in (self.view, self.list):
            # As high as there is room, and no reason for the page to scroll.
            tall.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        side = QWidget()
        side.setFixedWidth(grown(SIDE))
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.cup_panel)
        column.addWidget(self.waiting)
        column.addStretch(1)
        across = QHBoxLayout()
        across.setSpacing(18)
        across.addWidget(self.view, 5)
        across.addWidget(self.list, 4)
        across.addWidget(side)
        below = self.ask.instead = QWidget()
        foot = QHBoxLayout(below)
        foot.setContentsMargins(0, 0, 0, 0)
        foot.addWidget(self.main, 1)
        for button in (self.strip, self.time, self.all_button, self.drop):
            button.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
            foot.addWidget(button)
        whole = QVBoxLayout(self.content)
        whole.setContentsMargins(18, 12, 18, 10)
        whole.setSpacing(8)
        whole.addWidget(self.title)
        whole.addWidget(self.cautions)
        whole.addWidget(self.order)
        whole.addLayout(across, 1)
        whole.addWidget(self.ask)
        whole.addWidget(below)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.addWidget(self.content)
        page.addWidget(self.nothing)

    # What is in hand

    @property
    def at(self) -> datetime | None:
        """The time that was stated for the load."""
        return self.at_bench.state.at

    def cup(self) -> StoredCup | None:
        return self.at_bench.cup

    def left_out(self) -> list[str]:
        """Short numbers of the parts that are ticked off."""
        codes = [parse_code(code) for code in self.at_bench.state.left_out]
        return [c.short for c in codes if not isinstance(c, CodeFault) and c.tag == self.tag]

    # Showing

    def refresh(self) -> None:
        piece = self.shop.piece(self.tag) if self.tag else None
        self.number = loads.open_load(self.shop, self.tag) if piece else 0
        self.at_bench.take(Took(load=self.number))
        state = self.at_bench.state
        self.cup_panel.show_cup(state.cup)
        spread, holds = self.cup_panel.spread.value(), self.cup_panel.holds.value()
        asked = (self.shop, self.tag, spread, holds, self.cup())
        self.proposal = loads.propose(*asked) if piece else None
        self.nothing.stand(piece is None)
        if piece is None:
            self.model.show_load([], (), taken=False)
            self.view.clear()
        elif self.number:
            self._show_taken(piece)
        else:
            self._show_proposal(piece)
        self.cautions.show_text(self._what_to_mind(piece))
        self.list.setVisible(bool(self.model.lines))
        self._show_foot()

    def _what_to_mind(self, piece: Piece | None) -> str:
        """The cautions of the coat that is about to go on, each time: the gun is in the hand."""
        step = self.proposal.load.step if self.proposal else None
        if piece is None or step is None:
            return ""
        return "  ".join(filter(None, (*caution_words(step.cautions), step.note)))

    def _show_proposal(self, piece: Piece) -> None:
        assert self.proposal is not None
        load, step = self.proposal.load, self.proposal.load.step
        faces = len(load.faces)
        self.title.show_text(
            plural(faces, f"Next: {step.name}, 1 face", f"Next: {step.name}, {faces} faces")
            if step
            else self.proposal.sentence
        )
        self.order.setText(self._order_words())
        lines = load_lines(load.faces, [s.face for s in load.stragglers])
        self.model.show_load(lines, (), taken=False)
        self._show_piece(piece, lines)
        told = waiting_words(self.proposal, self.shop.clock())
        more = len(told) - MOST_WAITING
        told = [*told[:MOST_WAITING], *([f"and {more} more wait"] if more > 0 else [])]
        self.waiting.setText("\n".join(["Not yet:", *told]) if told else "")

    def _show_taken(self, piece: Piece) -> None:
        found = loads.find(self.shop, self.number)
        assert not isinstance(found, Refused)
        lines = load_lines(found.faces)
        out = self.left_out()
        coated = len(lines) - len(out)
        self.title.show_text(f"Load {self.number}: {coated} of {len(lines)} parts coated")
        self.order.setText(
            "Take the tick off what was not coated: Space, a scan, or its number typed. "
            "Then record all in one go."
        )
        self.model.show_load(lines, out, taken=True)
        self._show_piece(piece, lines)
        self.waiting.setText(f"Not coated: {', '.join(out)}" if out else "")

    def _order_words(self) -> str:
        assert self.proposal is not None
        load = self.proposal.load
        if load.step is None:
            return ""  # the title says it
        words_ = [self.proposal.sentence]
        for place, cup in enumerate(load.cups[:-1], 1):
            words_.append(f"Break {place} after {cup[-1]}.")
        return " ".join(words_)

    def _show_piece(self, piece: Piece, lines: list[LoadLine]) -> None:
        """The piece with the place of each part in spray order; the others are pale."""
        out = set(self.left_out()) if self.number else set()
        looks: dict[str, TileLook] = {}
        for line in lines:
            part = piece.part(line.short)
            assert part is not None
            pattern = Pattern.HATCHED if line.short in out else Pattern.FILLED
            told = f"{line.short}, {line.place} in spray order"
            looks[tile_key(piece, part)] = TileLook(
                line.short, f"{line.place}.", pattern, f"{told}, not coated" if out else told
            )
        self.view.show_piece(piece, looks)

    def _show_foot(self) -> None:
        ready = self.proposal is not None and self.proposal.load.step is not None
        out, lines = len(self.left_out()), len(self.model.lines)
        if self.number:
            some = f"Record {lines - out} of {lines} coated" if out else "Record: all coated"
            self.main.show_words(some)
        else:
            self.main.show_words("Take this load")
        self.main.setEnabled(lines > out if self.number else ready)
        for button in (self.strip, self.time, self.all_button, self.drop):
            button.setEnabled(bool(self.number))
        said = f"At {time_of_day(self.at, self.shop.clock())}" if self.at else "At a time"
        self.time.show_words(said)

    # Scans and doing

    def scanned(self, text: str) -> None:
        self.acted(self.at_bench.scan(text, trigger=False))

    def take_answer(self, outcome: Outcome) -> None:
        super().take_answer(outcome)
        load = f"load {self.number}"
        if outcome.recorded:
            self.questions.close()
        elif outcome.unconfirmed and self._of_the_load():
            self.questions.about(load, "confirm", outcome.sentence, [IT_IS_SO])
        elif outcome.held and self._of_the_load():
            self.why.ask(load, f"Record {load}", outcome.holds, before=outcome.sentence)
        self.refresh()

    def _of_the_load(self) -> bool:
        return self.hand.code == load_code(self.at_bench.state.load)

    def fulfil(self, wish: Act) -> None:
        if wish.what is What.GO_TO:
            self.page_asked.emit("load", wish.text)

    def on_ticked(self, short: str, coated: bool) -> None:
        if (short in self.left_out()) == coated:
            self.push(Push.TICK, label=short)
        self.refresh()

    def on_all_pressed(self) -> None:
        for short in self.left_out():
            self.push(Push.TICK, label=short)
        self.refresh()

    def on_cup_chosen(self, number: int) -> None:
        self.at_bench.take(Took(cup=number))
        self.refresh()

    def on_main_pressed(self) -> None:
        if self.main.isEnabled():
            self.push(Push.ENTER)

    def on_drop_pressed(self) -> None:
        if self.number:
            self.answered.emit(loads.give_up(self.shop, self.number))
            self.changed.emit()
            self.refresh()

    def on_time_pressed(self) -> None:
        if self.number:
            self.when.ask()

    def on_confirmed(self, text: str) -> None:
        if text == IT_IS_SO:
            self.push(Push.ENTER)
        else:
            self.questions.refuse(f"Press “{IT_IS_SO}”, or leave it.")

    def on_strip_pressed(self) -> None:
        if self.number:
            self.tally_dialog().open()

    def tally_dialog(self) -> QDialog:
        """The strip of the load that is taken, ready to be opened."""
        from partsbench.ui.dialogs.paper_dialogs import TallyDialog

        made = TallyDialog(self.shop, self.tag, self.number, self.cup(), self)
        made.settled.connect(self.answered)
        return made


def waiting_words(proposal: Proposal, now: datetime) -> list[str]:
    """`D4: WAIT until Fri 21:14, wipe off the stain first needs 3 d`: alike parts in one line."""
    alike: dict[tuple[str, str], list[str]] = {}
    for name, said in proposal.waiting:
        word = word_of(said.answer)
        word = f"{word} until {weekday(said.until, now)}" if said.until else word
        shorts = alike.setdefault((word, said.because), [])
        if name.part not in shorts:
            shorts.append(name.part)
    return [f"{listed(shorts)}: {word}, {because}" for (word, because), shorts in alike.items()]
