"""Tin cards: the user's own times and limits for a product, beside ours, which they win over."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDoubleSpinBox,
    QFormLayout,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.finish.durations import parse_duration, say_duration
from partsbench.core.finish.products import Product, Ready, TinCard
from partsbench.core.outcomes import Refused
from partsbench.core.said_often import no_pot_life
from partsbench.core.sources import cite
from partsbench.services.known import tins
from partsbench.services.rules.own_waits import own_figures
from partsbench.services.shop import Shop
from partsbench.ui.bench.ready_strip import TITLES
from partsbench.ui.dialogs.lines import Lines, number_field, said, text_field
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import Panel, heading, quiet
from partsbench.ui.theme import grown

WINS = "What stands here wins over our figures; the bench names your card when it answers."
NO_CARD = "No card yet. Copy the times from a tin you use, and keep the card."
UNSAID_C = -30.0
DRAFT = "Not kept yet: what you typed on this card before."
OURS_WIDE = 190


class TinsDialog(ShopDialog):
    """The cards in use at the left; the one chosen, or a new one, at the right."""

    helped_by = "finish"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        super().__init__(shop, tag, parent, name="tins-dialog", title="Tin cards")
        self.list = Lines("tins-list", "Tin cards in use", empty=NO_CARD)
        self.name = text_field("tin-name", "Name of the tin", "blue paint, as you call it")
        self.product = QComboBox()
        self.waits: dict[Ready, tuple[QLineEdit, QLineEdit]] = {}
        self.ours: dict[Ready, QLabel] = {}
        self.least = number_field("tin-least", "Not colder than", "°C", UNSAID_C, 60)
        self.most = number_field("tin-most", "Not warmer than", "°C", UNSAID_C, 60)
        self.humidity = number_field("tin-humidity", "Not damper than", "%", 0, 100)
        self.dew = number_field("tin-dew", "Surface over the dew point by", "°C", 0, 20)
        self.thin = number_field("tin-thin", "Thin at most", "%", 0, 100)
        self.pot = text_field("tin-pot", "Pot life", "4 h")
        self.over = text_field("tin-over", "May be put on", "classes with commas; empty: not said")
        self.under = text_field("tin-under", "May be put on it", "classes with commas")
        self.note = text_field("tin-note", "Note", "where the figures stand on the tin")
        self._as_shown: list[str] = []
        self._card_shown = ""
        self._drafts: dict[str, list[str]] = {}
        self._build()
        self.add_button("New card", "tin-new", self.on_new_asked)
        self.add_button("Used up", "tin-retire", self.on_retire_asked)
        self.save = self.add_button("Keep this card", "tin-save", self.on_save_asked)
        self.resize(980, 640)
        self.refresh()
        self.on_product_chosen()
        self._as_shown = self._typed()
        self.name.setFocus()

    def _build(self) -> None:
        self.product.setObjectName("tin-product")
        self.product.setAccessibleName("Class of product")
        for key, product in tins.classes().items():
            self.product.addItem(product.name, key)
        self.product.currentIndexChanged.connect(self.on_product_chosen)
        self.list.setFixedWidth(grown(230))
        self.list.picked.connect(self.on_card_picked)
        panel = Panel("tin-form")
        form = QFormLayout()
        form.addRow("Name", self.name)
        form.addRow("Class", self.product)
        panel.column.addLayout(form)
        panel.column.addWidget(heading("Ready after"))
        panel.column.addWidget(quiet(WINS))
        panel.column.addLayout(self._times())
        panel.column.addWidget(heading("Limits"))
        panel.column.addLayout(self._limits())
        both = QHBoxLayout()
        left = QVBoxLayout()
        left.addWidget(heading("In use"))
        left.addWidget(self.list, 1)
        both.addLayout(left)
        both.addWidget(panel, 1)
        self.content.addLayout(both)

    def _times(self) -> QGridLayout:
        grid = QGridLayout()
        for column, text in enumerate(("", "no sooner than", "no later than", "our figure")):
            grid.addWidget(QLabel(text), 0, column)
        for place, ready in enumerate(Ready, 1):
            title = TITLES[ready]
            earliest = text_field(f"tin-{ready.value}", f"{title}, no sooner than", "4 h")
            latest = text_field(f"tin-{ready.value}-latest", f"{title}, no later than", "3 d")
            for field in (earliest, latest):
                field.setMaximumWidth(grown(110))
            ours = quiet("")
            ours.setObjectName(f"ours-{ready.value}")
            ours.setMinimumWidth(grown(OURS_WIDE))
            label = QLabel(title)
            label.setBuddy(earliest)
            for column, widget in enumerate((label, earliest, latest, ours)):
                grid.addWidget(widget, place, column)
            self.waits[ready], self.ours[ready] = (earliest, latest), ours
        grid.setColumnStretch(3, 1)
        return grid

    def _limits(self) -> QFormLayout:
        form = QFormLayout()
        for text, widget in (
            ("Not colder than", self.least),
            ("Not warmer than", self.most),
            ("Air not damper than", self.humidity),
            ("Surface over the dew point by", self.dew),
            ("Thin at most", self.thin),
            ("Pot life", self.pot),
            ("May be put on", self.over),
            ("May be put on it", self.under),
            ("Note", self.note),
        ):
            form.addRow(text, widget)
        return form

    # Showing

    def refresh(self) -> None:
        classes = tins.classes()
        self.list.show_lines(
            [f"{c.name}\n{classes[c.product].name}" for c in tins.cards(self.shop)]
        )

    def on_product_chosen(self) -> None:
        """Ours stand beside the fields, each with its source, and what the shop's tries say."""
        product = tins.classes()[str(self.product.currentData())]
        tin = self.name.text().strip()
        own = {f.ready: f for f in own_figures(self.shop)
               if f.product == product.key and f.tin == tin}  # fmt: skip
        for ready, label in self.ours.items():
            figure = own.get(ready)
            label.setText(_ours(product, ready) + (f"\n{figure.short}" if figure else ""))
            label.setToolTip(figure.sentence if figure else "")

    def on_card_picked(self, place: int) -> None:
        cards = tins.cards(self.shop)
        if 0 <= place < len(cards):
            self._turn_to(cards[place])

    def _turn_to(self, card: TinCard) -> None:
        """Show a card, or what was typed on it before; what is typed now can be come back to."""
        typed = self._typed()
        if typed != self._as_shown:
            self._drafts[self._card_shown] = typed
        self._show(card)
        draft = self._drafts.pop(card.name, [])
        if draft:
            for field, text in zip(self._fields(), draft, strict=True):
                if isinstance(field, QComboBox):
                    field.setCurrentText(text)
                elif isinstance(field, QLineEdit):
                    field.setText(text)
                else:
                    field.setValue(float(text))
        self.say(DRAFT if draft else "")

    def _fields(self) -> list[QLineEdit | QComboBox | QDoubleSpinBox]:
        waits = [field for pair in self.waits.values() for field in pair]
        limits = [self.least, self.most, self.humidity, self.dew, self.thin]
        return [
            self.name,
            self.product,
            *waits,
            *limits,
            self.pot,
            self.over,
            self.under,
            self.note,
        ]

    def _typed(self) -> list[str]:
        return [
            field.currentText()
            if isinstance(field, QComboBox)
            else field.text()
            if isinstance(field, QLineEdit)
            else str(field.value())
            for field in self._fields()
        ]

    def _show(self, card: TinCard) -> None:
        self.name.setText(card.name)
        self.product.setCurrentIndex(self.product.findData(card.product))
        for ready, (earliest, latest) in self.waits.items():
            wait = card.waits.get(ready.value)
            earliest.setText(say_duration(wait.earliest) if wait and wait.earliest else "")
            latest.setText(say_duration(wait.latest) if wait and wait.latest else "")
        for box, value in (
            (self.least, card.least_c),
            (self.most, card.most_c),
            (self.humidity, card.most_humidity),
            (self.dew, card.over_dew_c),
            (self.thin, card.thin_most),
        ):
            box.setValue(box.minimum() if value is None else value)
        self.on_product_chosen()
        self.pot.setText(say_duration(card.pot_life) if card.pot_life else "")
        self.over.setText(", ".join(sorted(card.over)))
        self.under.setText(", ".join(sorted(card.under)))
        self.note.clear()
        self._card_shown, self._as_shown = card.name, self._typed()

    # Doing

    def on_new_asked(self) -> None:
        self._turn_to(TinCard("", str(self.product.currentData())))
        self.list.clearSelection()
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)

    def on_save_asked(self) -> None:
        card = self.card()
        answer = card if isinstance(card, Refused) else tins.put(self.shop, card, self.note.text())
        if self.settle(answer):
            self._card_shown, self._as_shown = self.name.text().strip(), self._typed()

    def on_retire_asked(self) -> None:
        self.settle(tins.retire(self.shop, self.name.text().strip()))

    def card(self) -> TinCard | Refused:
        """What stands in the fields."""
        waits = {}
        for ready, (earliest, latest) in self.waits.items():
            if earliest.text().strip() or latest.text().strip():
                wait = tins.wait(_spaced(earliest.text()), _spaced(latest.text()))
                if isinstance(wait, Refused):
                    return wait.at(TITLES[ready])
                waits[ready.value] = wait
        pot = self.pot.text().strip()
        life = parse_duration(pot) if pot else None
        if pot and life is None:
            return Refused(no_pot_life(pot))
        return TinCard(
            self.name.text().strip(),
            str(self.product.currentData()),
            waits,
            said(self.least),
            said(self.most),
            said(self.humidity),
            said(self.dew),
            said(self.thin),
            life,
            _classes(self.over.text()),
            _classes(self.under.text()),
        )


def _ours(product: Product, ready: Ready) -> str:
    timed = product.times.get(ready)
    if timed is None:
        return "no figure: only the tin knows"
    told = timed.source.said or say_duration(timed.time)
    return cite(timed.source.text, timed.source.status, told)


def _spaced(text: str) -> str:
    """`3 h 10`, as lengths are shown, is taken back as `3 h 10 min`."""
    words = text.split()
    short = len(words) == 3 and words[1] == "h" and words[2].isdecimal()
    return f"{text.strip()} min" if short else text.strip()


def _classes(text: str) -> frozenset[str]:
    return frozenset(word.strip() for word in text.split(",") if word.strip())
