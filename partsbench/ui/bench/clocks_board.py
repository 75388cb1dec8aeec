"""The clocks from across the room: what closes first is largest, then what opens next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from partsbench.core.finish.durations import say_duration
from partsbench.core.outcomes import Answer
from partsbench.core.shown_times import time_of_day
from partsbench.services.rules.clocks import Group
from partsbench.ui.fit_text import fitted_block, line_height
from partsbench.ui.theme import Theme, theme_of, words_at

LINES = 5
READ_FROM_M = 2.5
NONE = "No clock is running."
HINT = "Any key or scan goes back to the bench"


@dataclass(frozen=True, slots=True)
class ClockLine:
    """One clock as it is read from far: when, what, how long, and whether that is a cliff."""

    when: str
    what: str
    left: str
    cliff: bool

    @property
    def sentence(self) -> str:
        return f"{self.when}  {self.what}, {self.left}"


def clock_lines(groups: Sequence[Group], now: datetime, most: int = LINES) -> list[ClockLine]:
    """Cliffs ahead first, the soonest at the top; then waits, by when they are over."""
    timed = [g for g in groups if g.said.answer in (Answer.GO, Answer.WAIT)]
    cliffs = [g for g in timed if g.closes and g.closes > now]
    waits = [g for g in timed if not g.closes and g.said.answer is Answer.WAIT and g.said.until]
    cliffs.sort(key=_closes)
    waits.sort(key=_until)
    lines = [_cliff(g, now) for g in cliffs] + [_wait(g, now) for g in waits]
    return lines[:most]


class ClocksBoard(QWidget):
    """Lies over the bench while nobody is at it."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.lines: list[ClockLine] = []
        self.setObjectName("clocks-board")
        self.setAutoFillBackground(True)
        self.hide()

    def show_clocks(self, lines: Sequence[ClockLine]) -> None:
        self.lines = list(lines)
        said = ". ".join(line.sentence for line in self.lines) or NONE
        self.setAccessibleName(f"Clocks. {said}")
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect())
        painter.fillRect(box, theme.color("ground"))
        room = box.adjusted(24, 18, -24, -36)
        if not self.lines:
            _words(painter, NONE, room, 40, theme.color("quiet"))
        else:
            self._draw_first(painter, room, theme)
            self._draw_others(painter, room, theme)
        foot = QRectF(box.left() + 24, box.bottom() - 32, box.width() - 48, 26)
        _words(painter, HINT, foot, 11, theme.color("quiet"), bold=False)

    def _draw_first(self, painter: QPainter, room: QRectF, theme: Theme) -> None:
        """The soonest: time as large as it gets, what and how long beside it."""
        first, high = self.lines[0], room.height() * self._share()
        band = QRectF(room.left(), room.top(), room.width(), high)
        colour = theme.color("wait" if first.cliff else "accent")
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawRoundedRect(band, 8, 8)
        ink = theme.color("on_accent")
        if first.cliff:
            painter.setPen(QPen(ink, 5))
            _cliff_mark(painter, QRectF(band.right() - 44, band.top() + 18, 24, high - 36))
        inner = band.adjusted(24, 14, -64, -14)
        time = QRectF(inner.left(), inner.top(), inner.width() * 0.36, inner.height())
        _words(painter, first.when, time, 170, ink)
        rest = inner.adjusted(inner.width() * 0.4, 0, 0, 0)
        upper = QRectF(rest.left(), rest.top(), rest.width(), rest.height() * 0.56)
        lower = QRectF(rest.left(), upper.bottom(), rest.width(), rest.height() * 0.44)
        _words(painter, first.what, upper, words_at(READ_FROM_M) * 1.3, ink)
        _words(painter, first.left, lower, words_at(READ_FROM_M), ink)

    def _draw_others(self, painter: QPainter, room: QRectF, theme: Theme) -> None:
        rest = self.lines[1:]
        top = room.top() + room.height() * self._share() + 14
        if not rest:
            return
        high = min((room.bottom() - top) / len(rest), 92.0)
        for place, line in enumerate(rest):
            row = QRectF(room.left(), top + place * high, room.width(), high)
            painter.fillRect(QRectF(row.left(), row.bottom() - 1.2, row.width(), 1.2),
                             theme.color("line"))  # fmt: skip
            ink = theme.color("wait" if line.cliff else "ink")
            painter.setPen(QPen(ink, 4))
            if line.cliff:
                _cliff_mark(painter, QRectF(row.right() - 30, row.top() + 14, 16, high - 28))
            wide = row.width()
            cells = ((line.when, 0.0, 0.2, True), (line.what, 0.22, 0.47, True),
                     (line.left, 0.71, 0.23, False))  # fmt: skip
            for text, at, share, bold in cells:
                cell = QRectF(row.left() + wide * at, row.top(), wide * share, high)
                _words(painter, text, cell, min(34.0, high * 0.5), ink, bold=bold)

    def _share(self) -> float:
        return 0.44 if len(self.lines) > 1 else 0.6


def _cliff_mark(painter: QPainter, box: QRectF) -> None:
    """A floor that ends: the sign of a latest time."""
    edge = box.left() + box.width() * 0.55
    corners = (box.topLeft(), QPointF(edge, box.top()), QPointF(edge, box.bottom()))
    painter.drawPolyline([*corners, box.bottomRight()])


def _words(
    painter: QPainter, text: str, room: QRectF, most: float, ink: QColor, *, bold: bool = True
) -> None:
    """As large as the room allows, in two lines where that makes it larger."""
    found = fitted_block(text, room.adjusted(0, 0, -4, 0), most, bold)
    if found is None:
        return
    font, lines = found
    painter.setFont(font)
    painter.setPen(ink)
    high = line_height(font)
    top = room.center().y() - high * len(lines) / 2
    for place, line in enumerate(lines):
        row = QRectF(room.left(), top + place * high, room.width() + 8, high)
        painter.drawText(row, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, line)


def _cliff(group: Group, now: datetime) -> ClockLine:
    assert group.closes is not None
    left = f"closes in {say_duration(group.closes - now)}"
    if group.said.answer is Answer.WAIT and group.said.until:
        left = f"opens {_time(group.said.until, now)}, {left}"
    return ClockLine(_time(group.closes, now), f"{group.where}: {group.step.name}", left, True)


def _wait(group: Group, now: datetime) -> ClockLine:
    assert group.said.until is not None
    left = say_duration(group.said.until - now)
    return ClockLine(
        _time(group.said.until, now), f"{group.where}: {group.step.name}", f"in {left}", False
    )


def _time(at: datetime, now: datetime) -> str:
    return time_of_day(at, now)


def _closes(group: Group) -> float:
    return group.closes.timestamp() if group.closes else 0.0


def _until(group: Group) -> float:
    return group.said.until.timestamp() if group.said.until else 0.0
