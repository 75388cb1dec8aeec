"""The lanes of a week, painted: today wide, the other days beside it; every stretch by keyboard."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from partsbench.core import shown_times
from partsbench.services.plan.week import LaneKind, ShopWeek, WeekLane, WeekSpan
from partsbench.ui.fit_text import fitted, fitted_block, line_height
from partsbench.ui.theme import CAPITAL_SHARE, in_pixels, theme_of

GUTTER = 132
"""Px for the names of the lanes."""
NAME, MARK = 26, 18
HEAD = NAME + 2 * MARK
"""Px for a day: its name, what is done, and what is promised."""
HOURS = 16
TODAY = 3.4
"""Today is so many times as wide as another day."""
SHARE = {LaneKind.HANDS: 2.4, LaneKind.GUN: 1.4, LaneKind.ROOM: 1.4, LaneKind.WAIT: 0.9}
"""How high a lane is against a wait's."""
WAIT_LEAST, WAIT_MOST = 21, 50
LEAST_WIDE = 720
DAY_CAPITALS = 19.0
SPAN_CAPITALS = 21.0
NAME_CAPITALS = 18.0
READABLE = 8.5
"""Lower capitals are not written on a stretch, px; its sentence says it."""

ARROW_KEYS = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down)

LanePlace = tuple[int, int]
"""Lane and stretch."""


