from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from partsbench.services.shown.ribbon import Ribbon
from partsbench.ui.day.ribbon_view import HEAD, NEAR_NOW, RibbonView
from partsbench.ui.theme import Theme


def hours_written(image: QImage, theme: Theme, left: int, right: int) -> bool:
    """Whether anything stands in the head between two places, in the ink of the hours."""
    ground = theme.color("ground").rgb()
    return any(
        image.pixelColor(x, y).rgb() != ground for x in range(left, right) for y in range(HEAD - 4)
    )


@pytest.mark.parametrize(("minute", "written"), [(57, False), (5, True)])
def test_an_hour_is_not_written_against_the_time_of_now(
    theme: Theme, qtbot: QtBot, minute: int, written: bool
) -> None:
    now = datetime(2026, 1, 5, 10, minute, tzinfo=UTC)
    view = RibbonView()
    qtbot.addWidget(view)
    view.resize(900, view.sizeHint().height())
    view.show_ribbon(Ribbon(now, now + timedelta(hours=12), (), ()))
    place = round(view.x_of(now.replace(minute=0) + timedelta(hours=1)))
    near = place - view.x_of(now) <= NEAR_NOW
    assert near is not written
    image = view.grab().toImage()
    assert hours_written(image, theme, place + 2, place + 10) is written
