"""The table of a path's steps with its keys, and the steps that can be added to it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QSizePolicy,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.finish.path_text import DropStep, MoveStep
from partsbench.services.books import own_paths
from partsbench.services.books.own_paths import StepOffer
from partsbench.services.known.review import Reviewed
from partsbench.ui.dialogs.steps_model import HEADS, Col, PathStepsModel
from partsbench.ui.layout.fields import labelled

WIDTHS = {
    Col.NAME: 190, Col.FOUND: 170, Col.WAIT: 72, Col.LATEST: 72, Col.MISSED: 200,
    Col.OPTIONAL: 120, Col.CAUTIONS: 160, Col.SOURCE: 200,
}  # fmt: skip
MOST_LINES = 4
"""Of one step; what is longer, as a source may be, is told in full at its cell."""


class StepsTable(QWidget):
    """Emits `asked` with an edit, `adding` with a row and a shipped step, `undoing` for Ctrl+Z."""

    asked = Signal(object)
    adding = Signal(int, object)
    undoing = Signal()
    redoing = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model = PathStepsModel(self)
        self.view = QTableView()
        self.offers = own_paths.shipped_steps()
        self.offer = QComboBox()
        self._goes_to = -1
        self._build_view()
        self._build_foot()
        self._build_keys()
        # The path is shown anew only when the view is done with its editor, or with the drop.
        later = Qt.ConnectionType.QueuedConnection
        self.model.asked.connect(self.on_edit_asked, later)

    def _build_view(self) -> None:
        view = self.view
        view.setModel(self.model)
        view.setObjectName("path-steps")
        view.setAccessibleName("Steps of the path")
        view.setAccessibleDescription("Alt+Up and Alt+Down move a step, Delete takes it out")
        view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        view.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        view.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        view.setDragDropOverwriteMode(False)
        view.setTabKeyNavigation(False)
        view.setWordWrap(True)
        heads = view.horizontalHeader()
        for col in HEADS:
            view.setColumnWidth(col, max(WIDTHS[col], heads.sectionSizeHint(col)))
        side = view.verticalHeader()
        side.setMaximumSectionSize(MOST_LINES * self.fontMetrics().lineSpacing() + 8)
        side.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)

    def _build_foot(self) -> None:
        self.offer.setObjectName("path-offer")
        self.offer.setAccessibleName("A shipped step to add")
        self.offer.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.offer.setMinimumContentsLength(24)
        self.offer.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        for offer in self.offers:
            self.offer.addItem(f"{offer.step.name}  ·  {offer.path}")
        self.offer.currentTextChanged.connect(self.offer.setToolTip)
        self.offer.setToolTip(self.offer.currentText())
        below = _button("Add below", "step-add", "Below the chosen step", self.on_add_asked)
        more = QHBoxLayout()
        more.addLayout(labelled("A shipped step", self.offer), 1)
        more.addWidget(below)
        foot = QHBoxLayout()
        for text, name, told, done in (
            ("Up", "step-up", "Alt+Up", self.on_up_asked),
            ("Down", "step-down", "Alt+Down", self.on_down_asked),
            ("Take the step out", "step-drop", "Delete", self.on_drop_asked),
            ("Undo", "step-undo", "Ctrl+Z", self.undoing),
        ):
            foot.addWidget(_button(text, name, told, done))
        foot.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.view, 1)
        whole.addLayout(foot)
        whole.addLayout(more)

    def _build_keys(self) -> None:
        for key, done in (
            (QKeySequence("Alt+Up"), self.on_up_asked),
            (QKeySequence("Alt+Down"), self.on_down_asked),
            (QKeySequence(QKeySequence.StandardKey.Delete), self.on_drop_asked),
        ):
            QShortcut(key, self.view, done, context=Qt.ShortcutContext.WidgetShortcut)
        for keys, told in (("Ctrl+Z", self.undoing), ("Ctrl+Shift+Z", self.redoing)):
            within = Qt.ShortcutContext.WidgetWithChildrenShortcut
            QShortcut(QKeySequence(keys), self, told.emit, context=within)

    def show_path(self, found: Reviewed) -> None:
        """Show the steps; the chosen one stays chosen, where it now is."""
        index = self.view.currentIndex()
        row = index.row() if self._goes_to < 0 else self._goes_to
        self._goes_to = -1
        self.model.show_path(found)
        if self.model.steps:
            self.choose(row, max(index.column(), 0))

    def row(self) -> int:
        return self.view.currentIndex().row()

    def choose(self, row: int, column: int = 0) -> None:
        """Choose a step; the nearest where there is no such row."""
        row = max(0, min(row, len(self.model.steps) - 1))
        self.view.setCurrentIndex(self.model.index(row, column))

    # Asking

    def on_edit_asked(self, edit: object) -> None:
        if isinstance(edit, MoveStep):
            self._goes_to = edit.to
        self.asked.emit(edit)
        self._goes_to = -1

    def on_up_asked(self) -> None:
        self._move(-1)

    def on_down_asked(self) -> None:
        self._move(1)

    def _move(self, by: int) -> None:
        row = self.row()
        if row >= 0 and 0 <= row + by < len(self.model.steps):
            self.on_edit_asked(MoveStep(row, row + by))

    def on_drop_asked(self) -> None:
        if self.row() >= 0:
            self.asked.emit(DropStep(self.row()))

    def on_add_asked(self) -> None:
        offer: StepOffer = self.offers[self.offer.currentIndex()]
        self._goes_to = self.row() + 1
        self.adding.emit(self._goes_to, offer)
        self._goes_to = -1


def _button(text: str, name: str, told: str, done: object) -> QPushButton:
    button = QPushButton(text)
    button.setObjectName(name)
    button.setToolTip(told)
    button.setAccessibleDescription(told)
    button.setAutoDefault(False)
    button.clicked.connect(done)
    return button
