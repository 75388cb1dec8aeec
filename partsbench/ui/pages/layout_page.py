"""The Layout: the front as large as can be, drawn and edited, with finish paths brushed on."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QSplitter, QTabWidget, QVBoxLayout, QWidget

from partsbench.core.outcomes import Outcome
from partsbench.core.sums.units import Measures
from partsbench.services.acts import masks
from partsbench.services.known.identify import identify
from partsbench.services.shop import Shop
from partsbench.ui.layout.board import Board
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.fields import quiet
from partsbench.ui.layout.finish_panel import FinishPanel
from partsbench.ui.layout.head_bar import HeadBar
from partsbench.ui.layout.list_panel import ListPanel
from partsbench.ui.layout.piece_panel import FIXED_WORDS, PiecePanel
from partsbench.ui.layout.shape_panel import ShapePanel
from partsbench.ui.layout.tabs import Tabs
from partsbench.ui.layout.tools import Tools
from partsbench.ui.pages.no_piece import NoPiece
from partsbench.ui.pages.page import Page

SIDE = 372
SIDE_FOR_LIST = 560


class LayoutPage(Page):
    """The board with the front, and beside it a panel for shape, finish, piece and parts."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setObjectName("layout-page")
        self.desk = Desk(shop, self)
        self.board = Board(self.desk)
        self.tools = Tools(self.desk, self.board)
        self.head = HeadBar(self.desk)
        self.shape = ShapePanel(self.desk, self.tools)
        self.finish = FinishPanel(self.desk)
        self.whole = PiecePanel(self.desk)
        self.list = ListPanel(self.desk)
        self.tabs = QTabWidget()
        self.tabs.setTabBar(Tabs())
        self.split = QSplitter(Qt.Orientation.Horizontal)
        self.fixed = quiet(FIXED_WORDS)
        self.seams = QPushButton()
        self.empty = NoPiece(self, self.split)
        self.keys = {Qt.Key.Key_Escape: self.on_brush_laid_down}
        self._build()
        self._connect()
        self.desk.shown.emit()

    def _build(self) -> None:
        for panel, title in (
            (self.shape, "Shape"),
            (self.finish, "Finish"),
            (self.whole, "Piece"),
            (self.list, "Parts"),
        ):
            self.tabs.addTab(panel, title)
        self.tabs.setObjectName("layout-tabs")
        self.tabs.setAccessibleName("Kinds of work on the front")
        self.tabs.setDocumentMode(True)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(12, 0, 4, 8)
        column.setSpacing(4)
        column.addWidget(self.board, 1)
        self.fixed.setObjectName("numbers-stay")
        self.fixed.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        column.addWidget(self.fixed)
        self.seams.setObjectName("seams-asked")
        self.seams.setAutoDefault(True)
        column.addWidget(self.seams, 0, Qt.AlignmentFlag.AlignHCenter)
        self.split.addWidget(left)
        self.split.addWidget(self.tabs)
        self.split.setStretchFactor(0, 1)
        self.split.setStretchFactor(1, 0)
        self.split.setCollapsible(0, False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.head)
        whole.addWidget(self.split, 1)
        whole.addWidget(self.empty, 1)
        self.split.setSizes([10_000, SIDE])

    def _connect(self) -> None:
        self.desk.answered.connect(self.answered)
        self.desk.changed.connect(self.changed)
        self.desk.shown.connect(self.on_shown)
        self.tabs.currentChanged.connect(self.on_tab_changed)
        self.tools.nudged.connect(self.board.nudge_chosen)
        self.shape.hidden_shown.connect(self.board.show_hidden)
        self.board.view.pressed.connect(self.on_tile_pressed)
        self.board.view.swept.connect(self.on_tile_swept)
        self.head.labels_asked.connect(self.on_labels_asked)
        self.seams.clicked.connect(self.on_seams_asked)
        self.list.label_asked.connect(self.on_one_label_asked)
        for panel in (self.list, self.whole):
            panel.part_asked.connect(self.on_part_asked)
        self.whole.client_asked.connect(self.on_client_asked)

    # Page

    def refresh(self) -> None:
        self.desk.load(self.tag)

    def scanned(self, text: str) -> None:
        """A scan chooses the part, or says whose it is."""
        found = identify(self.shop, text, self.tag)
        if isinstance(found, Outcome):
            self.answered.emit(found)
        elif found.part:
            self.desk.choose_part(found.part.short)
        else:
            self.desk.choose([f"H{found.home}"])

    def saved_state(self) -> dict[str, str]:
        return {
            "rows": self.head.rows.text(),
            "tab": str(self.tabs.currentIndex()),
            "path": self.finish.path_key(),
            "measures": self.desk.measures.value,
            "chosen": " ".join(self.desk.chosen),
        }

    def restore_state(self, state: dict[str, str]) -> None:
        self.head.rows.setText(state.get("rows", ""))
        tab = state.get("tab", "0")
        self.tabs.setCurrentIndex(int(tab) if tab.isdigit() else 0)
        self.finish.take_path(state.get("path", ""))
        if state.get("measures") in set(Measures):
            self.desk.set_measures(Measures(state["measures"]))
        self.board.view.select(state.get("chosen", "").split())

    # What happens

    def on_shown(self) -> None:
        piece = self.desk.piece
        self.empty.stand(piece is None)
        self.head.setVisible(piece is not None)
        self.board.setVisible(piece is not None)
        self.tabs.setVisible(piece is not None)
        self.fixed.setVisible(bool(piece and piece.numbers_fixed))
        lines = self.desk.seams
        self.seams.setText(f"{masks.summary(lines)}…")
        self.seams.setVisible(bool(lines))

    def on_seams_asked(self) -> None:
        self.page_asked.emit("masks", self.tag)

    def on_tab_changed(self) -> None:
        """The list wants more room than the other panels; the brush lies down with its panel."""
        wide = SIDE_FOR_LIST if self.tabs.currentWidget() is self.list else SIDE
        self.split.setSizes([max(1, self.split.width() - wide), wide])
        if self.tabs.currentWidget() is not self.finish:
            self.on_brush_laid_down()

    def on_brush_laid_down(self) -> None:
        self.finish.brush.setChecked(False)

    def on_tile_pressed(self, key: str) -> None:
        if self.finish.brush.isChecked():
            self.finish.brush_on(key)

    def on_tile_swept(self, key: str) -> None:
        if self.finish.brush.isChecked():
            self.finish.brush_on(key)

    def on_labels_asked(self) -> None:
        self._print_labels([p.short for p in self.desk.parts()])

    def on_one_label_asked(self) -> None:
        self._print_labels([self.desk.part])

    def _print_labels(self, chosen: list[str]) -> None:
        from partsbench.ui.dialogs.labels_dialog import LabelsDialog

        dialog = LabelsDialog(self.shop, self.tag, self, chosen)
        dialog.labels.choose_only()
        dialog.settled.connect(self.answered)
        dialog.settled.connect(self.changed)
        dialog.settled.connect(self.refresh)
        dialog.open()

    def on_part_asked(self) -> None:
        from partsbench.ui.dialogs.part_dialog import PartDialog

        PartDialog(self.desk, self).open()

    def on_client_asked(self) -> None:
        from partsbench.ui.dialogs.client_dialog import ClientDialog

        dialog = ClientDialog(self.shop, self.tag, self)
        dialog.settled.connect(self.answered)
        dialog.settled.connect(self.changed)
        dialog.open()
