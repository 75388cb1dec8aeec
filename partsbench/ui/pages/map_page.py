"""The progress map at full size: one sees across the shop who is behind."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from partsbench.services.acts.bench import look
from partsbench.services.shop import Shop
from partsbench.services.shown.progress_map import progress_map
from partsbench.ui.bench.controls import KeyButton, words
from partsbench.ui.big_word import BigWord
from partsbench.ui.map.looks import told
from partsbench.ui.map.map_view import MapView
from partsbench.ui.pages.no_piece import NoPiece
from partsbench.ui.pages.page import Page
from partsbench.ui.theme import grown, words_at

READ_FROM_M = 2.0
MINUTE_MS = 60_000
LEAST_HIGH = 220
CHOOSE = "Press a part, or scan it, to see how it stands."


class MapPage(Page):
    """A scan shows how its part stands and records nothing."""

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        super().__init__(shop, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.chosen = ""
        self.sentence = BigWord(most=words_at(READ_FROM_M), align=Qt.AlignmentFlag.AlignLeft)
        self.sentence.setObjectName("map-sentence")
        self.sentence.setFixedHeight(56)
        self.map = MapView()
        # As high as there is room, and no reason for the page to scroll.
        self.map.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.map.setMinimumHeight(LEAST_HIGH)
        self.told = words(0.6, name="map-told")
        self.bench = KeyButton("To the bench", "Enter", self.on_bench_asked, name="map-to-bench")
        self._minute = QTimer(self, interval=MINUTE_MS)
        self._minute.timeout.connect(self.on_minute_passed)
        self.map.part_chosen.connect(self.on_part_chosen)
        self.keys = self._keys()
        self._build()

    def _build(self) -> None:
        self._rest = QWidget()
        column = QVBoxLayout(self._rest)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.sentence)
        column.addWidget(self.map, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.told, 1)
        self.bench.setMinimumWidth(grown(190))
        foot.addWidget(self.bench)
        column.addLayout(foot)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(18, 10, 18, 10)
        self._none = NoPiece(self, self._rest, "its progress map stands")
        whole.addWidget(self._none)
        whole.addWidget(self._rest)

    def _keys(self) -> dict[int, Callable[[], None]]:
        return {
            Qt.Key.Key_Return: self.on_bench_asked,
            Qt.Key.Key_Escape: self.on_nothing_chosen,
        }

    def refresh(self) -> None:
        found = progress_map(self.shop, self.tag) if self.tag else None
        self._none.stand(found is None)
        self.map.show_map(found)
        if found is None:
            return
        self.sentence.show_text(found.sentence)
        each = found.parts.get(self.chosen)
        self.chosen = each.part.short if each else ""
        self.map.choose(self.chosen)
        self.told.setText(f"{self.chosen}: {told(found, each)}." if each else CHOOSE)
        self.bench.setEnabled(each is not None)

    def scanned(self, text: str) -> None:
        found = look(self.shop, text, here=self.tag)
        self.answered.emit(found)
        if found.part and found.tag == self.tag:
            self.on_part_chosen(found.part)

    def on_part_chosen(self, short: str) -> None:
        self.chosen = short
        self.refresh()

    def on_nothing_chosen(self) -> None:
        self.on_part_chosen("")

    def on_bench_asked(self) -> None:
        if self.chosen:
            self.part_asked.emit(self.tag, self.chosen)

    def on_minute_passed(self) -> None:
        if self.isVisible():
            self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._minute.start()

    def hideEvent(self, event: QHideEvent) -> None:
        self._minute.stop()
        super().hideEvent(event)
