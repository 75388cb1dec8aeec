from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Refused
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.head_bar import HeadBar
from tests.ui.layout.conftest import Heard


def places(bar: HeadBar) -> list[tuple[int, int]]:
    """Left and top edges of what is typed or pressed, in reading order."""
    widgets: list[QWidget] = [bar.rows, bar.width_field, bar.labels]
    return [(w.mapTo(bar, w.rect().topLeft()).x(), w.mapTo(bar, w.rect().center()).y())
            for w in widgets]  # fmt: skip


def test_with_room_all_stands_in_one_row(desk: Desk, qtbot: QtBot) -> None:
    bar = HeadBar(desk)
    qtbot.addWidget(bar)
    bar.resize(1100, 60)
    bar.show()
    qtbot.waitUntil(lambda: places(bar)[0][0] < places(bar)[1][0] < places(bar)[2][0])
    assert len({y for _, y in places(bar)}) == 1
    assert bar.width() - bar.labels.geometry().right() < 40, "labels stand at the right"


def test_where_it_is_narrow_each_group_has_a_row_and_none_is_cut(desk: Desk, qtbot: QtBot) -> None:
    bar = HeadBar(desk)
    qtbot.addWidget(bar)
    bar.resize(560, 140)
    bar.show()
    assert bar.minimumSizeHint().width() < 560
    qtbot.waitUntil(lambda: all(a[1] < b[1] for a, b in pairwise(places(bar))))
    for field in (bar.rows, bar.again, bar.width_field, bar.measures, bar.labels):
        right = field.mapTo(bar, field.rect().topRight()).x()
        assert right < bar.width(), field.objectName()


def test_the_whole_front_is_given_its_height_and_what_is_no_size_is_told(
    desk: Desk, qtbot: QtBot, heard: Heard
) -> None:
    bar = HeadBar(desk)
    qtbot.addWidget(bar)
    bar.on_shown()
    for text in ("720", "tall", "720"):
        bar.height_field.selectAll()
        qtbot.keyClicks(bar.height_field, text)
        qtbot.keyClick(bar.height_field, Qt.Key.Key_Return)
    done, refused = heard.answers
    assert isinstance(done, Done) and done.sentence == "Heron: front 720 mm high."
    assert isinstance(refused, Refused) and "tall" in refused.sentence
    assert desk.piece is not None
    assert (desk.piece.front.height, desk.piece.front.width) == (720, 900)
    assert bar.height_field.text() == "720 mm"
