"""Shaping the front: kinds, splitting, joining, what a door hides, sizes."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QWidget,
)

from partsbench.core.naming import together
from partsbench.core.outcomes import Refused
from partsbench.core.piece import shaping
from partsbench.core.piece.front import Front, OpeningKind, parse_rows
from partsbench.core.piece.shaping import Axis
from partsbench.core.sums.units import show_length
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.fields import LengthField, Panel, button, heading, labelled, quiet, row
from partsbench.ui.layout.looks import key_words
from partsbench.ui.layout.tools import Tools

MOST_PARTS = 12


class ShapePanel(Panel):
    """Acts on the chosen openings."""

    hidden_shown = Signal(bool)

    def __init__(self, desk: Desk, tools: Tools, parent: QWidget | None = None) -> None:
        super().__init__("shape-panel", parent)
        self.desk = desk
        self.tools = tools
        self.what = QLabel()
        self.into = QSpinBox()
        self.rows_behind = QLineEdit()
        self.put_behind = QPushButton("Put behind the door")
        self.show_hidden = QCheckBox("Show what doors hide")
        self.width_field = LengthField("Width of the opening", "opening-width")
        self.height_field = LengthField("Height of the opening", "opening-height")
        self._build()
        self._connect()

    def _build(self) -> None:
        self.what.setObjectName("chosen-words")
        self.what.setWordWrap(True)
        self.what.setMinimumHeight(2 * self.what.fontMetrics().height())
        self.column.addWidget(self.what)
        kinds = QGridLayout()
        kinds.setSpacing(6)
        for place, action in enumerate(self.tools.kinds.actions()):
            kinds.addWidget(button(action), place // 3, place % 3)
        self.column.addLayout(kinds)
        self.column.addWidget(heading("Split and join"))
        self.into.setObjectName("split-into")
        self.into.setRange(2, MOST_PARTS)
        self.into.setAccessibleName("Split into how many")
        self.column.addLayout(labelled("Split into", self.into))
        make = self.tools.actions
        self.column.addLayout(row(button(make["across"]), button(make["down"])))
        self.column.addLayout(
            row(button(make["join"]), button(make["remove"]), button(make["fill"]))
        )
        self._build_sizes()
        self._build_behind()
        self.column.addStretch()

    def _build_sizes(self) -> None:
        self.column.addWidget(heading("Size of the opening"))
        across, down = QLabel("Wide"), QLabel("High")
        across.setBuddy(self.width_field)
        down.setBuddy(self.height_field)
        self.column.addLayout(row(across, self.width_field, down, self.height_field))
        self.column.addWidget(
            quiet(
                "Its whole columns and rows change with it. Alt and an arrow key move its border."
            )
        )

    def _build_behind(self) -> None:
        self.column.addWidget(heading("Behind a door"))
        self.rows_behind.setObjectName("rows-behind")
        self.rows_behind.setAccessibleName("Drawers per row behind the door")
        self.rows_behind.setPlaceholderText("1 1")
        self.put_behind.setObjectName("put-behind")
        self.column.addLayout(labelled("Drawers per row", self.rows_behind))
        self.column.addWidget(self.put_behind)
        self.show_hidden.setObjectName("show-hidden")
        self.column.addWidget(self.show_hidden)

    def _connect(self) -> None:
        self.desk.shown.connect(self.on_shown)
        self.desk.chose.connect(self.on_shown)
        self.into.valueChanged.connect(self.on_into_changed)
        self.put_behind.clicked.connect(self.on_put_behind)
        self.rows_behind.returnPressed.connect(self.on_put_behind)
        self.show_hidden.toggled.connect(self.hidden_shown)
        for field in (self.width_field, self.height_field):
            field.refused.connect(self.on_refused)
        self.width_field.given.connect(self.on_width_given)
        self.height_field.given.connect(self.on_height_given)

    def on_shown(self) -> None:
        self.what.setText(chosen_words(self.desk))
        openings = self.desk.openings()
        one = openings[0] if len(openings) == 1 else None
        size = self.desk.piece.front.box(one.span)[2:] if one and self.desk.piece else (None, None)
        self.width_field.show_mm(size[0], self.desk.measures)
        self.height_field.show_mm(size[1], self.desk.measures)
        door = bool(one and one.kind is OpeningKind.DOOR)
        self.put_behind.setEnabled(door)
        self.rows_behind.setEnabled(door)

    def on_into_changed(self, parts: int) -> None:
        self.tools.split_into = parts

    def on_put_behind(self) -> None:
        text = self.rows_behind.text().strip()
        counts = parse_rows(text) if text not in ("", "0") else ()
        if isinstance(counts, Refused):
            self.desk.answered.emit(counts)
            return
        self.tools.put_behind(list(counts))
        self.show_hidden.setChecked(bool(counts))

    def on_refused(self, sentence: str) -> None:
        self.desk.answered.emit(Refused(sentence))

    def on_width_given(self, mm: float) -> None:
        self._resize(Axis.COLUMNS, mm, "wide")

    def on_height_given(self, mm: float) -> None:
        self._resize(Axis.ROWS, mm, "high")

    def _resize(self, axis: Axis, mm: float, word: str) -> None:
        number = self.desk.openings()[0].number

        def sized_front(front: Front) -> Front | Refused:
            return shaping.resize_opening(front, number, axis, mm)

        shown = show_length(mm, self.desk.measures)
        self.desk.reshape(sized_front, f"H{number} is {shown} {word}")


def chosen_words(desk: Desk) -> str:
    """What is chosen, in words: `D5, drawer, row 2, left`, or `3 chosen: D1, D2, D3`."""
    if desk.piece is None:
        return "No piece yet."
    keys = desk.chosen
    if not keys:
        part = desk.current()
        return key_words(desk.piece, part.short) if part else "Choose an opening in the front."
    if len(keys) == 1:
        return key_words(desk.piece, keys[0])
    short = [key_words(desk.piece, key).split(",")[0] for key in keys]
    return f"{len(keys)} chosen: {together(short, 10)}"
