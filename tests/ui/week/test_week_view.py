"""The lanes of a week by pointer and by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QToolTip
from pytestqt.qtbot import QtBot

from partsbench.services.plan.week import LaneKind, ShopWeek, WeekLane, WeekSpan
from partsbench.ui.theme import Theme
from partsbench.ui.week.week_view import GUTTER, WeekView
from tests.support.pointer import RAISED, rest_at

LEFT = Qt.MouseButton.LeftButton
MORNING = datetime(2031, 3, 4, 9).astimezone()


def span(begins: float, long: float, word: str, piece: str = "Heron") -> WeekSpan:
    """`begins` and `long` in hours from the morning on."""
    starts = MORNING + timedelta(hours=begins)
    return WeekSpan(starts, starts + timedelta(hours=long), (piece,), (word,), (f"{word} it.",))


WEEK = ShopWeek(
    MORNING,
    (
        WeekLane("You", LaneKind.HANDS,
                 (span(0, 1, "Wash"), span(4, 2, "Sand"), span(24, 1, "Wipe"))),
        WeekLane("Gun", LaneKind.GUN, (span(5, 1, "Coat"), span(27, 2, "Coat again"))),
        WeekLane("Heron", LaneKind.WAIT, (span(1, 200, "Dry"),)),
    ),
    (),
    "Now: Wash",
)  # fmt: skip


@pytest.fixture
def view(theme: Theme, qtbot: QtBot) -> Iterator[WeekView]:
    made = WeekView()
    qtbot.addWidget(made)
    made.show_week(WEEK)
    made.resize(1200, 400)
    made.show()
    qtbot.waitExposed(made)
    yield made


def middle(view: WeekView, lane: int, number: int) -> QPoint:
    return view.span_box(lane, WEEK.lanes[lane].spans[number]).center().toPoint()


def test_a_stretch_is_chosen_by_a_press_and_let_go_by_one_beside_it(
    view: WeekView, qtbot: QtBot
) -> None:
    plain = view.grab().toImage()
    qtbot.mouseClick(view, LEFT, pos=middle(view, 0, 1))
    assert view.span is WEEK.lanes[0].spans[1] and view.lane is WEEK.lanes[0]
    assert view.grab().toImage() != plain, "it is framed"
    qtbot.mouseClick(view, LEFT, pos=middle(view, 1, 0))
    assert view.span is WEEK.lanes[1].spans[0]
    qtbot.mouseClick(view, LEFT, pos=QPoint(GUTTER // 2, view.height() - 5))
    assert view.span is None


def test_the_arrow_keys_go_along_a_lane_to_its_ends_and_to_the_nearest_of_the_next(
    view: WeekView, qtbot: QtBot
) -> None:
    went = []
    for key in (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Right,
                Qt.Key.Key_Down, Qt.Key.Key_Left, Qt.Key.Key_Left, Qt.Key.Key_Up,
                Qt.Key.Key_Up):  # fmt: skip
        qtbot.keyClick(view, key)
        went.append(view.place)
    assert went == [(0, 0), (0, 1), (0, 2), (0, 2), (1, 1), (1, 0), (1, 0), (0, 1), (0, 1)]
    qtbot.keyClick(view, Qt.Key.Key_A)
    assert view.place == (0, 1), "another key is none of its own"


def test_without_a_plan_an_arrow_key_chooses_nothing(view: WeekView, qtbot: QtBot) -> None:
    view.show_week(None)
    qtbot.keyClick(view, Qt.Key.Key_Right)
    assert view.place is None and view.span is None
    assert view.accessibleDescription() == "Nothing is planned."


@pytest.mark.qt_log_ignore(RAISED, extend=True)
def test_where_the_pointer_rests_the_stretch_is_told(view: WeekView, qtbot: QtBot) -> None:
    for lane, number in ((0, 0), (1, 1), (2, 0)):
        place = middle(view, lane, number)
        assert rest_at(view, place.x(), place.y()) == WEEK.lanes[lane].spans[number].sentence
    rest_at(view, 3, 3)
    qtbot.waitUntil(lambda: not QToolTip.isVisible())


def test_what_goes_on_after_the_week_ends_at_its_edge(view: WeekView) -> None:
    assert view.x_of(MORNING - timedelta(days=1)) == view.column(0).left()
    assert view.x_of(MORNING + timedelta(days=9)) == view.column(6).right()
    assert view.span_box(2, WEEK.lanes[2].spans[0]).right() == pytest.approx(
        view.width() - 2, abs=2
    )
