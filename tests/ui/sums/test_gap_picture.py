"""The picture of the gaps: tight drawers first, told by hatching and word, not by colour alone."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF
from pytestqt.qtbot import QtBot

from partsbench.ui.sums.gap_picture import SLOT, TIMES, DrawnGaps, GapPicture, _inside, gaps_of
from partsbench.ui.theme import Theme, theme_of

FITS = DrawnGaps("D1", 1.2, 0.8, 4.0, 2.0, True)
TIGHT = DrawnGaps("D2", 0.6, 0.1, 2.0, -0.4, False)


@pytest.fixture
def picture(qtbot: QtBot, theme: Theme) -> GapPicture:
    made = GapPicture()
    qtbot.addWidget(made)
    made.resize(4 * SLOT.width(), SLOT.height())
    return made


def test_tight_ones_come_first_and_all_is_told_in_words(picture: GapPicture) -> None:
    picture.show_gaps([FITS, TIGHT])
    assert [g.name for g in picture.gaps()] == ["D2", "D1"]
    assert picture.accessibleDescription() == (
        "D2: 0.1 mm each side, -0.4 mm at the top; tight. "
        "D1: 0.8 mm each side, 2.0 mm at the top; fits"
    )


def test_gaps_are_drawn_to_one_scale() -> None:
    opening = QRectF(0, 0, 116, 70)
    drawer = _inside(opening, 1.0, 2.0)
    assert (drawer.left(), drawer.top()) == (TIMES, 2 * TIMES)
    assert drawer.right() == 116 - TIMES
    sticking = _inside(opening, 0.5, -0.5)
    assert sticking.top() == -0.5 * TIMES


def test_a_tight_one_is_hatched(picture: GapPicture, theme: Theme) -> None:
    def inked(gaps: DrawnGaps) -> int:
        picture.show_gaps([gaps])
        image = picture.grab().toImage()
        stop = theme_of(picture).color("stop").rgb()
        return sum(
            image.pixel(x, y) == stop
            for x in range(0, SLOT.width(), 1)
            for y in range(0, SLOT.height(), 1)
        )

    assert inked(FITS) == 0
    assert inked(TIGHT) > 100


def test_it_grows_with_the_number_of_drawers(picture: GapPicture) -> None:
    picture.show_gaps([FITS] * 9)
    assert picture.heightForWidth(4 * SLOT.width()) == 3 * SLOT.height()
    assert picture.heightForWidth(9 * SLOT.width()) == SLOT.height()
    picture.show_gaps([])
    assert picture.isHidden()


def test_figures_that_are_none_are_left_out() -> None:
    figures = {
        "D1": {"now": {"side_mm": 1.0, "top_mm": None}, "least": {"side_mm": 0.5, "top_mm": None},
               "fits": True},
        "D2": {"refused": "sizes"},
    }  # fmt: skip
    assert gaps_of(figures) == [DrawnGaps("D1", 1.0, 0.5, None, None, True)]
    assert gaps_of(None) == []
