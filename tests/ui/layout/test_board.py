from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from partsbench.core.piece.shaping import Axis
from partsbench.core.sums.units import Measures
from partsbench.services.acts.history import history
from partsbench.ui.layout.board import Board
from partsbench.ui.layout.desk import Desk
from partsbench.ui.theme import Theme
from tests.ui.layout.conftest import Heard

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def board(desk: Desk, qtbot: QtBot) -> Iterator[Board]:
    made = Board(desk)
    qtbot.addWidget(made)
    made.resize(900, 560)
    made.show()
    qtbot.waitExposed(made)
    desk.shown.emit()
    yield made


def test_each_size_stands_opposite_its_own_cells(board: Board) -> None:
    for place, number in enumerate((5, 6, 7)):
        tile = board.view.tile_rect(f"H{number}").translated(board.view.pos())
        buttons = [board.columns.size_button(p) for p in ((0,), (1, 2), (3,))[place]]
        left = min(board.columns.x() + b.x() for b in buttons)
        right = max(board.columns.x() + b.x() + b.width() for b in buttons)
        assert left == pytest.approx(tile.left(), abs=6)
        assert right == pytest.approx(tile.right(), abs=6)
    assert (
        board.columns.y() + board.columns.height()
        <= board.view.mapTo(board, board.view.to_view(0, 0).toPoint()).y() + 1
    )


def test_a_border_is_dragged_with_the_pointer(board: Board, desk: Desk, qtbot: QtBot) -> None:
    grip = board.columns.grip(0)
    by = round(50 * board.view.scale())
    start = grip.rect().center()
    qtbot.mousePress(grip, LEFT, pos=start)
    qtbot.mouseMove(grip, start + QPoint(by, 0))
    assert board.guide.isVisible()
    qtbot.mouseRelease(grip, LEFT, pos=start + QPoint(by, 0))
    assert not board.guide.isVisible()
    columns = desk.piece.front.columns
    assert columns[0] == pytest.approx(300 + by / board.view.scale(), abs=1)
    assert columns[0] == round(columns[0])
    assert sum(columns) == pytest.approx(900)


@pytest.mark.parametrize(
    ("measures", "shift", "step"),
    [
        (Measures.METRIC, False, 5.0),
        (Measures.METRIC, True, 1.0),
        (Measures.US, False, 6.35),
        (Measures.US, True, 1.5875),
    ],
)
def test_a_border_is_moved_by_arrow_keys(
    board: Board, desk: Desk, qtbot: QtBot, measures: Measures, shift: bool, step: float
) -> None:
    desk.set_measures(measures)
    held = Qt.KeyboardModifier.ShiftModifier if shift else Qt.KeyboardModifier.NoModifier
    qtbot.keyClick(board.rows.grip(0), Qt.Key.Key_Down, held)
    assert desk.piece.front.rows == pytest.approx((200 + step, 200 - step, 200))
    qtbot.keyClick(board.rows.grip(0), Qt.Key.Key_Up, held)
    assert desk.piece.front.rows == pytest.approx((200, 200, 200))


@pytest.mark.parametrize(
    ("axis", "by", "told"),
    [
        (Axis.ROWS, -54, "border of rows 1 and 2 up by 54 mm"),
        (Axis.ROWS, 54, "border of rows 1 and 2 down by 54 mm"),
        (Axis.COLUMNS, -20, "border of columns 1 and 2 left by 20 mm"),
        (Axis.COLUMNS, 20, "border of columns 1 and 2 right by 20 mm"),
    ],
)
def test_a_moved_border_says_which_way_it_went(
    board: Board, desk: Desk, axis: Axis, by: float, told: str
) -> None:
    board.move_border(axis, 0, by)
    assert told in history(desk.shop)[0].sentence


def test_a_border_cannot_pass_its_neighbour(board: Board, desk: Desk, heard: Heard) -> None:
    before = desk.piece
    board.move_border(Axis.ROWS, 0, -195)
    assert "Opening 1 is 450.0 × 5.0 mm" in heard.refusal()
    assert desk.piece == before


@pytest.mark.parametrize(
    ("measures", "text", "mm"),
    [
        (Measures.METRIC, "187.5", 187.5),
        (Measures.METRIC, "6 1/2 in", 165.1),
        (Measures.US, "7-1/4", 184.15),
    ],
)
def test_a_size_is_typed_in_mm_or_fractions(
    board: Board, desk: Desk, qtbot: QtBot, measures: Measures, text: str, mm: float
) -> None:
    desk.set_measures(measures)
    qtbot.keyClick(board.rows.size_button(1), Qt.Key.Key_Return)
    assert board.editor.isVisible()
    board.editor.setText(text)
    qtbot.keyClick(board.editor, Qt.Key.Key_Return)
    assert not board.editor.isVisible()
    assert desk.piece.front.rows[1] == pytest.approx(mm)


