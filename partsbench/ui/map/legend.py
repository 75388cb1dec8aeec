"""What the signs of the progress map mean: those that are on it, and no others."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from partsbench.core.key_words import word_of
from partsbench.services.known.state import Where
from partsbench.services.shown.progress_map import PartProgress, PartStand, ProgressMap
from partsbench.ui.bench.flow import Flow
from partsbench.ui.map.looks import SIGNS
from partsbench.ui.piece_view.gauge import draw_gauge, draw_sign
from partsbench.ui.piece_view.looks import Gauge, Rim, Sign
from partsbench.ui.theme import sized, theme_of

SWATCH = QSize(46, 26)
HALF = 0.45


def _stands(stand: PartStand) -> Callable[[PartProgress], bool]:
    return lambda each: each.stand is stand


ENTRIES: tuple[tuple[str, Gauge, Callable[[PartProgress], bool]], ...] = (
    ("steps done", Gauge(HALF), lambda each: bool(each.of)),
    ("behind most", Gauge(0.2, behind=True), lambda each: each.behind),
    *(
        (words or word_of(stand), Gauge(share, SIGNS.get(stand, Sign.NONE)), _stands(stand))
        for stand, words, share in (
            (PartStand.LATE, "", HALF),
            (PartStand.HELD, "", HALF),
            (PartStand.WAITS, "", HALF),
            (PartStand.DONE, "all steps done", 1.0),
        )
    ),
    (
        word_of(Where.OUT),
        Gauge(0.0, rim=Rim.GONE),
        lambda each: each.where in (Where.OUT, Where.WRONG),
    ),
    ("home again", Gauge(0.0, rim=Rim.BACK), lambda each: each.where is Where.HOME),
)
"""Words, how it is drawn, and which part bears it."""


class Swatch(QWidget):
    """A small tile that stands for all of its kind."""

    def __init__(self, gauge: Gauge, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._gauge = gauge
        self.setFixedSize(SWATCH)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        draw_gauge(painter, box, theme_of(self), self._gauge)
        draw_sign(painter, box, theme_of(self), self._gauge.sign)


class Legend(QWidget):
    """Swatch and words for each sign."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("map-legend")
        self.setAccessibleName("What the signs mean")
        flow = Flow(self, 14)
        self._rows: list[QWidget] = []
        for words, gauge, _ in ENTRIES:
            row = QWidget(self)
            across = QHBoxLayout(row)
            across.setContentsMargins(0, 0, 0, 0)
            across.setSpacing(7)
            across.addWidget(Swatch(gauge, row))
            label = QLabel(words, row)
            label.setFont(sized(0.3))
            label.setAlignment(Qt.AlignmentFlag.AlignVCenter)
            across.addWidget(label)
            flow.addWidget(row)
            self._rows.append(row)

    def show_map(self, found: ProgressMap) -> None:
        """Only what is on the map is explained."""
        for row, (_, _, bears) in zip(self._rows, ENTRIES, strict=True):
            row.setVisible(any(map(bears, found.parts.values())))

    def words(self) -> list[str]:
        """What is explained now."""
        shown = zip(self._rows, ENTRIES, strict=True)
        return [words for row, (words, _, _) in shown if not row.isHidden()]
