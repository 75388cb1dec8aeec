"""All pieces of the book: found by any word, opened with Enter, taken in from a file."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QSortFilterProxyModel,
    Qt,
)
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
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
from partsbench.services.pieces import take_in
from partsbench.services.shop import Shop
from partsbench.services.watching import all_pieces
from partsbench.ui import asking
from partsbench.ui.empty_hint import EmptyHint
from partsbench.ui.model_index import Index
from partsbench.ui.pages.page import Page
from partsbench.ui.theme import sized

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

    def show_lines(self, shop: Shop) -> None:
        listed = all_pieces(shop)
        lines: list[tuple[str, ...]] = [
            (p.codename, p.tag, p.title, f"{p.taken_in_at.astimezone():%d %b %Y, %H:%M}")
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
        self.field.textChanged.connect(self.on_search_changed)
        self.field.returnPressed.connect(self.on_entered)
        self.table = PiecesTable()
        self.table.setModel(self._proxy)
        self.table.arrange()
        self.hint = EmptyHint(self.table, "", 1.5)
        self.table.activated.connect(self.on_line_activated)
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
        column.setContentsMargins(24, 16, 24, 16)
        column.addWidget(heading)
        row = QHBoxLayout()
        column.addLayout(row)
        for widget in (self.field, take, new):
            widget.setMinimumHeight(40)
            row.addWidget(widget)
        row.setStretch(0, 1)
        column.addWidget(self.table, 1)
        column.addWidget(self.said)

    def refresh(self) -> None:
        self.model.show_lines(self.shop)
        self._choose(self.tag)
        self._count()

    def scanned(self, text: str) -> None:
        """A scanned label opens its piece on the bench."""
        from partsbench.core.outcomes import Outcome
        from partsbench.services.identify import identify

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
        self._proxy.setFilterFixedString(text.strip())
        if not self.table.currentIndex().isValid():
            self.table.selectRow(0)
        self._count()

    def on_entered(self) -> None:
        row = max(0, self.table.currentIndex().row())
        if row < self._proxy.rowCount():
            self._open(row)

    def on_line_activated(self, index: QModelIndex) -> None:
        self._open(index.row())

    def on_take_in_clicked(self) -> None:
        for file in asking.ask_pieces(self):
            taken = take_in(self.shop, file)
            if isinstance(taken, Refused):
                self.answered.emit(taken)
                return
            self.tag = taken[0].tag
            names = " and ".join(f"{p.codename} {p.tag}" for p in taken)
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
        shown, of = self._proxy.rowCount(), self.model.rowCount()
        self.hint.setText(NONE_FITS if of else NONE_YET)
        if not of:
            self.said.setText("")
        elif shown == of:
            self.said.setText(f"{of} piece{'' if of == 1 else 's'}. Enter opens the chosen one.")
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
