"""The board of the shop, and all pieces of the book: found by any word, opened with Enter."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QSortFilterProxyModel,
    Qt,
)
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.outcomes import Done, Refused
from partsbench.core.shown_times import day_and_hour
from partsbench.core.wording import and_list, plural, sentences
from partsbench.services.books.pieces import take_in
from partsbench.services.books.watching import all_pieces
from partsbench.services.shop import Shop
from partsbench.services.shown.putting_away import away, put_away, take_out_again
from partsbench.ui import asking
from partsbench.ui.bench.controls import words
from partsbench.ui.board.shop_board import ShopBoard
from partsbench.ui.empty_hint import EmptyHint
from partsbench.ui.model_index import Index
from partsbench.ui.pages.page import Page
from partsbench.ui.planner import PlanFound, ShopPlanner
from partsbench.ui.theme import grown, sized

COLUMNS = ("Codename", "Tag", "What it is", "Taken in")
TAG_COLUMN = 1

NONE_YET = "No piece is in this book yet. “New piece” asks one question, and the front is drawn."
NONE_FITS = "No piece has that in its codename, its tag or what it is."


class PiecesModel(QAbstractTableModel):
    """The lines of the list; a new list is compared with the old, so that the view keeps calm."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._lines: list[tuple[str, ...]] = []
        self._orders: list[float] = []
        self.away = 0
        """So many pieces of the book are put away."""

    def show_lines(self, shop: Shop, *, with_away: bool = True) -> None:
        """All pieces; `with_away` says whether those that are put away are among them."""
        put_by = away(shop)
        self.away = len(put_by)
        listed = [p for p in all_pieces(shop) if with_away or p.tag not in put_by]
        lines: list[tuple[str, ...]] = [
            (
                p.codename,
                p.tag,
                f"{p.title} (put away)" if p.tag in put_by else p.title,
                day_and_hour(p.taken_in_at),
            )
            for p in listed
        ]
        if lines == self._lines:
            return
        self.beginResetModel()
        self._lines = lines
        self._orders = [p.taken_in_at.timestamp() for p in listed]
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._lines)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(COLUMNS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid():
            return None
        text = self._lines[index.row()][index.column()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return text
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{COLUMNS[index.column()]}: {text}"
        if role == Qt.ItemDataRole.UserRole:
            by_time = index.column() == len(COLUMNS) - 1
            return self._orders[index.row()] if by_time else text.casefold()
        return None

    def headerData(
        self,
        section: int,
        orientation: Qt.Orientation,
        role: int = Qt.ItemDataRole.DisplayRole,
    ) -> object:
        if role == Qt.ItemDataRole.DisplayRole and orientation is Qt.Orientation.Horizontal:
            return COLUMNS[section]
        return None


class PiecesPage(Page):
    """The list of pieces."""

    shows_plan = True

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.model = PiecesModel(self)
        self._proxy = QSortFilterProxyModel(self)
        self._proxy.setSourceModel(self.model)
        self._proxy.setFilterCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self._proxy.setFilterKeyColumn(-1)
        self._proxy.setSortRole(Qt.ItemDataRole.UserRole)
        self.field = QLineEdit()
        self.field.setObjectName("pieces-search")
        self.field.setPlaceholderText("Search: codename, tag, or what it is")
        self.field.setAccessibleName("Search the pieces")
        self.field.setClearButtonEnabled(True)
        self.field.setTextMargins(6, 0, 6, 0)
        self.field.setFont(sized(1))
        self.board = ShopBoard(shop)
        self.board.opened.connect(self.on_card_opened)
        self.board.chosen.connect(self.on_card_chosen)
        self.moved = words(0.2, bold=True, name="pieces-moved")
        self.moved.hide()
        self.with_away = QCheckBox("Also what is put away")
        self.with_away.setObjectName("with-away")
        self.with_away.toggled.connect(self.refresh)
        self.put_by = QPushButton("Put away")
        self.put_by.setObjectName("put-away")
        self.put_by.setShortcut("Ctrl+K")
        self.put_by.clicked.connect(self.on_put_away_clicked)
        self.field.textChanged.connect(self.on_search_changed)
        self.field.returnPressed.connect(self.on_entered)
        self.table = PiecesTable()
        self.table.setModel(self._proxy)
        self.table.arrange()
        self.hint = EmptyHint(self.table, "", 1.5)
        self.table.activated.connect(self.on_line_activated)
        self.table.selectionModel().currentChanged.connect(self._count)
        self.said = QLabel()
        self.said.setObjectName("pieces-said")
        self._arrange()
        self.setFocusProxy(self.field)

    def _arrange(self) -> None:
        heading = QLabel("Pieces")
        heading.setFont(sized(4, bold=True))
        take = QPushButton("Take in a file…")
        take.setObjectName("take-in-file")
        take.clicked.connect(self.on_take_in_clicked)
        new = QPushButton("New piece")
        new.setObjectName("new-piece")
        new.clicked.connect(self.on_new_clicked)
        column = QVBoxLayout(self)
        column.setContentsMargins(18, 10, 18, 10)
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(heading)
        column.addLayout(row)
        for widget in (self.field, take, new):
            widget.setMinimumHeight(grown(40))
            row.addWidget(widget)
        row.setStretch(1, 1)
        column.addWidget(self.board, 4)
        column.addWidget(self.moved)
        column.addWidget(self.table, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.said, 1)
        foot.addWidget(self.with_away)
        foot.addWidget(self.put_by)
        column.addLayout(foot)

    def plan_with(self, planner: ShopPlanner) -> None:
        super().plan_with(planner)
        self.board.plan_with(planner)
        planner.found.connect(self.on_plan_found)

    def on_plan_found(self, found: PlanFound) -> None:
        """No day on a card moves without its reason beside it."""
        self.moved.setText(found.moved)
        self.moved.setVisible(bool(found.moved))

    def refresh(self) -> None:
        self._list()
        self._choose(self.tag)
        self._count()
        self.board.refresh()
        self.board.setVisible(bool(self.board.cards))
        self.board.narrow(self.field.text())
        self._plan()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._plan()

    def _plan(self) -> None:
        if self.isVisible() and self.board.cards:
            self.planner.ask()

    def _list(self) -> None:
        """What is put away is listed when it is asked for, or looked for."""
        looked = self.with_away.isChecked() or bool(self.field.text().strip())
        self.model.show_lines(self.shop, with_away=looked)

    def scanned(self, text: str) -> None:
        """A scanned label opens its piece on the bench."""
        from partsbench.core.outcomes import Outcome
        from partsbench.services.known.identify import identify

        known = identify(self.shop, text)
        if isinstance(known, Outcome):
            self.answered.emit(known)
        else:
            self.page_asked.emit("bench", known.piece.tag)

    def saved_state(self) -> dict[str, str]:
        return {"search": self.field.text()} if self.field.text() else {}

    def restore_state(self, state: dict[str, str]) -> None:
        self.field.setText(state.get("search", ""))

    def on_search_changed(self, text: str) -> None:
        self._list()
        self._proxy.setFilterFixedString(text.strip())
        self.board.narrow(text)
        if not self.table.currentIndex().isValid():
            self.table.selectRow(0)
        self._count()

    def on_entered(self) -> None:
        row = max(0, self.table.currentIndex().row())
        if row < self._proxy.rowCount():
            self._open(row)

    def on_line_activated(self, index: QModelIndex) -> None:
        self._open(index.row())

    def on_card_opened(self, tag: str) -> None:
        self.page_asked.emit("layout", tag)

    def on_card_chosen(self, tag: str) -> None:
        self._choose(tag)
        self._count()

    def on_put_away_clicked(self) -> None:
        tag = self.chosen()
        if not tag:
            return
        act = take_out_again if tag in away(self.shop) else put_away
        said = act(self.shop, tag)
        self.answered.emit(said)
        if isinstance(said, Done):
            self.changed.emit()
            self.refresh()

    def chosen(self) -> str:
        """The tag of the chosen line; "" for none."""
        index = self.table.currentIndex()
        found = self._proxy.index(index.row(), TAG_COLUMN).data() if index.isValid() else ""
        return str(found or "")

    def on_take_in_clicked(self) -> None:
        for file in asking.ask_pieces(self):
            taken = take_in(self.shop, file)
            if isinstance(taken, Refused):
                self.answered.emit(taken)
                return
            self.tag = taken[0].tag
            names = and_list(f"{p.codename} {p.tag}" for p in taken)
            self.answered.emit(Done(f"{names} taken in.", self.tag))
            self.changed.emit()

    def on_new_clicked(self) -> None:
        self.page_asked.emit("start", "")

    def _open(self, row: int) -> None:
        tag = self._proxy.index(row, TAG_COLUMN).data()
        self.page_asked.emit("layout", tag)

    def _choose(self, tag: str) -> None:
        for row in range(self._proxy.rowCount()):
            if self._proxy.index(row, TAG_COLUMN).data() == tag:
                self.table.selectRow(row)
                return

    def _count(self) -> None:
        tag = self.chosen()
        self.put_by.setEnabled(bool(tag))
        out = tag in away(self.shop)
        self.put_by.setText("Take out again  (Ctrl+K)" if out else "Put away  (Ctrl+K)")
        self.put_by.setShortcut("Ctrl+K")  # Qt forgets it when the words change
        shown, of = self._proxy.rowCount(), self.model.rowCount()
        self.hint.setText(NONE_FITS if of else NONE_YET)
        if not of:
            self.said.setText("")
        elif shown == of:
            many = plural(of, "1 piece.", f"{of} pieces.")
            by = f"{self.model.away} put away." if self.model.away else ""
            self.said.setText(sentences(many, "Enter opens the chosen one.", by))
        else:
            self.said.setText(f"{shown} of {of} pieces")


class PiecesTable(QTableView):
    """Whole rows; Enter opens one."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("pieces-table")
        self.setAccessibleName("Pieces of this book")
        self.setSelectionBehavior(QTableView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QTableView.SelectionMode.SingleSelection)
        self.setEditTriggers(QTableView.EditTrigger.NoEditTriggers)
        self.setSortingEnabled(True)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setFont(sized(0.6))
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(38)

    def arrange(self) -> None:
        """Newest first, and what it is takes the room that is left."""
        header = self.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.sortByColumn(len(COLUMNS) - 1, Qt.SortOrder.DescendingOrder)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self.activated.emit(self.currentIndex())
            return
        super().keyPressEvent(event)
