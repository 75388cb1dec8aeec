from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from partsbench.ui.camera.corner import LiveCorner
from partsbench.ui.dialogs.seen_picture import Outline


@pytest.fixture
def page(qtbot: QtBot) -> QWidget:
    made = QWidget()
    qtbot.addWidget(made)
    made.resize(1000, 600)
    return made


def picture(wide: int, high: int) -> QImage:
    image = QImage(wide, high, QImage.Format.Format_RGB32)
    image.fill(0xFF808080)
    return image


def test_it_stays_inside_the_page_and_takes_at_most_a_quarter_of_its_width(page: QWidget) -> None:
    corner = LiveCorner(page)
    page.show()
    for wide, high in ((1000, 600), (640, 420), (2000, 900)):
        page.resize(wide, high)
        assert page.rect().contains(corner.geometry())
        assert corner.width() <= wide / 4
        assert corner.geometry().right() > wide - 20
        assert corner.geometry().bottom() > high - 20


def test_four_presses_lead_it_round_all_corners(page: QWidget, qtbot: QtBot) -> None:
    corner = LiveCorner(page)
    page.show()
    places = []
    for _ in range(4):
        qtbot.mouseClick(corner, Qt.MouseButton.LeftButton)
        places.append(corner.pos().toTuple())
    assert len(set(places)) == 4
    assert places[3] == (1000 - corner.width() - 10, 600 - corner.height() - 10)


@pytest.mark.parametrize("wide", [320, 641, 1280])
def test_outlines_stand_where_the_labels_are_in_the_whole_picture(page: QWidget, wide: int) -> None:
    corner = LiveCorner(page)
    page.show()
    high = wide * 9 // 16
    middle = ((wide * 0.25, high * 0.25), (wide * 0.75, high * 0.25),
              (wide * 0.75, high * 0.75), (wide * 0.25, high * 0.75))  # fmt: skip
    outline = Outline(1, middle, "D3")
    corner.show_frame(picture(wide, high), [outline])
    seen = corner.picture.place_of(outline).boundingRect().center()
    assert (seen - QPointF(corner.picture.rect().center())).manhattanLength() < 4
    assert corner.picture.accessibleDescription() == "Outlined: D3"
