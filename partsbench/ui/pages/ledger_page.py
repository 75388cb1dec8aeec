"""The ledger: hours in a piece, what an offer makes of them, costs, the clock and the handover."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from partsbench import files
from partsbench.core.outcomes import Done, Refused
from partsbench.core.said_often import CHOOSE_A_PIECE
from partsbench.services.known.identify import KnownLabel, identify
from partsbench.services.shop import Shop
from partsbench.services.sums import care, hours, money
from partsbench.services.sums.asked.description import SumEntry, Values
from partsbench.services.sums.asked.earning import ENTRIES
from partsbench.services.sums.money import Ledger, earning
from partsbench.services.sums.told import Told
from partsbench.ui import asking
from partsbench.ui.bench.controls import scrolled
from partsbench.ui.big_word import BigWord
from partsbench.ui.hinted import show_hint
from partsbench.ui.main_button import MainButton
from partsbench.ui.pages.no_piece import NoPiece
from partsbench.ui.pages.page import Page
from partsbench.ui.sums.forms import EntryForm
from partsbench.ui.sums.told_view import ToldView
from partsbench.ui.theme import grown, sized

NO_PIECE = Refused(CHOOSE_A_PIECE)


class LedgerPage(Page):
    """One sentence, an offer whose answer changes as it is typed, and where it all went."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setObjectName("ledger-page")
        self._ledger: Ledger | Refused = NO_PIECE
        self.sentence = BigWord(most=34, align=Qt.AlignmentFlag.AlignLeft, parent=self)
        self.offer = QLineEdit(self)
        self.floor = QLabel(self)
        self.keep_offer = QPushButton("Note the offer", self)
        self.clock = MainButton("Start the clock", "clock", self)
        self.step = QLineEdit(self)
        self.figures = ToldView(self)
        self.care = ToldView(self)
        self.forms = [EntryForm(entry, self) for entry in ENTRIES]
        self.invoice = QPushButton("Write the invoice table…", self)
        self.care_sheet = QPushButton("Print the care sheet…", self)
        self._arrange()

    # The page as the window uses it

    def refresh(self) -> None:
        found = money.ledger(self.shop, self.tag) if self.tag else NO_PIECE
        self._ledger = found
        self.nothing.stand(not self.tag)
        self._show_offer()
        told = found if isinstance(found, Refused) else money.tell_ledger(found)
        self.figures.show_told(told)
        self.care.show_told(self._care())
        self.floor.setText(self._floor_words())
        running = hours.running(self.shop, self.tag) if self.tag else ""
        self.clock.setText("Stop the clock" if running else "Start the clock")
        self.step.setPlaceholderText(running or "what you are about to do: sanding")
        for form in self.forms:
            form.show_kept(self.shop)

    def scanned(self, text: str) -> None:
        """A part's last coat and the days that follow from it: for the talk at the door."""
        known = identify(self.shop, text, self.tag)
        if not isinstance(known, KnownLabel):
            self.answered.emit(known)
            return
        name = known.part.short if known.part else f"H{known.home}"
        found = care.care(self.shop, known.piece.tag)
        dates = [] if isinstance(found, Refused) else found.dates
        said = [
            f"{face}: {d.last_coat} on {care.day_words(d.coated)}"
            for d in dates
            for face in d.faces
            if face.part == name
        ]
        self.answered.emit(f"{'; '.join(said)}." if said else f"{name} has no coat on it yet.")

    def saved_state(self) -> dict[str, str]:
        return {"offer": self.offer.text(), "step": self.step.text()}

    def restore_state(self, state: dict[str, str]) -> None:
        self.offer.setText(state.get("offer", ""))
        self.step.setText(state.get("step", ""))

    # What happened

    def on_offer_edited(self, _text: str) -> None:
        self._show_offer()

    def on_offer_kept(self) -> None:
        if not self.offer.text().strip():
            self.answered.emit(Refused("Type the offer first."))
            return
        done = money.note_money(self.shop, self.tag, "offer", self.offer.text(), self.offer.text())
        self._told(done)
        if isinstance(done, Done):
            self.offer.clear()

    def on_clock_pressed(self) -> None:
        if not self.tag:
            self.answered.emit(NO_PIECE)
        elif hours.running(self.shop, self.tag):
            self._told(hours.end_work(self.shop, self.tag))
        else:
            self._told(hours.begin_work(self.shop, self.tag, self.step.text()))

    def on_entry_noted(self, entry: SumEntry, values: Values) -> None:
        if not self.tag:
            self.answered.emit(NO_PIECE)
            return
        done = entry.note(self.shop, self.tag, values)
        self._told(done)
        if isinstance(done, Done):
            for form in self.forms:
                if form.entry is entry:
                    form.fields.clear()
                    form.show_kept(self.shop)

    def on_invoice_asked(self) -> None:
        text = money.invoice_csv(self.shop, self.tag) if self.tag else NO_PIECE
        self._write(text, "Write the invoice table", "invoice.csv")

    def on_care_asked(self) -> None:
        if not self.tag:
            self.answered.emit(NO_PIECE)
            return
        from partsbench.ui.dialogs.paper_dialogs import CareDialog

        made = CareDialog(self.shop, self.tag, self)
        made.settled.connect(self.answered)
        made.open()

    # Inside

    def _told(self, done: Done | Refused) -> None:
        self.answered.emit(done)
        if isinstance(done, Done):
            self.refresh()
            self.changed.emit()

    def _show_offer(self) -> None:
        """`You have 14.5 h in it; at 640 you earn 29 an hour.`; what was sold takes no offer."""
        if isinstance(self._ledger, Refused):
            self.sentence.show_text(self._ledger.sentence, "quiet")
            self.floor.hide()
            return
        sold = self._ledger.sold
        for widget in (self.offer, self.keep_offer):
            widget.setDisabled(sold is not None)
        typed = "" if sold else self.offer.text().strip()
        told = typed or self._ledger.offers or self._ledger.floor is None
        self.floor.setVisible(bool(told) and not sold)
        if not typed:
            self.sentence.show_text(self._ledger.sentence, "ink")
            return
        answer = money.answer_offer(self._ledger, typed)
        worked = self._ledger.hours.you_have
        if isinstance(answer, Refused):
            self.sentence.show_text(f"{worked}. {answer.sentence}", "quiet")
            return
        role = "stop" if answer.net < 0 else "ink"
        self.sentence.show_text(f"{worked}; at {answer.price:.0f} {earning(answer)}.", role)

    def _floor_words(self) -> str:
        if isinstance(self._ledger, Refused):
            return ""
        if self._ledger.floor is None:
            return "Say what an hour should earn, and the lowest price is told."
        return self._ledger.floor.sentence

    def _care(self) -> Told | Refused:
        found = care.care(self.shop, self.tag) if self.tag else NO_PIECE
        return found if isinstance(found, Refused) else care.tell_care(found)

    def _write(self, made: str | Refused, title: str, name: str) -> None:
        if isinstance(made, Refused):
            self.answered.emit(made)
            return
        target = asking.ask_new_file(self, title, asking.file_name(self.shop, self.tag, name))
        if target is None:
            return
        # Spreadsheets take a table for the machine's own letters unless the file says otherwise.
        fault = files.write(target, made.encode("utf-8-sig"))
        if fault:
            self.answered.emit(fault)
            return
        self.answered.emit(Done(f"Written: {target}."))

    def _arrange(self) -> None:
        self.sentence.setObjectName("ledger-sentence")
        self.sentence.setFixedHeight(grown(104))
        self.offer.setObjectName("offer")
        self.offer.setAccessibleName("An offer")
        show_hint(self.offer, "an offer: 640")
        self.offer.setFont(sized(2.4, bold=True))
        self.offer.setMinimumHeight(grown(48))
        self.offer.setMaximumWidth(grown(240))
        self.offer.textChanged.connect(self.on_offer_edited)
        self.offer.returnPressed.connect(self.on_offer_kept)
        self.floor.setObjectName("floor")
        self.floor.setFont(sized(1.2))
        self.floor.setWordWrap(True)
        self.keep_offer.setObjectName("keep-offer")
        self.keep_offer.clicked.connect(self.on_offer_kept)
        self.step.setObjectName("step")
        self.step.setAccessibleName("Work")
        self.step.returnPressed.connect(self.on_clock_pressed)
        self.clock.clicked.connect(self.on_clock_pressed)
        self.invoice.setObjectName("write-invoice")
        self.invoice.clicked.connect(self.on_invoice_asked)
        self.care_sheet.setObjectName("write-care")
        self.care_sheet.clicked.connect(self.on_care_asked)
        self.figures.sentence.hide()
        self.care.sentence.setFixedHeight(grown(56))
        for form in self.forms:
            form.noted.connect(self.on_entry_noted)
        self._lay_out()

    def _lay_out(self) -> None:
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(16, 12, 16, 12)
        column.setSpacing(10)
        column.addWidget(self.sentence)
        offer = QHBoxLayout()
        for widget in (self.offer, self.keep_offer):
            offer.addWidget(widget)
        offer.addWidget(self.floor, 1)
        offer.addStretch(0)
        column.addLayout(offer)
        halves = QHBoxLayout()
        halves.setSpacing(24)
        halves.addLayout(self._left(), 3)
        halves.addLayout(self._right(), 2)
        column.addLayout(halves)
        column.addStretch(1)
        content = QWidget()
        scrolled(body, content, (900, 600), halves)
        self.nothing = NoPiece(self, content, "its hours and money stand")
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.addWidget(content)
        page.addWidget(self.nothing)
        self.setFocusProxy(self.offer)

    def _left(self) -> QVBoxLayout:
        left = QVBoxLayout()
        left.setSpacing(8)
        left.addWidget(_heading("Where it went"))
        left.addWidget(self.figures)
        left.addWidget(self.invoice)
        left.addWidget(_heading("Care: days from the last coats"))
        left.addWidget(self.care)
        left.addWidget(self.care_sheet)
        left.addStretch(1)
        return left

    def _right(self) -> QVBoxLayout:
        right = QVBoxLayout()
        right.setSpacing(8)
        right.addWidget(_heading("The clock"))
        right.addWidget(self.step)
        right.addWidget(self.clock)
        for form in self.forms:
            right.addWidget(form)
        right.addStretch(1)
        return right


def _heading(words: str) -> QLabel:
    label = QLabel(words)
    label.setFont(sized(0.6, bold=True))
    return label
