"""Seams of a piece with their lengths, and the tape on them: put on and taken off by record."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QLabel, QTableView, QWidget

from partsbench.core.finish.durations import parse_duration
from partsbench.core.finish.masks import MaskState
from partsbench.core.outcomes import Outcome, Refused
from partsbench.core.piece.spot import WHOLE, Spot
from partsbench.services.acts import masks
from partsbench.services.acts.bench import stated
from partsbench.services.acts.masks import SeamLine
from partsbench.services.rules.marking import Tape
from partsbench.services.shop import Shop
from partsbench.ui.bench.ask import Ask
from partsbench.ui.bench.controls import words
from partsbench.ui.dialogs.lines import text_field
from partsbench.ui.dialogs.seams_model import SeamsModel
from partsbench.ui.dialogs.shop_dialog import Settled, ShopDialog
from partsbench.ui.insisting import CHOOSE, Insisting, reasons

NO_SEAM = "No two finish paths meet on one part of this piece."


class MasksDialog(ShopDialog):
    """A row for each seam, those without need of tape last; the buttons act on the chosen one,
    covering its first or second face."""

    helped_by = "finish"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        piece = shop.piece(tag)
        title = f"Seams and masks of {piece.codename} {tag}" if piece else "Seams and masks"
        super().__init__(shop, tag, parent, name="masks-dialog", title=title)
        self.model = SeamsModel(self)
        self.table = QTableView()
        self.total = words(1, bold=True, name="seams-total")
        self.ways = words(0, name="mask-ways")
        self.tape = text_field("tape-name", "Tape", "kind of tape")
        self.rating = text_field("tape-rating", "Rated for", "3 d")
        self.at = text_field("mask-at", "When", "now, or 14:20")
        self.ask = Ask()
        self.insisting = Insisting()
        self._again: tuple[str, Spot] = ("", WHOLE)
        self._build()
        self.first = self.add_button("Cover the first", "mask-first", self.on_first_asked)
        self.second = self.add_button("Cover the second", "mask-second", self.on_second_asked)
        self.off = self.add_button("Tape off", "mask-off", self.on_off_asked)
        self.none = self.add_button("No mask needed", "mask-none", self.on_none_asked)
        self.resize(940, 560)
        self.refresh()
        if self.model.lines:
            self.table.selectRow(0)
        self.on_seam_chosen()

    def _build(self) -> None:
        table = self.table
        table.setObjectName("seams")
        table.setAccessibleName("Seams, their lengths and their tape")
        table.setModel(self.model)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        head = table.horizontalHeader()
        head.setStretchLastSection(True)
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        for column, wide in enumerate((210, 210, 110)):
            table.setColumnWidth(column, wide)
        table.selectionModel().selectionChanged.connect(self.on_seam_chosen)
        self.ask.answered.connect(self.on_ask_answered)
        line = QHBoxLayout()
        for text, field in (
            ("Tape", self.tape),
            ("rated for", self.rating),
            ("put on at", self.at),
        ):
            label = QLabel(text)
            label.setBuddy(field)
            line.addWidget(label)
            line.addWidget(field)
        self.content.addWidget(self.total)
        self.content.addWidget(table, 1)
        self.content.addWidget(self.ways)
        self.content.addLayout(line)
        self.content.addWidget(self.ask)

    # Showing

    def refresh(self) -> None:
        place = self.table.currentIndex().row()
        lines = sorted(masks.seams(self.shop, self.tag), key=_needs_none)
        on = {m.covers: m for m in masks.on_now(self.shop, self.tag)}
        self.model.show_seams(lines, on, self.shop.clock())
        self.total.setText(masks.summary(lines) if lines else NO_SEAM)
        if 0 <= place < len(lines):
            self.table.selectRow(place)
        self.on_seam_chosen()

    def seam(self) -> SeamLine | None:
        place = self.table.currentIndex().row()
        return self.model.lines[place] if 0 <= place < len(self.model.lines) else None

    def on_seam_chosen(self) -> None:
        seam = self.seam()
        masked = seam is not None and seam.state is MaskState.MASKED
        self.first.setText(f"Cover {seam.a}" if seam else "Cover the first")
        self.second.setText(f"Cover {seam.b}" if seam else "Cover the second")
        for button in (self.first, self.second, self.none):
            button.setEnabled(seam is not None and not masked)
        self.off.setEnabled(masked)
        self._show_ways(seam)

    def _show_ways(self, seam: SeamLine | None) -> None:
        """From stain to tape, with and without a seal coat: hours and risk."""
        found = []
        for face in (seam.a, seam.b) if seam and not _needs_none(seam) else ():
            ways = masks.ways(self.shop, self.tag, face)
            assert not isinstance(ways, Refused), ways
            found += [f"{face}. {way.sentence}" for way in ways]
        self.ways.setText("\n".join(found))
        self.ways.setVisible(bool(found))

    # Doing

    def on_first_asked(self) -> None:
        self._begin()
        self._put_on(self._chosen().a)

    def on_second_asked(self) -> None:
        self._begin()
        self._put_on(self._chosen().b)

    def on_off_asked(self) -> None:
        self._begin()
        self._take_off(self._covered())

    def on_none_asked(self) -> None:
        seam = self._chosen()
        answer = masks.not_needed(self.shop, self.tag, seam.a, [seam.b])
        if isinstance(answer, Refused):
            answer = masks.not_needed(self.shop, self.tag, seam.b, [seam.a])
        self.settle(answer)

    def _chosen(self) -> SeamLine:
        """The buttons are pressed with a seam chosen only."""
        seam = self.seam()
        assert seam is not None
        return seam

    def _covered(self) -> Spot:
        """The face that is covered; the first, where another window took the tape off meanwhile."""
        seam = self._chosen()
        on = {m.covers for m in masks.on_now(self.shop, self.tag)}
        return seam.b if seam.b in on else seam.a

    def _begin(self) -> None:
        """Nothing was insisted upon yet."""
        self.insisting = Insisting()

    def _put_on(self, covers: Spot) -> None:
        at, rating = self._when(), self._rated()
        if isinstance(at, Refused):
            self.settle(at)
            return
        if isinstance(rating, Refused):
            self.settle(rating)
            return
        self._again = ("on", covers)
        self._taken(masks.put_on(self.shop, self.tag, covers, tape=rating, at=at,
                                 insist=self.insisting.reasons))  # fmt: skip

    def _take_off(self, covers: Spot) -> None:
        at = self._when()
        if isinstance(at, Refused):
            self.settle(at)
            return
        self._again = ("off", covers)
        self._taken(masks.take_off(self.shop, self.tag, covers, at=at,
                                   insist=self.insisting.reasons))  # fmt: skip

    def _taken(self, answer: Settled) -> None:
        if self.settle(answer):
            self.ask.close_question()
        elif isinstance(answer, Outcome) and answer.held:
            self.insisting.refused(answer)
            self.ask.ask("insist", self.insisting.question("Do it"), reasons())

    def on_ask_answered(self, _kind: str, text: str) -> None:
        if not text:
            self.ask.show_fault(CHOOSE)
            return
        self.insisting.give(text)
        which, covers = self._again
        (self._put_on if which == "on" else self._take_off)(covers)

    def _when(self) -> datetime | Refused | None:
        text = self.at.text().strip()
        return None if text in ("", "now") else stated(self.shop, text)

    def _rated(self) -> Tape | Refused:
        text = self.rating.text().strip()
        length = parse_duration(text) if text else None
        if text and length is None:
            return Refused(f"“{text}” is no length of time; write 12 h or 3 d.")
        return Tape(self.tape.text().strip(), length)


def _needs_none(seam: SeamLine) -> bool:
    return seam.state is MaskState.NOT_NEEDED
