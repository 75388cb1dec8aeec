"""Each drawer in its opening, its gaps drawn many times as large as they are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from partsbench.core.sums.shown import Measures, show_gap
from partsbench.ui.theme import Theme, grown, sized, theme_of

TIMES = 8.0
"""How many px a mm of gap takes: some twenty to thirty times its size on most screens."""
LARGEST_MM = 3.0
SLOT = QSize(132, 112)
MOST = 24


def slot() -> QSize:
    """The room of one drawer with its words."""
    return QSize(grown(SLOT.width()), grown(SLOT.height()))


@dataclass(frozen=True, slots=True)
class DrawnGaps:
    """What is drawn of one drawer: gaps in mm at each side and at the top, now and at the least."""

    name: str
    side_now: float | None
    side_then: float | None
    top_now: float | None
    top_then: float | None
    fits: bool
    measures: Measures = Measures.METRIC

    @property
    def words(self) -> str:
        """`D5: 0.6 mm each side, 1.2 mm at the top; tight`"""
        told = []
        if self.side_then is not None:
            told.append(f"{show_gap(self.side_then, self.measures)} each side")
        if self.top_then is not None:
            told.append(f"{show_gap(self.top_then, self.measures)} at the top")
        return f"{self.name}: {', '.join(told)}; {'fits' if self.fits else 'tight'}"


def gaps_of(data: object, measures: Measures = Measures.METRIC) -> list[DrawnGaps]:
    """The gaps in the figures of a forecast; those that could not be told are left out."""
    found = []
    drawers = data if isinstance(data, Mapping) else {}
    for name, one in drawers.items():
        if isinstance(one, Mapping) and "now" in one:
            now, then = one["now"], one["least"]
            found.append(
                DrawnGaps(name, now["side_mm"], then["side_mm"], now["top_mm"], then["top_mm"],
                     bool(one["fits"]), measures)
            )  # fmt: skip
    return found


class GapPicture(QWidget):
    """One small picture for each drawer: tight ones first, hatched, with the word on them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("gap-picture")
        self._gaps: list[DrawnGaps] = []
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_gaps(self, gaps: list[DrawnGaps]) -> None:
        self._gaps = sorted(gaps, key=_tight_first)[:MOST]
        self.setVisible(bool(gaps))
        self.setAccessibleName("Gaps, drawn larger than they are")
        self.setAccessibleDescription(". ".join(g.words for g in self._gaps))
        self.setToolTip("\n".join(g.words for g in self._gaps))
        self.updateGeometry()
        self.update()

    def gaps(self) -> list[DrawnGaps]:
        """What is on show, tight ones first."""
        return self._gaps

    def sizeHint(self) -> QSize:
        return QSize(4 * slot().width(), self.heightForWidth(max(self.width(), slot().width())))

    def minimumSizeHint(self) -> QSize:
        return QSize(slot().width(), slot().height() if self._gaps else 0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        across = max(1, width // slot().width())
        return ceil(len(self._gaps) / across) * slot().height()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        wide, high = slot().width(), slot().height()
        across = max(1, self.width() // wide)
        for place, gaps in enumerate(self._gaps):
            row, column = divmod(place, across)
            box = QRectF(column * wide, row * high, wide, high)
            _draw(painter, theme, box.adjusted(8, 12, -8, -2), gaps)


def _tight_first(gaps: DrawnGaps) -> bool:
    return gaps.fits


def _draw(painter: QPainter, theme: Theme, box: QRectF, gaps: DrawnGaps) -> None:
    opening = QRectF(box.left(), box.top(), box.width(), box.height() - 20)
    painter.setPen(QPen(theme.color("ink"), 2))
    painter.setBrush(theme.color("recess"))
    painter.drawRect(opening)
    before = _inside(opening, gaps.side_now, gaps.top_now)
    after = _inside(opening, gaps.side_then, gaps.top_then)
    painter.setPen(QPen(theme.color("line"), 1, Qt.PenStyle.DashLine))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(before)
    painter.setPen(QPen(theme.color("ink"), 1))
    painter.setBrush(theme.color("raised"))
    painter.drawRect(after)
    if not gaps.fits:
        painter.setBrush(QBrush(theme.color("stop"), Qt.BrushStyle.BDiagPattern))
        painter.drawRect(after)
    painter.setPen(theme.color("stop" if not gaps.fits else "ink"))
    painter.setFont(sized(1, bold=True))
    words = gaps.name if gaps.fits else f"{gaps.name} tight"
    painter.drawText(opening, Qt.AlignmentFlag.AlignCenter, words)
    painter.setPen(theme.color("ink"))
    painter.setFont(sized(-0.6))
    under = QRectF(box.left(), opening.bottom() + 2, box.width(), 18)
    painter.drawText(under, Qt.AlignmentFlag.AlignCenter, _figures(gaps))


def _inside(opening: QRectF, side: float | None, top: float | None) -> QRectF:
    """The drawer as it is drawn; a gap below nothing lets it stick out of its opening."""
    x = _px(side)
    return opening.adjusted(x, _px(top), -x, -1)


def _px(gap: float | None) -> float:
    mm = 1.0 if gap is None else max(min(gap, LARGEST_MM), -1.0)
    return mm * TIMES


def _figures(gaps: DrawnGaps) -> str:
    side, top = (
        "–" if mm is None else show_gap(mm, gaps.measures).partition(" ")[0]
        for mm in (gaps.side_then, gaps.top_then)
    )
    return f"side {side}, top {top}"
