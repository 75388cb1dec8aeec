"""One piece on the board: its small front with the progress map, and how it stands in words."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QVBoxLayout

from partsbench.core.wording import sentences
from partsbench.services.plan.board import BoardLine
from partsbench.services.shown.progress_map import ProgressMap
from partsbench.ui.bench.controls import words
from partsbench.ui.map.map_view import MapView
from partsbench.ui.theme import theme_of

FRONT = QSize(148, 128)
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class PieceCard(QFrame):
    """Enter, Space or a double click opens it; the focus chooses it."""

    draws_focus = True

    opened = Signal(str)
    chosen = Signal(str)

    def __init__(self, tag: str, codename: str, title: str) -> None:
        super().__init__()
        self.tag = tag
        self.setObjectName(f"card-{tag}")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.setAccessibleName(f"{codename} {tag}")
        self.map = MapView(small=True, only_front=True)
        self.map.front.setMinimumSize(FRONT)
        self.map.setFixedSize(FRONT)
        self.map.front.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.map.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.name = words(1.2, bold=True)
        self.name.setText(codename)
        self.what = words(-0.3)
        self.what.setText(f"{tag}  {title}".rstrip())
        self.next = words(0.3, bold=True)
        self.day = words(0)
        self.stands = words(-0.2)
        self._build()
        self._line: BoardLine | None = None

    def _build(self) -> None:
        across = QHBoxLayout(self)
        across.setContentsMargins(10, 8, 10, 8)
        across.setSpacing(12)
        across.addWidget(self.map, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout()
        column.setSpacing(2)
        for label in (self.name, self.what, self.next, self.day, self.stands):
            column.addWidget(label)
        column.addStretch(1)
        across.addLayout(column, 1)

    def show_map(self, found: ProgressMap | None) -> None:
        self.map.show_map(found)
        for tile in self.map.front.findChildren(QFrame):
            tile.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.stands.setText(found.sentence if found else "")
        self._describe()

    def show_line(self, line: BoardLine | None) -> None:
        """What the plan says of it; None while there is none."""
        self._line = line
        held = line.held if line else ()
        self.next.setText(line.next_act or "Held." if line else "Nothing is left to plan.")
        more = f"{len(held) - 1} more held." if len(held) > 1 else ""
        self.day.setText(line.day or sentences(*held[:1], more) if line else "")
        self.day.setVisible(bool(self.day.text()))
        self._ink()
        self._describe()

    def _describe(self) -> None:
        said = (self.what, self.next, self.day, self.stands)
        self.setAccessibleDescription(" ".join(label.text() for label in said if label.text()))

    def _ink(self) -> None:
        role = "stop" if self._line is not None and self._line.risk else "ink"
        made = self.day.palette()
        made.setColor(self.day.foregroundRole(), theme_of(self).color(role))
        self.day.setPalette(made)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in ENTER:
            self.opened.emit(self.tag)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.opened.emit(self.tag)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.chosen.emit(self.tag)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(theme.color("raised"))
        wide = 3.0 if self.hasFocus() else 1.2
        painter.setPen(QPen(theme.color("accent" if self.hasFocus() else "line"), wide))
        painter.drawRoundedRect(self.rect().adjusted(2, 2, -2, -2), 5, 5)
