"""A piece comes in: one question, a drawing that grows as one types, and then its labels."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QSpinBox,
    QStackedLayout,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.outcomes import Done, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.books.pieces import lay_out
from partsbench.services.books.watching import all_pieces
from partsbench.services.shop import Shop
from partsbench.services.shown.first_things import first_things
from partsbench.services.sums.habits import follow_typed
from partsbench.ui.main_button import MainButton
from partsbench.ui.pages.codenames import free_codename
from partsbench.ui.pages.draft import Draft, counted, drawn, size_of
from partsbench.ui.pages.made_panel import MadePanel, step_button
from partsbench.ui.pages.page import Page
from partsbench.ui.piece_view import Pattern, PieceView, TileLook
from partsbench.ui.theme import grown, sized

QUESTION = "How many drawers across in each row, top to bottom?"
EXAMPLE = "2 2 3"
FIRST_WORDS = f"{EXAMPLE} is a piece with two drawers, two below, and three at the bottom."
NARROW = 640
MOST_LEGS, MOST_PULLS = 12, 6


class StartPage(Page):
    """Left the question, right the piece. Enter takes it in; the same place then offers labels."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.form = PieceForm()
        self.made = MadePanel()
        self.view = PieceView()
        self.view.setAccessibleName("The new piece as it will be drawn")
        left = QWidget(self)
        # The stack shows its first widget at once, so it must stand in the page by then.
        self._sides = QStackedLayout(left)
        self._sides.addWidget(self.form)
        self._sides.addWidget(self.made)
        left.setMinimumWidth(grown(300))
        left.setMaximumWidth(grown(560))
        row = QHBoxLayout(self)
        row.setContentsMargins(28, 20, 20, 16)
        row.setSpacing(20)
        row.addWidget(left, 5)
        row.addWidget(self.view, 6)
        self.form.edited.connect(self.on_draft_edited)
        self.form.entered.connect(self.on_entered)
        self.made.asked.connect(self.on_made_asked)
        self.form.sample.clicked.connect(self.on_sample_clicked)
        self.made.another.clicked.connect(self.on_another_clicked)
        self._begin()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Where there is no room for both, the question stays."""
        super().resizeEvent(event)
        self.view.setVisible(self.width() >= NARROW)

    def refresh(self) -> None:
        """Offer a codename that is still free; nothing typed is touched."""
        taken = [piece.codename for piece in all_pieces(self.shop)]
        self.form.offer_codename(free_codename(taken))
        guided = self.window().findChild(QWidget, "guide-dock") is not None
        self.form.sample.setVisible(not taken and not guided)
        self._show_first_things()

    def scanned(self, text: str) -> None:
        """A scan belongs to the bench: show the part there."""
        from partsbench.services.acts.bench import look

        self.answered.emit(look(self.shop, text))

    def saved_state(self) -> dict[str, str]:
        return self.form.texts() if self._sides.currentWidget() is self.form else {}

    def restore_state(self, state: dict[str, str]) -> None:
        self.form.show_texts(state)

    def on_draft_edited(self) -> None:
        piece = drawn(self.form.draft())
        if isinstance(piece, Piece):
            self.view.show_piece(piece)
            self.form.say(counted(piece), fault=False)
            self.form.take.setEnabled(True)
            return
        typed = bool(self.form.rows.text().strip())
        self.form.say(piece.sentence if typed else FIRST_WORDS, fault=typed)
        self.form.take.setEnabled(False)
        if not typed and self._sides.currentWidget() is self.form:
            self._show_example()

    def on_entered(self) -> None:
        draft = self.form.draft()
        piece = drawn(draft)
        if isinstance(piece, Refused):
            self.form.say(piece.sentence, fault=True)
            return
        width, height = size_of(draft.width, "Width"), size_of(draft.height, "Height")
        assert not isinstance(width, Refused)
        assert not isinstance(height, Refused)
        follow_typed(self.shop, draft.width, draft.height)
        made = lay_out(
            self.shop,
            draft.codename,
            draft.rows,
            title=draft.title,
            width=width,
            height=height,
            legs=draft.legs,
            equal_legs=draft.equal_legs,
            pulls=draft.pulls,
            top=draft.top,
        )
        if isinstance(made, Refused):
            self.form.say(made.sentence, fault=True)
            self.answered.emit(made)
            return
        self._show_made(made)

    def on_made_asked(self, key: str) -> None:
        self.page_asked.emit(key, self.tag)

    def on_sample_clicked(self) -> None:
        self.page_asked.emit("sample", "")

    def on_another_clicked(self) -> None:
        self._begin()
        self.form.rows.setFocus()

    def _show_made(self, piece: Piece) -> None:
        self.tag = piece.tag
        self.made.show_made(piece.codename, piece.tag, counted(piece))
        self._sides.setCurrentWidget(self.made)
        self._show_first_things()
        self.form.clear()
        self.view.show_piece(piece)
        self.made.next.setFocus()
        self.answered.emit(Done(f"{piece.codename} {piece.tag} is in the book.", piece.tag))
        self.changed.emit()

    def _show_first_things(self) -> None:
        """What is asked of the new piece before its labels, and what of it is known by now."""
        if self._sides.currentWidget() is self.made:
            self.made.show_things(first_things(self.shop, self.tag))

    def _show_example(self) -> None:
        """The example as a faint outline, so that the question explains itself."""
        piece = drawn(Draft(EXAMPLE))
        assert isinstance(piece, Piece)
        faint = TileLook(pattern=Pattern.EMPTY, description="an example")
        self.view.show_piece(piece, {f"H{o.number}": faint for o in piece.front.openings})

    def _begin(self) -> None:
        self._sides.setCurrentWidget(self.form)
        self.form.clear()
        self.refresh()
        self.on_draft_edited()
        self.setFocusProxy(self.form.rows)


class PieceForm(QWidget):
    """The question, and below it what may be said at once or later."""

    edited = Signal()
    entered = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._offered = ""
        self.rows = _field("rows-field", QUESTION, "")
        self.rows.setFont(sized(7, bold=True))
        self.rows.setMinimumHeight(grown(68))
        self.codename = _field("codename-field", "Codename")
        self.title = _field("title-field", "What it is", "dresser, or nothing")
        self.width_field = _field("width-field", "Width of the front", "900 mm")
        self.height_field = _field("height-field", "Height of the front", "34 1/2 in")
        self.legs = _count("legs-field", "Legs", MOST_LEGS)
        self.equal = QCheckBox("any leg fits any corner")
        self.equal.setObjectName("equal-legs")
        self.pulls = _count("pulls-field", "Pulls on each drawer", MOST_PULLS)
        self.top = QCheckBox("has a top")
        self.top.setObjectName("has-top")
        self.said = QLabel()
        self.said.setObjectName("rows-said")
        self.said.setWordWrap(True)
        self.said.setMinimumHeight(grown(40))
        self.said.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.take = MainButton("Take it in", "take-it-in")
        self.sample = step_button("Or try a whole job on a sample first", "try-sample")
        self._arrange()
        self._connect()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter takes it in, from whichever field; fields leave the key to this form."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        else:
            super().keyPressEvent(event)

    def _arrange(self) -> None:
        question = QLabel(QUESTION)
        question.setObjectName("question")
        question.setFont(sized(3.2, bold=True))
        question.setWordWrap(True)
        question.setBuddy(self.rows)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for widget in (question, self.rows, self.said):
            column.addWidget(widget)
        column.addLayout(self._details())
        column.addStretch(1)
        column.addWidget(self.take)
        column.addWidget(self.sample)

    def _details(self) -> QFormLayout:
        form = QFormLayout()
        form.setVerticalSpacing(8)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.addRow("Codename", self.codename)
        form.addRow("What it is", self.title)
        form.addRow("Width × height", _beside(self.width_field, self.height_field))
        form.addRow("Legs", _beside(self.legs, self.equal))
        form.addRow("Pulls a drawer", _beside(self.pulls, self.top))
        return form

    def _connect(self) -> None:
        for field in self._fields().values():
            field.textChanged.connect(self.on_edited)
        for spin in (self.legs, self.pulls):
            spin.valueChanged.connect(self.on_edited)
        for check in (self.equal, self.top):
            check.toggled.connect(self.on_edited)
        self.take.clicked.connect(self.entered)

    def on_edited(self) -> None:
        self.equal.setEnabled(self.legs.value() > 0)
        self.edited.emit()

    def draft(self) -> Draft:
        return Draft(
            self.rows.text(),
            self.codename.text().strip(),
            self.title.text().strip(),
            self.width_field.text(),
            self.height_field.text(),
            self.legs.value(),
            self.equal.isChecked(),
            self.pulls.value(),
            self.top.isChecked(),
        )

    def offer_codename(self, name: str) -> None:
        """Fill the codename in, unless a person has written one."""
        if self.codename.text().strip() in ("", self._offered):
            self._offered = name
            self.codename.setText(name)

    def say(self, sentence: str, *, fault: bool) -> None:
        """What is drawn, or what is not right yet."""
        self.said.setText(f"✕  {sentence}" if fault else sentence)

    def clear(self) -> None:
        for field in self._fields().values():
            field.clear()
        self._offered = ""
        for spin in (self.legs, self.pulls):
            spin.setValue(0)
        for check in (self.equal, self.top):
            check.setChecked(False)

    def texts(self) -> dict[str, str]:
        """What stands in the form; {} when nothing was typed."""
        if not self.rows.text() and not self.title.text():
            return {}
        flags = {"legs": str(self.legs.value()), "pulls": str(self.pulls.value())}
        flags |= {"equal": str(int(self.equal.isChecked())), "top": str(int(self.top.isChecked()))}
        return {key: field.text() for key, field in self._fields().items()} | flags

    def show_texts(self, state: dict[str, str]) -> None:
        for key, field in self._fields().items():
            if key in state:
                field.setText(state[key])
        for key, spin in (("legs", self.legs), ("pulls", self.pulls)):
            if state.get(key, "").isdigit():
                spin.setValue(int(state[key]))
        for key, check in (("equal", self.equal), ("top", self.top)):
            check.setChecked(state.get(key) == "1")

    def _fields(self) -> dict[str, QLineEdit]:
        return {
            "rows": self.rows,
            "codename": self.codename,
            "title": self.title,
            "width": self.width_field,
            "height": self.height_field,
        }


def _field(name: str, accessible: str, example: str = "") -> QLineEdit:
    field = QLineEdit()
    field.setObjectName(name)
    field.setAccessibleName(accessible)
    field.setPlaceholderText(example)
    field.setTextMargins(6, 3, 6, 3)
    return field


def _count(name: str, accessible: str, most: int) -> QSpinBox:
    spin = QSpinBox()
    spin.setObjectName(name)
    spin.setAccessibleName(accessible)
    spin.setRange(0, most)
    spin.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    spin.setMinimumWidth(grown(84))
    return spin


def _beside(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(10)
    for widget in widgets:
        row.addWidget(widget)
    return row
