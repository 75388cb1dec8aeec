"""What was begun and not ended: it stands here until it is closed, with a button for each end."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from partsbench.core.finish.loops import Loop
from partsbench.core.shown_times import weekday
from partsbench.core.wording import sentences
from partsbench.services.acts.ending import Ending, endings
from partsbench.ui.bench.controls import words
from partsbench.ui.theme import grown

MOST = 5
TAPE = "Seams and masks…"


class LoopsPanel(QWidget):
    """Emits the loop and the way it was ended; one that wants more asks for the masks."""

    ended = Signal(Loop, Ending)
    masks_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("loops")
        self.setAccessibleName("Begun and not ended")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(5)
        self._shown: tuple[Loop, ...] = ()
        self._now = datetime.min.replace(tzinfo=UTC)
        self._acts: dict[str, tuple[Loop, Ending]] = {}

    def show_loops(self, loops: Sequence[Loop], now: datetime) -> None:
        if tuple(loops) == self._shown:
            return
        self._shown, self._now = tuple(loops), now
        self._acts = {}
        while item := self._column.takeAt(0):
            widget = item.widget()
            if widget:
                widget.hide()
                widget.deleteLater()
        self._column.addWidget(_title(len(loops)))
        for place, loop in enumerate(loops[:MOST]):
            self._add(place, loop)
        if len(loops) > MOST:
            more = words(-0.4)
            more.setText(f"and {len(loops) - MOST} more")
            self._column.addWidget(more)
        self._column.addStretch(1)

    def buttons(self) -> list[QPushButton]:
        """In order, one for each way to end a loop."""
        return self.findChildren(QPushButton)

    def _add(self, place: int, loop: Loop) -> None:
        label = words(0, name=f"loop-{place}")
        label.setText(open_since(loop, self._now))
        self._column.addWidget(label)
        for number, ending in enumerate(endings(loop)):
            button = QPushButton(ending.words)
            button.setObjectName(f"end-{place}-{number}")
            button.setAccessibleName(f"{ending.words}: {loop.sentence}")
            button.setAutoDefault(True)
            button.setMinimumHeight(grown(32))
            button.clicked.connect(self.on_end_pressed)
            self._acts[button.objectName()] = (loop, ending)
            self._column.addWidget(button)
        if not endings(loop):
            button = QPushButton(TAPE)
            button.setObjectName(f"end-{place}-masks")
            button.setAutoDefault(True)
            button.clicked.connect(self.masks_asked)
            self._column.addWidget(button)

    def on_end_pressed(self) -> None:
        button = self.sender()
        if button is not None:
            self.ended.emit(*self._acts[button.objectName()])


def open_since(loop: Loop, now: datetime) -> str:
    """`Heron D1: washed but not rinsed, since Wed 10:28.`"""
    since = weekday(loop.since, now)
    if loop.asks:
        return sentences(loop.sentence, f"Open since {since}.")
    return f"{loop.told}, since {since}."


def _title(count: int) -> QLabel:
    label = words(0.4, bold=True, name="loops-title")
    label.setText("Begun, not ended" if count else "Nothing is left open")
    return label
