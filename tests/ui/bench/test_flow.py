from __future__ import annotations

import pytest
from PySide6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from partsbench.ui.bench.flow import Flow


@pytest.fixture
def row(qtbot: QtBot) -> tuple[QWidget, Flow]:
    holder = QWidget()
    qtbot.addWidget(holder)
    flow = Flow(holder, gap=5)
    for text in ("one", "two", "three", "four"):
        button = QPushButton(text)
        button.setFixedSize(100, 30)
        flow.addWidget(button)
    return holder, flow


def places(flow: Flow) -> list[tuple[int, int]]:
    return [(g.x(), g.y()) for g in (flow.itemAt(i).geometry() for i in range(flow.count()))]


def test_a_row_breaks_where_the_width_ends(row: tuple[QWidget, Flow]) -> None:
    holder, flow = row
    holder.resize(320, 200)
    holder.show()
    assert places(flow) == [(0, 0), (105, 0), (210, 0), (0, 35)]


def test_the_height_follows_from_the_width(row: tuple[QWidget, Flow]) -> None:
    _, flow = row
    assert [flow.heightForWidth(w) for w in (1000, 320, 210, 90)] == [30, 65, 65, 135]


def test_what_is_hidden_takes_no_room(row: tuple[QWidget, Flow]) -> None:
    holder, flow = row
    first = flow.itemAt(0).widget()
    first.hide()
    holder.resize(320, 200)
    holder.show()
    assert places(flow)[1:] == [(0, 0), (105, 0), (210, 0)]


def test_cleared_it_is_empty(row: tuple[QWidget, Flow]) -> None:
    _, flow = row
    flow.clear()
    assert flow.count() == 0
    assert flow.itemAt(0) is None