class WeekView(QWidget):
    """Days across, lanes down. The arrow keys go from stretch to stretch."""

    draws_focus = True

    chosen = Signal()
    """Another stretch is chosen, or none: `lane` and `span` say which."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.week: ShopWeek | None = None
        self.place: LanePlace | None = None
        self.setObjectName("week-lanes")
        self.setAccessibleName("The coming week, lane by lane")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_week(self, week: ShopWeek | None) -> None:
        self.week = week
        self._choose(None)
        said = [f"{lane.name}: {' '.join(s.sentence for s in lane.spans)}" for lane in self._lanes]
        self.setAccessibleDescription(" ".join(said) or "Nothing is planned.")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint()

    def minimumSizeHint(self) -> QSize:
        return QSize(LEAST_WIDE, HEAD + HOURS + round(WAIT_LEAST * max(4.0, self._shares())))

    # Places

    @property
    def _lanes(self) -> tuple[WeekLane, ...]:
        return self.week.lanes if self.week else ()

    def _shares(self, before: int | None = None) -> float:
        return sum(SHARE[lane.kind] for lane in self._lanes[:before])

    def _row(self, number: int) -> QRectF:
        room = self.height() - HEAD - HOURS
        unit = min(WAIT_MOST, max(WAIT_LEAST, room / max(1.0, self._shares())))
        top = HEAD + HOURS + unit * self._shares(number)
        return QRectF(0, top, self.width(), unit * SHARE[self._lanes[number].kind])

    def column(self, number: int) -> QRectF:
        """The column of a day, 0 for today."""
        days = len(self.week.days) if self.week else 1
        unit = (self.width() - GUTTER - 2) / (TODAY + days - 1)
        left = GUTTER + (0 if number == 0 else (TODAY + number - 1) * unit)
        return QRectF(left, 0, unit * (TODAY if number == 0 else 1), self.height())

    def x_of(self, at: datetime) -> float:
        """Where a time lies; what is outside the hours of work lies at the edge of its day."""
        assert self.week is not None
        local = at.astimezone()
        days = self.week.days
        if local.date() < days[0]:
            return self.column(0).left()
        if local.date() > days[-1]:
            return self.column(len(days) - 1).right()
        first, last = self._hours(local.date())
        hours = local.hour + local.minute / 60
        share = (hours - first) / max(1.0, last - first)
        box = self.column(days.index(local.date()))
        return box.left() + box.width() * min(max(share, 0.0), 1.0)

    def _hours(self, day: date) -> tuple[float, float]:
        """From when until when a day is shown: today from now on, where that leaves enough."""
        assert self.week is not None
        first, last = self.week.hours
        now = self.week.at.astimezone()
        if day == now.date():
            return float(min(max(first, now.hour), last - 2)), float(last)
        return float(first), float(last)

    def span_box(self, lane: int, span: WeekSpan) -> QRectF:
        """Where a stretch is drawn."""
        row = self._row(lane)
        x0, x1 = self.x_of(span.starts), self.x_of(span.ends)
        return QRectF(x0 + 0.5, row.top() + 3, max(3.0, x1 - x0 - 1), row.height() - 6)

    def _at(self, point: QPointF) -> LanePlace | None:
        for n, lane in enumerate(self._lanes):
            for m, span in enumerate(lane.spans):
                if self.span_box(n, span).adjusted(-2, -3, 2, 3).contains(point):
                    return n, m
        return None

    # Choosing

    def _choose(self, place: LanePlace | None) -> None:
        self.place = place
        self.chosen.emit()
        self.update()

    @property
    def lane(self) -> WeekLane | None:
        """The lane of the chosen stretch."""
        return self._lanes[self.place[0]] if self.place else None

    @property
    def span(self) -> WeekSpan | None:
        """The chosen stretch."""
        return self._lanes[self.place[0]].spans[self.place[1]] if self.place else None

    def choose_none(self) -> None:
        self._choose(None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in ARROW_KEYS:
            self.go(event.key())
        else:
            super().keyPressEvent(event)

    def go(self, key: int) -> None:
        """To the stretch beside the chosen one, as an arrow key says; to the first from none."""
        if self._lanes:
            self._choose(self._beside(key))

    def _beside(self, key: int) -> LanePlace:
        if self.place is None:
            return 0, 0
        lane, span = self.place
        if key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            by = 1 if key == Qt.Key.Key_Right else -1
            return lane, min(max(span + by, 0), len(self._lanes[lane].spans) - 1)
        starts = self._lanes[lane].spans[span].starts
        other = min(max(lane + (1 if key == Qt.Key.Key_Down else -1), 0), len(self._lanes) - 1)
        spans = self._lanes[other].spans
        return other, min(range(len(spans)), key=lambda n: abs(spans[n].starts - starts))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._choose(self._at(event.position()))

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            place = self._at(QPointF(event.pos()))
            said = self._lanes[place[0]].spans[place[1]].sentence if place else ""
            QToolTip.showText(event.globalPos(), said, self)
            return True
        return super().event(event)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for n, day in enumerate(self.week.days if self.week else ()):
            self._draw_day(painter, n, day)
        for n, lane in enumerate(self._lanes):
            self._draw_lane(painter, n, lane)
        self._draw_chosen(painter)
        if self.hasFocus() and self.place is None:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(theme_of(self).color("accent"), 3))
            painter.drawRect(self.rect().adjusted(2, 2, -2, -2))

    def _draw_day(self, painter: QPainter, number: int, day: date) -> None:
        assert self.week is not None
        theme, box = theme_of(self), self.column(number)
        painter.setPen(QPen(theme.color("line"), 1.2))
        painter.drawLine(QPointF(box.left(), 0), QPointF(box.left(), self.height()))
        said = "Today" if number == 0 else shown_times.weekday_and_day(day)
        left, wide = box.left() + 5, box.width() - 8
        self._words(painter, said, QRectF(left, 0, wide, NAME), DAY_CAPITALS, "ink")
        marks = [mark for mark in self.week.marks if mark.day == day]
        done = [mark.words for mark in marks if not mark.promised]
        due = [mark.words for mark in marks if mark.promised]
        kept = all(mark.kept for mark in marks)
        for top, words, many, ink in (
            (NAME, done, "done", "go"),
            (NAME + MARK, due, "promised", "wait" if kept else "stop"),
        ):
            if words:
                room = QRectF(left, top, wide, MARK)
                self._first(painter, [", ".join(words), f"{len(words)} {many}"], room, 11, ink)
        self._draw_hours(painter, box, day)

    def _draw_hours(self, painter: QPainter, box: QRectF, day: date) -> None:
        theme = theme_of(self)
        first, last = self._hours(day)
        every = 2 if box.width() / (last - first) > 20 else 5
        for hour in range(int(first), int(last), every):
            x = box.left() + box.width() * (hour - first) / (last - first)
            painter.setPen(QPen(theme.color("recess"), 1))
            painter.drawLine(QPointF(x, HEAD + HOURS), QPointF(x, self.height()))
            painter.setPen(theme.color("quiet"))
            painter.setFont(in_pixels(8))
            where = QRectF(x + 2, HEAD, 30, HOURS)
            painter.drawText(where, Qt.AlignmentFlag.AlignVCenter, str(hour))

    def _draw_lane(self, painter: QPainter, number: int, lane: WeekLane) -> None:
        theme, row = theme_of(self), self._row(number)
        painter.setPen(QPen(theme.color("recess"), 1))
        painter.drawLine(row.bottomLeft(), row.bottomRight())
        self._words(painter, lane.name, QRectF(2, row.top(), GUTTER - 8, row.height()),
                    NAME_CAPITALS, "ink", bold=lane.kind is not LaneKind.WAIT)  # fmt: skip
        for span in lane.spans:
            self._draw_span(painter, lane.kind, span, self.span_box(number, span))

    def _draw_span(self, painter: QPainter, kind: LaneKind, span: WeekSpan, box: QRectF) -> None:
        theme = theme_of(self)
        painter.setPen(QPen(theme.color("line" if kind is LaneKind.WAIT else "ink"), 1.2))
        if kind is LaneKind.HANDS:
            painter.setBrush(theme.color("accent"))
        elif kind is LaneKind.WAIT:
            painter.fillRect(box, theme.color("recess"))
            painter.setBrush(QBrush(theme.color("hatch"), Qt.BrushStyle.BDiagPattern))
        else:
            painter.setBrush(theme.color("paint" if kind is LaneKind.GUN else "stain"))
        painter.drawRoundedRect(box, 3, 3)
        if kind is LaneKind.WAIT:
            self._draw_until(painter, span, box)
        else:
            ink = "on_accent" if kind is LaneKind.HANDS else "ink"
            pieces = f"{len(span.of)} pieces" if len(span.of) > 2 else ""
            ways = (", ".join(span.of), ", ".join(span.works), pieces, *span.works[:1])
            self._first(painter, ways, box.adjusted(3, 0, -3, 0), SPAN_CAPITALS, ink)

    def _draw_until(self, painter: QPainter, span: WeekSpan, box: QRectF) -> None:
        """Until when, on ground of its own: nothing is read on hatching."""
        assert self.week is not None
        said = shown_times.hour_and_weekday(span.ends)
        if span.ends.astimezone().date() == span.starts.astimezone().date():
            said = shown_times.hour(span.ends)
        font = fitted(said, box.width() - 10, min(14.0, box.height() * 0.6), 14.0)
        if font is None or font.pixelSize() * CAPITAL_SHARE < READABLE:
            return
        painter.setFont(font)
        wide = painter.fontMetrics().horizontalAdvance(said) + 8
        ground = QRectF(box.right() - wide - 1, box.top() + 2, wide, box.height() - 4)
        painter.fillRect(ground, theme_of(self).color("raised"))
        painter.setPen(theme_of(self).color("ink"))
        painter.drawText(ground, Qt.AlignmentFlag.AlignCenter, said)

    def _first(
        self, painter: QPainter, ways: Sequence[str], box: QRectF, most: float, ink: str
    ) -> None:
        """The first of several ways to say it that can be read there."""
        for text in ways:
            if text and self._words(painter, text, box, most, ink):
                return

    def _words(
        self, painter: QPainter, text: str, box: QRectF, most: float, ink: str, *, bold: bool = True
    ) -> bool:
        """As large as the box allows, in one or more lines; False where it could not be read."""
        block = fitted_block(text, box, most, bold)
        if block is None or block[0].pixelSize() * CAPITAL_SHARE < READABLE:
            return False
        font, lines = block
        painter.setFont(font)
        painter.setPen(theme_of(self).color(ink))
        step = line_height(font)
        top = box.top() + (box.height() - step * len(lines)) / 2
        for n, line in enumerate(lines):
            where = QRectF(box.left(), top + n * step, box.width(), step)
            painter.drawText(where, Qt.AlignmentFlag.AlignVCenter, line)
        return True

    def _draw_chosen(self, painter: QPainter) -> None:
        if self.place is None:
            return
        lane, span = self.place
        box = self.span_box(lane, self._lanes[lane].spans[span])
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(theme_of(self).color("ink"), 3 if self.hasFocus() else 2))
        painter.drawRect(box.adjusted(-2, -2, 2, 2))
