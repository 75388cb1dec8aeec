"""One screen for what is on a piece and whether it holds lead, for all of it or some of it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.finish.old_finish import (
    BARE,
    CHEMICAL,
    FOUND,
    FREE,
    NEWER,
    OLDER,
    UNKNOWN,
    WET,
)
from partsbench.core.key_words import choice_word
from partsbench.core.outcomes import Refused
from partsbench.services.acts.bench import stated
from partsbench.services.known import old_finish
from partsbench.services.known.old_finish import Saying
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.lines import Lines, text_field, typed_or_chosen
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import Panel, heading, quiet
from partsbench.ui.theme import grown

ALL = "The whole piece"
NOT_SAID = "not said"
ON_IT = ((NOT_SAID, ""), ("Bare wood", BARE), ("Paint", "paint"),
         ("Varnish or another clear finish", "clear"), ("Nobody knows", UNKNOWN))  # fmt: skip
AGES = ((NOT_SAID, ""), ("Older than that", OLDER), ("Newer than that", NEWER),
        ("Nobody knows", UNKNOWN))  # fmt: skip
TESTS = ((NOT_SAID, ""), ("Tested: none found", FREE), ("Tested: lead found", FOUND),
         ("Not tested, not known", UNKNOWN))  # fmt: skip
WAYS = ((NOT_SAID, ""), ("Wet only", WET), ("By chemistry, with a stripper", CHEMICAL))
HELP = (
    "Varnish and the primer under it may hold lead as well as paint. Nothing is sanded or scraped "
    "dry, and no stripper goes on, until this is answered; “not known” is an answer that holds. "
    "Lead that was found stays found. A kit can mislead, and one face does not speak for another: "
    "in doubt a laboratory. Local rules and licensed practice come first."
)
HOWS = ("", "test kit", "laboratory")


class OldFinishDialog(ShopDialog):
    """Of what at the left, the answers in the middle, what is known at the right."""

    helped_by = "finish"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        piece = shop.piece(tag)
        title = f"Old finish of {piece.codename} {tag}" if piece else "Old finish"
        super().__init__(shop, tag, parent, name="old-finish-dialog", title=title)
        self.places = QListWidget()
        self.on_it = _choice("old-on-it", "What is on it now", ON_IT)
        self.age = _choice("old-age", "Age against the year that local rules name", AGES)
        self.test = _choice("old-test", "What a test for lead found", TESTS)
        self.way = _choice("old-way", "How it is worked", WAYS)
        hows = [choice_word(how) for how in HOWS]
        self.how = typed_or_chosen("old-how", "How it was tested", hows)
        self.where = text_field("old-where", "Where it was tested", "chip from the back edge of D1")
        self.by = text_field("old-by", "Who tested it", "name, or the laboratory")
        self.when = text_field("old-when", "When it was tested", "now, yesterday, 2026-11-25")
        self.known = Lines("old-known", "What is known", empty="No face of it is sanded.")
        self._build()
        self.add_button("Write it down", "old-save", self.on_save_asked)
        self._fill_places()
        self.refresh()
        self.resize(1080, 600)
        self.on_it.setFocus()

    def _build(self) -> None:
        self.places.setObjectName("old-of")
        self.places.setAccessibleName("Of which parts")
        self.places.setSelectionMode(QListWidget.SelectionMode.ExtendedSelection)
        self.places.setFixedWidth(grown(180))
        self.by.setText(self.shop.who)
        panel = Panel("old-form")
        panel.column.addWidget(quiet(HELP))
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        for text, widget in (
            ("What is on it?", self.on_it),
            ("The year your local rules name (USA: 1978)?", self.age),
            ("Lead?", self.test),
            ("Tested how?", self.how),
            ("Where?", self.where),
            ("By whom?", self.by),
            ("When?", self.when),
            ("So it is worked", self.way),
        ):
            form.addRow(text, widget)
        panel.column.addLayout(form)
        panel.column.addStretch(1)
        whole = QHBoxLayout()
        for title, content, share in (
            ("Of what", self.places, 0), ("", panel, 3), ("What is known", self.known, 2),
        ):  # fmt: skip
            column = QVBoxLayout()
            if title:
                column.addWidget(heading(title))
            column.addWidget(content, 1)
            whole.addLayout(column, share)
        self.content.addLayout(whole)

    def _fill_places(self) -> None:
        piece = self.shop.piece(self.tag)
        self._place(ALL, "")
        for part in piece.present if piece else ():
            if any(self.shop.path(f.path).steps for f in part.faces):
                self._place(part.short, part.short)
        self.places.setCurrentRow(0)

    def _place(self, text: str, name: str) -> None:
        item = QListWidgetItem(text, self.places)
        item.setData(Qt.ItemDataRole.UserRole, name)

    def names(self) -> list[str]:
        """The chosen parts; [] for the whole piece."""
        found = [str(i.data(Qt.ItemDataRole.UserRole)) for i in self.places.selectedItems()]
        return [] if "" in found else found

    def refresh(self) -> None:
        piece = self.shop.piece(self.tag)
        lines = [k.sentence for k in old_finish.known(self.shop, piece)] if piece else []
        said = [old_finish.record_words(f) for f in old_finish.records(self.shop, self.tag)]
        self.known.show_lines([*lines, *reversed(said)])

    def on_save_asked(self) -> None:
        said = self.saying()
        if isinstance(said, Refused):
            self.settle(said)
        elif self.settle(old_finish.say(self.shop, self.tag, said, self.names())):
            for box in (self.on_it, self.age, self.test, self.way):
                box.setCurrentIndex(0)

    def saying(self) -> Saying | Refused:
        """What was chosen and typed; the day of a test is today's when none was typed."""
        test = str(self.test.currentData())
        tested = test in (FREE, FOUND)
        on = stated(self.shop, self.when.text() or "now") if tested else None
        if isinstance(on, Refused):
            return on
        texts = (w.strip() for w in (self.how.currentText(), self.where.text(), self.by.text()))
        how, where, by = texts if tested else ("", "", "")
        return Saying(str(self.age.currentData()), str(self.on_it.currentData()), test,
                      str(self.way.currentData()), how, where, by, on)  # fmt: skip


def _choice(name: str, what: str, answers: tuple[tuple[str, str], ...]) -> QComboBox:
    box = QComboBox()
    box.setObjectName(name)
    box.setAccessibleName(what)
    for text, value in answers:
        box.addItem(text, value)
    return box
