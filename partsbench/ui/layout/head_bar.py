"""Above the front: rows to start over from, the size of the whole, measures, labels."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from partsbench.core.key_words import choice_word
from partsbench.core.outcomes import Refused
from partsbench.core.piece import shaping
from partsbench.core.piece.front import Front
from partsbench.core.sums.units import Measures, show_length
from partsbench.services.books import pieces
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.fields import LengthField
from partsbench.ui.theme import grown

APART = 14
MEASURE_WORDS = ((Measures.METRIC, "mm"), (Measures.US, choice_word("inch")))


class HeadBar(QWidget):
    """One row of controls for the whole front; a few rows where the window is narrow."""

    labels_asked = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.rows = QLineEdit()
        self.again = QPushButton("Draw it so")
        self.width_field = LengthField("Width of the whole front", "front-width")
        self.height_field = LengthField("Height of the whole front", "front-height")
        self.measures = QComboBox()
        self.labels = QPushButton("Chosen labels…")
        self._build()
        self._connect()

    def _build(self) -> None:
        self._line = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._line.setContentsMargins(12, 8, 12, 4)
        self._line.setSpacing(6)
        line = self._group()
        self.rows.setObjectName("quick-rows")
        self.rows.setAccessibleName("Drawers in each row, top to bottom")
        self.rows.setPlaceholderText("2 2 3")
        self.rows.setMinimumWidth(grown(90))
        self.rows.setMaximumWidth(grown(190))
        self.again.setObjectName("draw-rows")
        self.again.setToolTip("Draw the front anew from these rows, at the size it has")
        self._word(line, "&Rows", self.rows)
        line.addWidget(self.rows)
        line.addWidget(self.again)
        self._line.addSpacing(APART)
        line = self._group()
        self._word(line, "&Whole front", self.width_field)
        line.addWidget(self.width_field)
        line.addWidget(QLabel("×"))
        line.addWidget(self.height_field)
        self.measures.setObjectName("measures")
        self.measures.setAccessibleName("Measures")
        for measures, word in MEASURE_WORDS:
            self.measures.addItem(word, measures)
        line.addWidget(self.measures)
        self._line.addStretch(1)
        self.labels.setObjectName("layout-labels")
        self._line.addWidget(self.labels, 0, Qt.AlignmentFlag.AlignLeft)
        for field in (self.width_field, self.height_field):
            field.setMaximumWidth(grown(110))

    def _group(self) -> QHBoxLayout:
        """What stands together, in a row or as a row of its own."""
        group = QWidget()
        line = QHBoxLayout(group)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(6)
        self._line.addWidget(group, 0, Qt.AlignmentFlag.AlignLeft)
        return line

    def minimumSizeHint(self) -> QSize:
        """As wide as its widest group; as high as it stands."""
        margins = self._line.contentsMargins()
        wide = max(self._widths())
        return QSize(wide + margins.left() + margins.right(), self._line.minimumSize().height())

    def _widths(self) -> list[int]:
        """What each group needs, px."""
        items = (self._line.itemAt(i) for i in range(self._line.count()))
        return [item.minimumSize().width() for item in items if item]

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._turn(event.size().width())

    def _turn(self, width: int) -> None:
        """One row where there is room for it, else a row for each group."""
        margins = self._line.contentsMargins()
        wanted = sum(wide + self._line.spacing() for wide in self._widths())
        row = width >= wanted + APART + margins.left() + margins.right()
        way = QBoxLayout.Direction
        self._line.setDirection(way.LeftToRight if row else way.TopToBottom)

    def _word(self, line: QHBoxLayout, text: str, buddy: QWidget) -> None:
        label = QLabel(text)
        label.setBuddy(buddy)
        line.addWidget(label)

    def _connect(self) -> None:
        self.desk.shown.connect(self.on_shown)
        self.desk.chose.connect(self.on_chose)
        self.rows.returnPressed.connect(self.on_rows_given)
        self.again.clicked.connect(self.on_rows_given)
        self.measures.activated.connect(self.on_measures_chosen)
        self.width_field.given.connect(self.on_width_given)
        self.height_field.given.connect(self.on_height_given)
        for field in (self.width_field, self.height_field):
            field.refused.connect(self.on_refused)
        self.labels.clicked.connect(self.labels_asked)

    def on_shown(self) -> None:
        piece = self.desk.piece
        self.setEnabled(piece is not None)
        self.labels.setEnabled(bool(self.desk.parts()))
        front = piece.front if piece else None
        self.width_field.show_mm(front.width if front else None, self.desk.measures)
        self.height_field.show_mm(front.height if front else None, self.desk.measures)
        self.measures.setCurrentIndex(self.measures.findData(self.desk.measures))
        fixed = bool(piece and piece.numbers_fixed)
        for widget in (self.rows, self.again):
            widget.setEnabled(not fixed)
        self.rows.setToolTip(
            "Labels are printed, so the front is changed opening by opening"
            if fixed
            else "How many drawers in each row, top to bottom; Enter draws them"
        )

    def on_chose(self) -> None:
        self.labels.setEnabled(bool(self.desk.parts()))

    def on_rows_given(self) -> None:
        counts = self.rows.text()
        answer = pieces.start_over(self.desk.shop, self.desk.tag, counts)
        if self.desk.settle(answer, f"Drawn: {counts.strip()}."):
            self.rows.clear()

    def on_measures_chosen(self) -> None:
        self.desk.set_measures(Measures(self.measures.currentData()))

    def on_width_given(self, mm: float) -> None:
        self._scale(mm, None)

    def on_height_given(self, mm: float) -> None:
        self._scale(None, mm)

    def _scale(self, width: float | None, height: float | None) -> None:
        def scaled(front: Front) -> Front | Refused:
            return shaping.scale(front, width or front.width, height or front.height)

        shown = show_length(width or height or 0.0, self.desk.measures)
        self.desk.reshape(scaled, f"front {shown} wide" if width else f"front {shown} high")

    def on_refused(self, sentence: str) -> None:
        self.desk.answered.emit(Refused(sentence))
