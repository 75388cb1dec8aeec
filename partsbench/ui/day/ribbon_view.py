"""The ribbon of the day, painted; the table beside it says the same in words."""

from __future__ import annotations

from datetime import datetime, timedelta

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QFontMetricsF, QHelpEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from partsbench.core.key_words import word_of
from partsbench.core.outcomes import Answer
from partsbench.core.shown_times import hour, weekday
from partsbench.services.shown.ribbon import Bar, Block, Ribbon
from partsbench.ui.fit_text import fitted
from partsbench.ui.theme import sized, theme_of

MINE = "My hands"
GUTTER, APART = 74, 8
"""Px for the words at the left, more for longer ones, and from there to the hours."""
EDGE = 96
"""Px at the right for times that lie beyond the day."""
HANDS_FONT = (-0.4, True)
"""Steps of the theme, and bold."""
HEAD = 22
HANDS = 38
LINE = 27
NEAR_NOW = 16
"""An hour nearer than this would be written against the time of now, px."""
LEAST = 320
"""Narrower than this the hours cannot be told apart, px."""
MOST_BARS = 6
HOUR_WIDE = 44


class RibbonView(QWidget):
    """Hours across. First my hands, then a line for each wait; a cliff where it must be done by."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._ribbon: Ribbon | None = None
        self.setObjectName("ribbon")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMinimumWidth(LEAST)

    def show_ribbon(self, ribbon: Ribbon) -> None:
        self._ribbon = ribbon
        said = [b.sentence for b in ribbon.blocks] + [b.sentence for b in ribbon.bars]
        self.setAccessibleName("The rest of the day")
        self.setAccessibleDescription(" ".join(said) or "No wait is running.")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        lines = self._lines()
        more = LINE if self._left_out() else 0
        return QSize(900, HEAD + HANDS + len(lines) * LINE + more + 8)

    def minimumSizeHint(self) -> QSize:
        return QSize(LEAST, self.sizeHint().height())

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            QToolTip.showText(event.globalPos(), self._told_at(QPointF(event.pos())), self)
            return True
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._ribbon is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._draw_hours(painter, self._ribbon)
        self._draw_hands(painter, self._ribbon)
        for place, bar in enumerate(self._lines()):
            self._draw_bar(painter, bar, self._row(place))
        if self._left_out():
            painter.setPen(theme_of(self).color("quiet"))
            painter.setFont(sized(-0.4))
            row = self._row(len(self._lines()))
            painter.drawText(row, Qt.AlignmentFlag.AlignVCenter,
                             f"and {self._left_out()} more, in the table above")  # fmt: skip

    # Places

    def _lines(self) -> list[Bar]:
        return list(self._ribbon.bars[:MOST_BARS]) if self._ribbon else []

    def _left_out(self) -> int:
        return max(0, len(self._ribbon.bars) - MOST_BARS) if self._ribbon else 0

    def _row(self, place: int) -> QRectF:
        return QRectF(0, HEAD + HANDS + place * LINE, self.width(), LINE)

    def _field(self) -> tuple[float, float]:
        words = QFontMetricsF(sized(*HANDS_FONT)).horizontalAdvance(MINE)
        gutter = max(float(GUTTER), words + APART)
        return gutter, max(gutter + 100.0, self.width() - float(EDGE))

    def x_of(self, at: datetime) -> float:
        """Where a time lies; times beyond the day lie at its edge."""
        assert self._ribbon is not None
        left, right = self._field()
        whole = self._ribbon.ends - self._ribbon.starts
        share = (at - self._ribbon.starts) / whole
        return left + (right - left) * min(max(share, 0.0), 1.0)

    def _told_at(self, point: QPointF) -> str:
        for place, bar in enumerate(self._lines()):
            if self._row(place).contains(point):
                return bar.sentence
        blocks = self._ribbon.blocks if self._ribbon else ()
        for block in blocks:
            if self._block_box(block).contains(point):
                return block.sentence
        return ""

    def _block_box(self, block: Block) -> QRectF:
        x0, x1 = self.x_of(block.starts), self.x_of(block.ends)
        return QRectF(x0, HEAD + 3, max(4.0, x1 - x0 - 1.5), HANDS - 8)

    # Painting

    def _draw_hours(self, painter: QPainter, ribbon: Ribbon) -> None:
        theme = theme_of(self)
        painter.setFont(sized(-0.8))
        local = ribbon.starts.astimezone()
        full_hour = local.replace(minute=0, second=0, microsecond=0) + timedelta(hours=1)
        left, right = self._field()
        hours = (ribbon.ends - ribbon.starts) / timedelta(hours=1)
        every = 1 if (right - left) / hours > HOUR_WIDE else 2
        while full_hour <= ribbon.ends:
            x = self.x_of(full_hour)
            painter.setPen(QPen(theme.color("recess"), 1.4))
            painter.drawLine(QPointF(x, HEAD), QPointF(x, self.height()))
            painter.setPen(theme.color("quiet"))
            if x - left > NEAR_NOW:
                box = QRectF(x - 30, 0, 60, HEAD)
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, f"{full_hour:%H}")
            full_hour += timedelta(hours=every)
        painter.setPen(QPen(theme.color("ink"), 2))
        painter.drawLine(QPointF(left, HEAD), QPointF(left, self.height()))
        painter.setPen(theme.color("ink"))
        painter.drawText(QRectF(left - 60, 0, 56, HEAD),
                         Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter,
                         hour(local))  # fmt: skip

    def _draw_hands(self, painter: QPainter, ribbon: Ribbon) -> None:
        theme = theme_of(self)
        painter.setFont(sized(*HANDS_FONT))
        painter.setPen(theme.color("ink"))
        gutter = QRectF(0, HEAD, self._field()[0], HANDS)
        painter.drawText(gutter, Qt.AlignmentFlag.AlignVCenter, MINE)
        for block in ribbon.blocks:
            box = self._block_box(block)
            painter.setPen(QPen(theme.color("ink"), 1.2))
            painter.setBrush(theme.color("accent"))
            painter.drawRoundedRect(box, 3, 3)
            font = fitted(block.what, box.width() - 8, 11, 9, bold=False)
            if font and font.pixelSize() >= 11:
                painter.setFont(font)
                painter.setPen(theme.color("on_accent"))
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, block.what)
            if block.gun:
                painter.setBrush(theme.color("on_accent"))
                painter.setPen(Qt.PenStyle.NoPen)
                painter.drawEllipse(QPointF(box.left() + 7, box.top() + 6), 2.6, 2.6)

    def _draw_bar(self, painter: QPainter, bar: Bar, row: QRectF) -> None:
        """The wait is hatched, the open window plain with its cliff; the words go beside it."""
        theme = theme_of(self)
        assert self._ribbon is not None
        top, high = row.top() + 5, row.height() - 10
        now = self._field()[0]
        opens = self.x_of(bar.opens) if bar.opens else now
        if bar.opens:
            wait = QRectF(now, top, max(3.0, opens - now), high)
            painter.setPen(QPen(theme.color("line"), 1.2))
            painter.fillRect(wait, theme.color("recess"))
            painter.setBrush(QBrush(theme.color("hatch"), Qt.BrushStyle.BDiagPattern))
            painter.drawRect(wait)
        end = opens
        if bar.closes and not bar.late:
            end = self.x_of(bar.closes) + 9
            self._draw_window(painter, opens, self.x_of(bar.closes), top, high)
        last = bar.closes or bar.opens
        beyond = last is not None and last > self._ribbon.ends
        if beyond and last is not None:
            when = weekday(last, bar.now)
            self._beyond(painter, f"by {when}" if bar.closes else when, row)
        self._tell(painter, bar, end, row, when=not beyond)

    def _tell(self, painter: QPainter, bar: Bar, end: float, row: QRectF, *, when: bool) -> None:
        """Time and words right of the bar where there is room, else on it."""
        theme = theme_of(self)
        time = ""
        if bar.late:
            time = word_of(Answer.LATE)
        elif when and bar.closes:
            time = f"by {hour(bar.closes)}"
        elif when and bar.opens:
            time = hour(bar.opens)
        text = f"{time}  {bar.what}" if time else bar.what
        room = self.width() - EDGE - end - 8 if when else 0
        font = sized(-0.3)
        wide = QFontMetricsF(font).horizontalAdvance(text) + 4
        inside = room < wide
        x = self._field()[0] + 8 if inside else end + 7
        most = (self._field()[1] if inside else self.width()) - x
        if wide > most:
            font = fitted(text, most, 9, 9, bold=False) or font
            wide = min(most, QFontMetricsF(font).horizontalAdvance(text) + 4)
        if inside:
            painter.fillRect(QRectF(x - 4, row.top() + 6, wide + 8, row.height() - 12),
                             theme.color("raised"))  # fmt: skip
        role = "stop" if bar.late else "wait" if bar.closes else "ink"
        painter.setFont(font)
        painter.setPen(theme.color(role))
        painter.drawText(QRectF(x, row.top(), wide + 8, row.height()),
                         Qt.AlignmentFlag.AlignVCenter, text)  # fmt: skip

    def _draw_window(
        self, painter: QPainter, x0: float, x1: float, top: float, high: float
    ) -> None:
        """Open from x0 to x1, where the floor ends."""
        colour = theme_of(self).color("wait")
        painter.setPen(QPen(colour, 1.6))
        painter.setBrush(theme_of(self).color("raised"))
        painter.drawRect(QRectF(x0, top, max(2.0, x1 - x0), high))
        painter.setPen(QPen(colour, 4.5))
        painter.drawLine(QPointF(x1, top - 4), QPointF(x1, top + high + 1))
        painter.drawLine(QPointF(x1, top + high + 1), QPointF(x1 + 7, top + high + 1))

    def _beyond(self, painter: QPainter, text: str, row: QRectF) -> None:
        painter.setFont(sized(-0.6, bold=True))
        painter.setPen(theme_of(self).color("ink"))
        box = QRectF(self.width() - EDGE + 4, row.top(), EDGE - 4, row.height())
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, f"→ {text}")
