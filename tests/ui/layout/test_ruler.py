"""A size stands whole where it has room, its figure alone in a narrow cell."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from partsbench.core.piece.shaping import Axis
from partsbench.core.sums.units import Measures
from partsbench.ui.layout.ruler import GRIP, Ruler, SizeButton
from partsbench.ui.theme import Theme


@pytest.fixture
def button(theme: Theme, qtbot: QtBot) -> Iterator[SizeButton]:
    ruler = Ruler(Axis.COLUMNS)
    qtbot.addWidget(ruler)
    ruler.resize(600, 30)
    ruler.show()
    qtbot.waitExposed(ruler)
    ruler.show_sizes([300.0], [0.0, 600.0], Measures.METRIC)
    made = ruler.size_button(0)
    assert made is not None
    yield made
    assert ruler.size_button(0) is made


def test_what_is_drawn_is_what_fits(button: SizeButton) -> None:
    metrics = button.fontMetrics()
    whole, figure = (metrics.horizontalAdvance(text) for text in ("300 mm", "300"))
    for wide, text in (
        (whole + GRIP, "300 mm"),
        (whole + GRIP - 1, "300"),
        (figure + 2, "300"),
        (figure + 1, ""),
    ):
        button.resize(wide, 30)
        assert button.text() == text, wide
        assert button.accessibleName() == "column 1, 300 mm wide"
    button.resize(600, 4)
    assert button.text() == "", "no room in height"
