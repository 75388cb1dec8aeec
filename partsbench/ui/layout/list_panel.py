"""The list of parts, and the words about the part that is chosen in it."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QFormLayout,
    QLineEdit,
    QPushButton,
    QTableView,
    QWidget,
)

from partsbench.core.outcomes import Refused
from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import HomeKind, Part
from partsbench.core.piece.piece import Piece
from partsbench.services.books import pieces
from partsbench.services.known.state import piece_state
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.fields import Panel, heading, row
from partsbench.ui.layout.looks import part_words
from partsbench.ui.layout.parts_model import PartsFilter, PartsModel, rows_of

WORDS = (
    ("name", "Name"),
    ("old_mark", "Old mark"),
    ("note", "Note"),
    ("contents", "Contents"),
)
OFF_WORDS = "taken off the list"
LEAST_TABLE = 150


class ListPanel(Panel):
    """A search field, the table, and a form for one part."""

    label_asked = Signal()
    part_asked = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__("list-panel", parent)
        self.desk = desk
        self.model = PartsModel(self)
        self.sorted = PartsFilter(self)
        self.sorted.setSourceModel(self.model)
        self.search = QLineEdit()
        self.table = QTableView()
        self.head = heading("")
        self.fields = {word: QLineEdit() for word, _ in WORDS}
        self.fragile = QCheckBox("Fragile or heavy")
        self.secret = QCheckBox("Secret: left off papers that a client may see")
        self.label = QPushButton("Its label…")
        self.off = QPushButton("Take off the list")
        self.add = QPushButton("Add a part…")
        self._stale = True
        self._build()
        self._connect()

    def _build(self) -> None:
        column = self.column
        self.search.setObjectName("part-search")
        self.search.setPlaceholderText("Search: D5, stain, old mark…")
        self.search.setAccessibleName("Search the parts")
        self.search.setClearButtonEnabled(True)
        column.addLayout(row(self.search, self.add))
        self._build_table()
        column.addWidget(self.table, 1)
        column.addWidget(self.head)
        form = QFormLayout()
        form.setVerticalSpacing(4)
        for word, title in WORDS:
            self.fields[word].setObjectName(f"part-{word}")
            self.fields[word].setAccessibleName(title)
            self.fields[word].setProperty("word", word)
            form.addRow(title, self.fields[word])
        column.addLayout(form)
        for name, widget in (
            ("part-fragile", self.fragile), ("part-secret", self.secret),
            ("part-label", self.label), ("part-off", self.off), ("list-add", self.add),
        ):  # fmt: skip
            widget.setObjectName(name)
        column.addWidget(self.fragile)
        column.addWidget(self.secret)
        column.addLayout(row(self.label, self.off))

    def _build_table(self) -> None:
        table = self.table
        table.setObjectName("parts-table")
        table.setAccessibleName("Parts")
        table.setModel(self.sorted)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        table.setTabKeyNavigation(False)
        table.setWordWrap(False)
        table.setMinimumHeight(LEAST_TABLE)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(table.fontMetrics().height() + 8)
        table.horizontalHeader().setStretchLastSection(True)
        table.horizontalHeader().setHighlightSections(False)
        heads = table.horizontalHeader()
        for column in range(self.sorted.columnCount()):
            wide = max(heads.defaultSectionSize(), heads.sectionSizeHint(column))
            heads.resizeSection(column, wide)
        table.setSortingEnabled(True)
        table.sortByColumn(0, Qt.SortOrder.AscendingOrder)

    def _connect(self) -> None:
        self.desk.shown.connect(self.on_shown)
        self.desk.chose.connect(self.on_chose)
        self.search.textChanged.connect(self.sorted.search)
        self.model.edited.connect(self.on_edited)
        self.table.selectionModel().currentRowChanged.connect(self.on_row_changed)
        for field in self.fields.values():
            field.editingFinished.connect(self.on_field_typed)
        self.fragile.clicked.connect(self.on_fragile_clicked)
        self.secret.clicked.connect(self.on_secret_clicked)
        self.label.clicked.connect(self.label_asked)
        self.add.clicked.connect(self.part_asked)
        self.off.clicked.connect(self.on_off_asked)

    # Showing

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._fill()

    def on_shown(self) -> None:
        """The state of every part is read when the list is looked at, not before."""
        self._stale = True
        if self.isVisible():
            self._fill()

    def _fill(self) -> None:
        if self._stale:
            self._stale = False
            piece = self.desk.piece
            first = not self.model.rowCount()
            states = piece_state(self.desk.shop, piece).parts if piece else {}
            self.model.show_rows(rows_of(piece, states) if piece else [])
            if first:
                self._fit_columns()
        self.on_chose()

    def _fit_columns(self) -> None:
        metrics = self.table.fontMetrics()
        for place, words in enumerate(
            ("Number", "front left leg", "front left corner", "Old mark")
        ):
            self.table.setColumnWidth(place, metrics.horizontalAdvance(words) + 22)
        self.table.setColumnWidth(4, 110)
        self.table.setColumnWidth(5, 260)
        self.table.setColumnWidth(6, 180)

    def on_chose(self) -> None:
        part = self.desk.current()
        piece = self.desk.piece
        self._show_part(part)
        self.head.setText(
            f"{part.short}, {part_words(piece, part)}" if part and piece else "No part chosen"
        )
        row_now = self.model.row_of(part.short) if part else -1
        index = self.sorted.mapFromSource(self.model.index(row_now, 0))
        if index.isValid() and index.row() != self.table.currentIndex().row():
            self.table.selectionModel().currentRowChanged.disconnect(self.on_row_changed)
            self.table.selectRow(index.row())
            self.table.scrollTo(index)
            self.table.selectionModel().currentRowChanged.connect(self.on_row_changed)

    def _show_part(self, part: Part | None) -> None:
        for word, field in self.fields.items():
            field.setEnabled(part is not None and (word != "contents" or _holds_things(part)))
            field.setText(str(getattr(part, word)) if part else "")
        for control, word in ((self.fragile, "fragile"), (self.secret, "hidden")):
            control.setEnabled(part is not None)
            control.setChecked(bool(part and getattr(part, word)))
        self.label.setEnabled(part is not None)
        self.off.setEnabled(self._may_go(part))

    def _may_go(self, part: Part | None) -> bool:
        """Before labels, what an opening or the legs ask for is changed there, not here."""
        if part is None or self.desk.piece is None or part.family is Family.CARCASE:
            return False
        drawn = part.home.kind in (HomeKind.OPENING, HomeKind.CORNER, HomeKind.STAYS)
        return self.desk.piece.numbers_fixed or not drawn or part.family is Family.RUNNER

    # Changing

    def on_row_changed(self, now: QModelIndex, _before: QModelIndex) -> None:
        short = self.model.short_at(self.sorted.mapToSource(now).row())
        if short and short != self.desk.part:
            self.desk.choose_part(short)

    def on_edited(self, short: str, word: str, text: str) -> None:
        self._edit(short, word, text)

    def on_field_typed(self) -> None:
        field = self.sender()
        part = self.desk.current()
        if not isinstance(field, QLineEdit) or part is None or not field.isModified():
            return
        field.setModified(False)
        word, text = str(field.property("word")), field.text().strip()
        if text != getattr(part, word):
            self._edit(part.short, word, text)

    def on_fragile_clicked(self, on: bool) -> None:
        short = self.desk.part
        self._told(short, pieces.edit_part(self.desk.shop, self.desk.tag, short, fragile=on))

    def on_secret_clicked(self, on: bool) -> None:
        short = self.desk.part
        self._told(short, pieces.edit_part(self.desk.shop, self.desk.tag, short, hidden=on))

    def _edit(self, short: str, word: str, text: str) -> None:
        only_words = {word: text}
        answer = pieces.edit_part(
            self.desk.shop, self.desk.tag, short, fragile=None, hidden=None, **only_words
        )
        self._told(short, answer)

    def _told(self, short: str, answer: Piece | Refused) -> None:
        self.desk.settle(answer, f"{short}: noted.")

    def on_off_asked(self) -> None:
        part = self.desk.current()
        if part is None:
            return
        answer = pieces.retire_part(self.desk.shop, self.desk.tag, part.short, OFF_WORDS)
        self.desk.settle(answer, f"{part.short} {OFF_WORDS}.")


def _holds_things(part: Part) -> bool:
    return part.family in (Family.BAG, Family.OTHER, Family.DRAWER)
