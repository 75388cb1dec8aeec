"""What is known of the piece, its parts and faces, besides what was done to them."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.finish.facts import FactKind
from partsbench.core.key_words import choice_word, face_word
from partsbench.core.piece.spot import WHOLE, Spot
from partsbench.core.shown_times import day
from partsbench.services.known import facts
from partsbench.services.known.measures import measures
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.lines import Lines, text_field
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.layout.fields import Panel, heading, labelled, quiet
from partsbench.ui.theme import grown

ALL = "The whole piece"
NOT_SAID = "not said"
LEAD_NOTE = (
    "Lead: a test needs its record in the note: what was tested, where, by whom. All of the old "
    "finish is answered in one go under Finish, Old finish and lead."
)


class FactsDialog(ShopDialog):
    """Of what at the left, what is asked in the middle, what was said at the right."""

    helped_by = "finish"

    def __init__(self, shop: Shop, tag: str, parent: QWidget | None = None) -> None:
        piece = shop.piece(tag)
        title = f"What is known of {piece.codename} {tag}" if piece else "What is known"
        super().__init__(shop, tag, parent, name="facts-dialog", title=title)
        self.places = QListWidget()
        self.said = Lines("facts-said", "What was said so far", empty="Nothing yet.")
        self.note = text_field("fact-note", "Note to it", "what was tested, where, by whom")
        self.fields: dict[str, QComboBox | QLineEdit] = {}
        self._build()
        self._fill_places()
        self.refresh()
        self.resize(1040, 600)

    def _build(self) -> None:
        self.places.setObjectName("facts-of")
        self.places.setAccessibleName("Of which parts or faces")
        self.places.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.places.itemSelectionChanged.connect(self.on_places_chosen)
        self.places.setFixedWidth(grown(200))
        panel = Panel("facts-form")
        panel.column.addWidget(heading("What is so?"))
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        for kind in facts.asked():
            form.addRow(kind.asks, self._field(kind))
        panel.column.addLayout(labelled("Note to what is said next", self.note))
        panel.column.addWidget(quiet(LEAD_NOTE))
        panel.column.addLayout(form)
        panel.column.addStretch(1)
        both = QHBoxLayout()
        for title, widget, share in (
            ("Of what", self.places, 0), ("", panel, 3), ("Said so far", self.said, 2),
        ):  # fmt: skip
            column = QVBoxLayout()
            if title:
                column.addWidget(heading(title))
            column.addWidget(widget, 1)
            both.addLayout(column, share)
        self.content.addLayout(both)

    def _field(self, kind: FactKind) -> QWidget:
        name = f"fact-{kind.key.replace(' ', '-')}"
        if kind.answers:
            box = QComboBox()
            box.setObjectName(name)
            box.setAccessibleName(kind.asks)
            box.addItem(NOT_SAID, "")
            for answer in kind.answers:
                box.addItem(choice_word(answer), answer)
            box.activated.connect(self.on_answer_chosen)
            self.fields[kind.key] = box
            return box
        field = text_field(name, kind.asks, kind.typed)
        field.editingFinished.connect(self.on_size_typed)
        self.fields[kind.key] = field
        return field

    def _fill_places(self) -> None:
        piece = self.shop.piece(self.tag)
        self._place(ALL, WHOLE)
        for part in piece.present if piece else ():
            finishing = [f.name for f in part.faces if self.shop.path(f.path).steps]
            if not finishing:
                continue
            self._place(part.short, part.spot())
            for face in finishing if len(finishing) > 1 else ():
                self._place(f"    {face_word(face)}", part.spot(face))
        self.places.setCurrentRow(0)

    def _place(self, text: str, spot: Spot) -> None:
        item = QListWidgetItem(text, self.places)
        item.setData(Qt.ItemDataRole.UserRole, spot)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, str(spot) or ALL)

    # Showing

    def chosen(self) -> list[Spot]:
        """The chosen places; [] for the whole piece."""
        found: list[Spot] = [i.data(Qt.ItemDataRole.UserRole) for i in self.places.selectedItems()]
        return [] if WHOLE in found else found

    def refresh(self) -> None:
        show, now = measures(self.shop), self.shop.clock()
        self.said.show_lines(
            [
                f"{facts.line(f, show)}, {day(f.at, now)} {f.who}".rstrip()
                for f in reversed(facts.said(self.shop, self.tag))
            ]
        )
        self._show_answers()

    def on_places_chosen(self) -> None:
        self._show_answers()

    def _show_answers(self) -> None:
        """What is known of the first chosen place."""
        first, *_ = self.chosen() or [WHOLE]
        known = facts.of_piece(self.shop, self.tag).of(first.part, first.face)
        for key, field in self.fields.items():
            if isinstance(field, QComboBox):
                field.setCurrentIndex(max(0, field.findData(known.get(key, ""))))
            else:
                field.setText(known.get(key, ""))
                field.setModified(False)

    # Doing

    def on_answer_chosen(self) -> None:
        box = self.sender()
        key = next((k for k, f in self.fields.items() if f is box), "")
        if isinstance(box, QComboBox) and key and box.currentData():
            self._say(key, str(box.currentData()))

    def on_size_typed(self) -> None:
        field = self.sender()
        key = next((k for k, f in self.fields.items() if f is field), "")
        if isinstance(field, QLineEdit) and field.isModified() and field.text().strip():
            field.setModified(False)
            self._say(key, field.text())

    def _say(self, key: str, value: str) -> None:
        answer = facts.say(self.shop, self.tag, key, value, self.chosen(), self.note.text())
        if self.settle(answer):
            self.note.clear()
        else:
            self._show_answers()
            self.note.setFocus()
