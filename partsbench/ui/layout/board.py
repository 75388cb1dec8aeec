"""The front itself, as large as the page allows, with its sizes and borders round it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from partsbench.core.outcomes import Refused
from partsbench.core.piece import shaping
from partsbench.core.piece.front import Front, lines_of
from partsbench.core.piece.shaping import Axis
from partsbench.core.sums.units import MM_PER_INCH, Measures, length, show_length
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.looks import looks_of
from partsbench.ui.layout.ruler import THICK, WAYS, WORD, Ruler, SizeButton, both
from partsbench.ui.layout.seam_lines import SeamLines, seen_seams
from partsbench.ui.piece_view import PieceView
from partsbench.ui.piece_view.scaling import MARGIN
from partsbench.ui.theme import sized, theme_of

STEPS = {Measures.METRIC: (5.0, 1.0), Measures.US: (MM_PER_INCH / 4, MM_PER_INCH / 16)}
"""How far an arrow key moves a border, and how far with Shift: mm, or quarters and sixteenths."""


class Board(QWidget):
    """Shows the piece of the desk, and changes its sizes by dragging, by keys and by typing."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.view = PieceView(self)
        self.view.true_to_scale = True
        self.view.multi_select = True
        self.columns = Ruler(Axis.COLUMNS, self)
        self.rows = Ruler(Axis.ROWS, self)
        self.seams = SeamLines(self.view)
        self.guide = Guide(self)
        self.editor = QLineEdit(self)
        self._editing: tuple[Axis, int] | None = None
        self._make_editor()
        self._lay_out()
        self._connect()

    def _make_editor(self) -> None:
        self.editor.setObjectName("size-editor")
        self.editor.setAccessibleName("Another size")
        self.editor.hide()
        self.editor.installEventFilter(self)
        self.editor.editingFinished.connect(self.on_size_typed)

    def _lay_out(self) -> None:
        whole = QVBoxLayout(self)
        # The view keeps a margin of its own, which the rulers share.
        whole.setContentsMargins(THICK[Axis.ROWS] - MARGIN, THICK[Axis.COLUMNS] - MARGIN, 0, 0)
        whole.addWidget(self.view)
        self.view.installEventFilter(self)
        QWidget.setTabOrder(self.view, self.columns)
        QWidget.setTabOrder(self.columns, self.rows)

    def _connect(self) -> None:
        self.desk.shown.connect(self.on_shown)
        self.desk.chose.connect(self.on_chose)
        self.view.selection_changed.connect(self.on_selection_changed)
        self.columns.size_asked.connect(self.on_width_asked)
        self.rows.size_asked.connect(self.on_height_asked)
        self.columns.border_dragged.connect(self.on_column_dragged)
        self.rows.border_dragged.connect(self.on_row_dragged)
        self.columns.border_dropped.connect(self.on_column_dropped)
        self.rows.border_dropped.connect(self.on_row_dropped)
        self.columns.border_nudged.connect(self.on_column_nudged)
        self.rows.border_nudged.connect(self.on_row_nudged)

    # Showing

    def on_shown(self) -> None:
        piece = self.desk.piece
        for ruler in (self.columns, self.rows):
            ruler.setVisible(piece is not None)
        if piece is None:
            self.view.clear()
            return
        self.view.show_piece(piece, looks_of(piece, self.desk.shop.paths, self.view.show_hidden))
        self.seams.show_seams(seen_seams(piece, self.desk.seams))
        self._measure()

    def show_hidden(self, shown: bool) -> None:
        """Show what doors hide over them, or not."""
        self.view.show_hidden = shown
        self.on_shown()

    def on_chose(self) -> None:
        self.view.select(self.desk.chosen)

    def on_selection_changed(self) -> None:
        if tuple(self.view.selection()) != self.desk.chosen:
            self.desk.choose(self.view.selection())

    def _measure(self) -> None:
        """Put every size and every grip opposite its cells."""
        front = self._front()
        if front is None:
            return
        scale = self.view.scale()
        rect = self.view.front_rect().translated(self.view.x(), self.view.y())
        corner = self.view.mapTo(self, self.view.to_view(0, 0).toPoint())
        thick, broad = THICK[Axis.COLUMNS], THICK[Axis.ROWS]
        self.columns.setGeometry(0, max(0, corner.y() - thick), self.width(), thick)
        # Below the front stands the number of a leg, which has to be pressed.
        deep = int(rect.bottom()) + broad // 4
        self.rows.setGeometry(max(0, corner.x() - broad), 0, broad, deep)
        across = [rect.left() + x * scale for x in lines_of(front.columns)]
        down = [rect.top() + y * scale for y in lines_of(front.rows)]
        self.columns.show_sizes(front.columns, across, self.desk.measures)
        self.rows.show_sizes(front.rows, down, self.desk.measures)

    def _front(self) -> Front | None:
        return self.desk.piece.front if self.desk.piece else None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self.view and event.type() in (QEvent.Type.Resize, QEvent.Type.Move):
            self.seams.setGeometry(self.view.rect())
            self._measure()
        if watched is self.editor and event.type() == QEvent.Type.KeyPress:
            assert isinstance(event, QKeyEvent)
            if event.key() == Qt.Key.Key_Escape:
                self._stop_editing()
                return True
        return super().eventFilter(watched, event)

    # Typing a size

    def on_width_asked(self, place: int) -> None:
        self._edit(Axis.COLUMNS, place)

    def on_height_asked(self, place: int) -> None:
        self._edit(Axis.ROWS, place)

    def _edit(self, axis: Axis, place: int) -> None:
        front, button = self._front(), self._size_button(axis, place)
        assert front is not None and button is not None
        self._editing = (axis, place)
        size = getattr(front, axis.value)[place]
        self.editor.setText(show_length(size, self.desk.measures, 0 if size == round(size) else 1))
        self.editor.setAccessibleName(f"Size of {WORD[axis]} {place + 1}")
        spot = button.mapTo(self, button.rect().center())
        wide, high = 100, self.editor.sizeHint().height()
        x = min(max(0, spot.x() - wide // 2), self.width() - wide)
        self.editor.setGeometry(QRect(QPoint(x, max(0, spot.y() - high // 2)), self.editor.size()))
        self.editor.resize(wide, high)
        self.editor.show()
        self.editor.raise_()
        self.editor.selectAll()
        self.editor.setFocus()

    def on_size_typed(self) -> None:
        if self._editing is None:
            return
        axis, place = self._editing
        text = self.editor.text()
        self._stop_editing()
        size = length(text, self.desk.measures, f"{WORD[axis]} {place + 1}")
        if isinstance(size, Refused):
            self.desk.answered.emit(size)
            return
        front = self._front()
        assert front is not None
        if abs(getattr(front, axis.value)[place] - size.value) < 0.05:
            return
        shown = show_length(size.value, self.desk.measures)

        def sized_front(now: Front) -> Front | Refused:
            return shaping.resize(now, axis, place, size.value)

        self.desk.reshape(sized_front, f"{WORD[axis]} {place + 1} is {shown}")

    def _stop_editing(self) -> None:
        assert self._editing is not None
        axis, place = self._editing
        self._editing = None
        self.editor.hide()
        button = self._size_button(axis, place)
        assert button is not None
        button.setFocus()

    def _size_button(self, axis: Axis, place: int) -> SizeButton | None:
        return (self.columns if axis is Axis.COLUMNS else self.rows).size_button(place)

    # Moving a border

    def on_column_dragged(self, place: int, px: float) -> None:
        self._show_guide(Axis.COLUMNS, place, px)

    def on_row_dragged(self, place: int, px: float) -> None:
        self._show_guide(Axis.ROWS, place, px)

    def on_column_dropped(self, place: int, px: float) -> None:
        self.guide.hide()
        self.move_border(Axis.COLUMNS, place, self._whole_steps(px))

    def on_row_dropped(self, place: int, px: float) -> None:
        self.guide.hide()
        self.move_border(Axis.ROWS, place, self._whole_steps(px))

    def on_column_nudged(self, place: int, step: int, fine: bool) -> None:
        self.move_border(Axis.COLUMNS, place, step * STEPS[self.desk.measures][fine])

    def on_row_nudged(self, place: int, step: int, fine: bool) -> None:
        self.move_border(Axis.ROWS, place, step * STEPS[self.desk.measures][fine])

    def nudge_chosen(self, axis: Axis, step: int, fine: bool = False) -> None:
        """Move the right or lower border of the chosen opening by a step."""
        openings = self.desk.openings()
        if not openings:
            self.desk.answered.emit(Refused("Choose an opening first: its border will move."))
            return
        span = openings[-1].span
        place = (span.right if axis is Axis.COLUMNS else span.bottom) - 1
        self.move_border(axis, place, step * STEPS[self.desk.measures][fine])

    def move_border(self, axis: Axis, place: int, by: float) -> None:
        """Move the border after a column or row by so many mm."""
        if not by:
            return

        def moved(front: Front) -> Front | Refused:
            return shaping.move_border(front, axis, place, by)

        of = both(axis, place)
        way = WAYS[axis][by > 0]
        shown = show_length(abs(by), self.desk.measures, 1 if by % 1 else 0)
        self.desk.reshape(moved, f"border of {of} {way} by {shown}")

    def _whole_steps(self, px: float) -> float:
        fine = STEPS[self.desk.measures][1]
        return round(px / self.view.scale() / fine) * fine

    def _show_guide(self, axis: Axis, place: int, px: float) -> None:
        front = self._front()
        assert front is not None
        by = self._whole_steps(px)
        sizes = getattr(front, axis.value)
        first, second = sizes[place] + by, sizes[place + 1] - by
        at = lines_of(sizes)[place + 1] + by
        rect = self.view.front_rect().translated(self.view.x(), self.view.y())
        measures = self.desk.measures
        self.guide.setGeometry(self.rect())
        self.guide.show_line(
            axis,
            (rect.left() if axis is Axis.COLUMNS else rect.top()) + at * self.view.scale(),
            rect,
            f"{show_length(first, measures)}  |  {show_length(second, measures)}",
            min(first, second) > 0,
        )


class Guide(QWidget):
    """Where a dragged border would come to lie, and the two sizes it would leave."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()
        self._axis = Axis.COLUMNS
        self._at = 0.0
        self._rect = QRectF()
        self._text = ""
        self._good = True

    def show_line(self, axis: Axis, at: float, rect: QRectF, text: str, good: bool) -> None:
        self._axis, self._at, self._rect, self._text, self._good = axis, at, rect, text, good
        self.show()
        self.raise_()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = theme_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colour = theme.color("accent" if self._good else "stop")
        painter.setPen(QPen(colour, 3, Qt.PenStyle.DashLine))
        rect, at = self._rect, self._at
        if self._axis is Axis.COLUMNS:
            painter.drawLine(round(at), round(rect.top()) - 30, round(at), round(rect.bottom()))
        else:
            painter.drawLine(round(rect.left()) - 30, round(at), round(rect.right()), round(at))
        painter.setFont(sized(0, bold=True))
        text = self._text if self._good else "too small"
        wide = painter.fontMetrics().horizontalAdvance(text) + 20
        middle = rect.center()
        x = at if self._axis is Axis.COLUMNS else middle.x()
        y = middle.y() if self._axis is Axis.COLUMNS else at
        x = min(max(x, wide / 2), self.width() - wide / 2)
        chip = QRectF(x - wide / 2, y - 16, wide, 32)
        painter.setPen(QPen(colour, 2))
        painter.setBrush(theme.color("raised"))
        painter.drawRoundedRect(chip, 6, 6)
        painter.setPen(theme.color("ink"))
        painter.drawText(chip, Qt.AlignmentFlag.AlignCenter, text)
