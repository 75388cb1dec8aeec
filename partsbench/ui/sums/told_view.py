"""An answer on the page: its sentence largest, then picture, figures, what is missing, sources."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QSizePolicy,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from partsbench.core.outcomes import Refused
from partsbench.core.wording import within
from partsbench.services.sums.told import Told
from partsbench.ui.big_word import BigWord
from partsbench.ui.sums.gap_picture import GapPicture, gaps_of
from partsbench.ui.sums.told_model import ToldModel
from partsbench.ui.theme import grown, sized, theme_of

ROW = 26
LONG = 280
"""A column whose words are longer than so many px takes what is left, wrapped."""
MOST_ROWS = 10
"""Rows on show before the table scrolls by itself."""


class ToldView(QWidget):
    """Shows one answer, or why there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("told")
        self.sentence = BigWord(most=22, align=Qt.AlignmentFlag.AlignLeft, parent=self)
        self.sentence.setObjectName("told-sentence")
        self.sentence.setFixedHeight(grown(104))
        self.picture = GapPicture(self)
        self.legend = _words("gap-legend", -0.6)
        self.legend.setText(
            "Gaps are drawn some thirty times as large. Dashed: as measured. Filled: after the "
            "paint, when it is tightest. Hatched: tight."
        )
        self.model = ToldModel(self)
        self.table = QTableView(self)
        self.lacks = _words("told-lacks", 0)
        self.sources = _words("told-sources", -0.6)
        self.caution = _words("told-caution", -0.2)
        self._arrange()

    def _arrange(self) -> None:
        self.table.setObjectName("told-table")
        self.table.setAccessibleName("Figures")
        self.table.setModel(self.model)
        self.table.setWordWrap(True)
        self.table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.table.setTabKeyNavigation(False)
        self.table.setShowGrid(False)
        self.table.setAlternatingRowColors(True)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(ROW)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        self.table.horizontalHeader().sectionResized.connect(self.on_columns_resized)
        self.table.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for widget in (self.sentence, self.picture, self.legend, self.table, self.lacks,
                       self.caution, self.sources):  # fmt: skip
            column.addWidget(widget)
        column.addStretch(1)

    def show_told(self, told: Told | Refused) -> None:
        """Put an answer up; a refusal says what to type or note first."""
        good = told if isinstance(told, Told) else None
        self.sentence.show_text(told.sentence, "ink" if good else "quiet")
        self.model.show_told(good)
        self.picture.show_gaps(gaps_of(good.data.get("drawers"), good.measures) if good else [])
        self.legend.setVisible(bool(self.picture.gaps()))
        self._fit_table()
        _say(self.lacks, "To answer better", good.lacks if good else ())
        _say(self.caution, "Mind", (within(good.caution),) if good and good.caution else ())
        valid = (f"valid: {good.valid}",) if good and good.valid else ()
        _say(self.sources, "From", (*good.sources, *valid) if good else ())
        quiet = self.sources.palette()
        quiet.setColor(QPalette.ColorRole.WindowText, theme_of(self).color("quiet"))
        self.sources.setPalette(quiet)

    def on_columns_resized(self, _column: int, _before: int, _after: int) -> None:
        """Words wrap anew, so rows take another height."""
        self._fit_rows()

    def _fit_table(self) -> None:
        """As high as its rows are, up to a few."""
        rows, columns = self.model.rowCount(), self.model.columnCount()
        self.table.setVisible(rows > 0)
        if not rows:
            return
        head = self.table.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        widest = max(range(columns), key=self.table.sizeHintForColumn)
        if self.table.sizeHintForColumn(widest) < LONG:
            widest = columns - 1
        head.setSectionResizeMode(widest, QHeaderView.ResizeMode.Stretch)
        if head.sectionSize(widest) < head.sectionSizeHint(widest):  # its own head has no room
            head.setSectionResizeMode(widest, QHeaderView.ResizeMode.ResizeToContents)
        self._fit_rows()

    def _fit_rows(self) -> None:
        rows = self.model.rowCount()
        self.table.resizeRowsToContents()
        head = self.table.horizontalHeader()
        high = sum(self.table.rowHeight(row) for row in range(min(rows, MOST_ROWS)))
        self.table.setFixedHeight(head.sizeHint().height() + high + 4)


def _say(label: QLabel, lead: str, texts: tuple[str, ...]) -> None:
    label.setText(f"{lead}: {'; '.join(texts)}." if texts else "")
    label.setVisible(bool(texts))


def _words(name: str, step: float) -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setFont(sized(step))
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