def test_what_is_no_size_is_told_and_escape_leaves_all_as_it_was(
    board: Board, desk: Desk, qtbot: QtBot, heard: Heard
) -> None:
    before = desk.piece
    board.on_width_asked(0)
    board.editor.setText("wide")
    qtbot.keyClick(board.editor, Qt.Key.Key_Return)
    assert "column 1" in heard.refusal()
    board.on_width_asked(0)
    board.editor.setText("500")
    qtbot.keyClick(board.editor, Qt.Key.Key_Escape)
    assert not board.editor.isVisible()
    assert desk.piece == before


def test_sizes_are_shown_in_the_measures_of_the_shop(board: Board, desk: Desk) -> None:
    assert board.columns.size_button(0).text() == "300 mm"
    desk.set_measures(Measures.US)
    assert board.columns.size_button(0).text() == '11-13/16"'
    assert board.columns.size_button(0).accessibleName() == 'column 1, 11-13/16" wide'


def test_grips_and_sizes_have_names_and_take_the_keyboard(board: Board) -> None:
    for place in range(3):
        grip = board.columns.grip(place)
        assert grip.accessibleName() == f"border between columns {place + 1} and {place + 2}"
        assert grip.focusPolicy() & Qt.FocusPolicy.TabFocus
        assert board.columns.size_button(place).focusPolicy() & Qt.FocusPolicy.TabFocus


def colour_along(board: Board, axis: Axis) -> set[str]:
    """The colours in which the guide is drawn beside the front, over it or left of it."""
    picture = board.guide.grab().toImage()
    front = board.view.front_rect().translated(board.view.x(), board.view.y())
    if axis is Axis.COLUMNS:
        return {picture.pixelColor(x, y).name() for x in range(picture.width())
                for y in range(max(0, round(front.top()) - 28), round(front.top()))}  # fmt: skip
    return {picture.pixelColor(x, y).name() for y in range(picture.height())
            for x in range(max(0, round(front.left()) - 28), round(front.left()))}  # fmt: skip


@pytest.mark.parametrize("axis", [Axis.COLUMNS, Axis.ROWS])
def test_while_a_border_is_dragged_a_line_shows_where_it_will_lie(
    board: Board, desk: Desk, qtbot: QtBot, theme: Theme, heard: Heard, axis: Axis
) -> None:
    across = axis is Axis.COLUMNS
    grip = (board.columns if across else board.rows).grip(0)
    assert grip is not None
    start, before = grip.rect().center(), desk.piece
    good, bad = theme.color("accent").name(), theme.color("stop").name()

    def drag(px: int) -> None:
        qtbot.mouseMove(grip, start + (QPoint(px, 0) if across else QPoint(0, px)))

    qtbot.mouseMove(grip, start)
    assert not board.guide.isVisible(), "nothing is held yet"
    qtbot.mousePress(grip, Qt.MouseButton.RightButton, pos=start)
    qtbot.mouseRelease(grip, Qt.MouseButton.RightButton, pos=start)
    assert not board.guide.isVisible()
    qtbot.mousePress(grip, LEFT, pos=start)
    drag(12)
    assert good in colour_along(board, axis) and bad not in colour_along(board, axis)
    drag(-round((getattr(before.front, axis.value)[0] + 10) * board.view.scale()))
    assert bad in colour_along(board, axis), "one of both would be nothing"
    drag(0)
    qtbot.mouseRelease(grip, LEFT, pos=start)
    assert not board.guide.isVisible()
    assert desk.piece is before and heard.answers == [], "dropped where it was"
    qtbot.mousePress(grip, LEFT, pos=start)
    drag(round(20 * board.view.scale()))
    end = start + (QPoint(1, 0) if across else QPoint(0, 1)) * round(20 * board.view.scale())
    qtbot.mouseRelease(grip, LEFT, pos=end)
    assert "border of" in heard.done()
    sizes = getattr(desk.piece.front, axis.value)
    assert sizes[0] > getattr(before.front, axis.value)[0] and sizes[0] == round(sizes[0])


def test_a_border_between_columns_is_moved_by_arrow_keys_and_by_the_chosen_opening(
    board: Board, desk: Desk, qtbot: QtBot, heard: Heard
) -> None:
    qtbot.keyClick(board.columns.grip(0), Qt.Key.Key_Right)
    assert desk.piece.front.columns[0] == 305
    qtbot.keyClick(board.columns.grip(0), Qt.Key.Key_A)
    assert desk.piece.front.columns[0] == 305
    board.nudge_chosen(Axis.ROWS, 1)
    assert heard.refusal() == "Choose an opening first: its border will move."
    desk.choose(["H1"])
    board.nudge_chosen(Axis.ROWS, 1)
    assert desk.piece.front.rows == pytest.approx((205, 195, 200))


def test_the_size_that_it_has_may_be_typed_and_another_key_types_nothing(
    board: Board, desk: Desk, qtbot: QtBot, heard: Heard
) -> None:
    before = desk.piece
    qtbot.keyClick(board.rows.size_button(1), Qt.Key.Key_A)
    assert not board.editor.isVisible()
    qtbot.mouseClick(board.rows.size_button(1), LEFT)
    assert board.editor.isVisible() and board.editor.text() == "200 mm"
    qtbot.keyClick(board.editor, Qt.Key.Key_Return)
    assert not board.editor.isVisible()
    assert desk.piece is before and heard.answers == []
