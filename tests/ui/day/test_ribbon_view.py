from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QToolTip
from pytestqt.qtbot import QtBot

from partsbench.services.shown.ribbon import Bar, Block, Ribbon
from partsbench.ui.day.ribbon_view import EDGE, HANDS, HEAD, LINE, MOST_BARS, NEAR_NOW, RibbonView
from partsbench.ui.theme import Theme
from tests.support.faces import path
from tests.support.pointer import RAISED, rest_at


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


PAINT = path("paint")
NOW = datetime(2026, 1, 5, 10, 0, tzinfo=UTC)
LATER = timedelta(hours=1)


def shown(qtbot: QtBot, bars: list[Bar], blocks: tuple[Block, ...] = (), wide: int = 900):
    view = RibbonView()
    qtbot.addWidget(view)
    view.show_ribbon(Ribbon(NOW, NOW + 12 * LATER, tuple(bars), blocks))
    view.resize(wide, view.sizeHint().height())
    view.show()
    qtbot.waitExposed(view)
    return view


def wait(n: int, opens: timedelta = LATER) -> Bar:
    return Bar(f"D{n}: Sand 220", NOW + opens, None, NOW)


def inked(view: RibbonView, box: QRect) -> int:
    """How many points of a place are not the ground of the page."""
    ground = view.grab(QRect(0, 0, 1, 1)).toImage().pixelColor(0, 0)
    image = view.grab(box).toImage()
    return sum(image.pixelColor(x, y) != ground
               for x in range(image.width()) for y in range(image.height()))  # fmt: skip


@pytest.mark.qt_log_ignore(RAISED, extend=True)
def test_where_the_pointer_rests_the_wait_or_the_work_is_told(theme: Theme, qtbot: QtBot) -> None:
    block = Block("Wash Heron D1", NOW + LATER, NOW + 3 * LATER, False, PAINT.steps[0])
    view = shown(qtbot, [wait(1), wait(2)], (block,))
    row = HEAD + HANDS
    assert rest_at(view, 200, row + 5) == wait(1).sentence
    assert rest_at(view, 200, row + LINE + 5) == wait(2).sentence
    inside = view.x_of(NOW + 2 * LATER)
    assert rest_at(view, inside, HEAD + HANDS / 2) == block.sentence
    rest_at(view, view.x_of(NOW + 5 * LATER), HEAD + HANDS / 2)
    qtbot.waitUntil(lambda: not QToolTip.isVisible())


def test_only_so_many_waits_are_drawn_and_how_many_more_is_told(theme: Theme, qtbot: QtBot) -> None:
    few, many = ([wait(n) for n in range(count)] for count in (MOST_BARS, MOST_BARS + 3))
    view, more = shown(qtbot, few), shown(qtbot, many)
    assert more.height() == view.height() + LINE
    below = QRect(0, HEAD + HANDS + MOST_BARS * LINE + 4, 300, LINE - 8)
    assert inked(more, below) > 50
    assert all(bar.sentence in more.accessibleDescription() for bar in many)


def test_what_ends_beyond_the_evening_is_told_at_the_edge(theme: Theme, qtbot: QtBot) -> None:
    beyond = [
        wait(1, 30 * LATER),
        Bar("D2: Colour coat 2", None, NOW + 40 * LATER, NOW),
        wait(3),
    ]
    view = shown(qtbot, beyond)
    edges = [QRect(view.width() - EDGE + 4, HEAD + HANDS + n * LINE + 3, EDGE - 4, LINE - 6)
             for n in range(3)]  # fmt: skip
    opens, closes, today = (inked(view, edge) for edge in edges)
    assert opens > 30 and closes > opens, "→ Tue 16:00, and → by Wed 02:00"
    assert today == 0


def test_work_is_named_where_its_name_can_be_read(theme: Theme, qtbot: QtBot) -> None:
    def lit(what: str, long: timedelta, gun: bool = False) -> int:
        block = Block(what, NOW + LATER, NOW + LATER + long, gun, PAINT.steps[0])
        view = shown(qtbot, [], (block,))
        left, right = round(view.x_of(block.starts)) + 2, round(view.x_of(block.ends)) - 3
        image = view.grab(QRect(left, HEAD + 5, right - left, HANDS - 12)).toImage()
        block_colour = theme.color("accent")
        return sum(image.pixelColor(x, y) != block_colour
                   for x in range(image.width()) for y in range(image.height()))  # fmt: skip

    wide = 4 * LATER
    assert lit("Wash", wide) > 20
    assert lit("Wash", LATER / 6) == 0, "too narrow for a word"
    assert lit("Wash", wide, gun=True) > lit("Wash", wide), "a dot for the gun"


def test_in_a_narrow_window_the_words_stay_within_it(theme: Theme, qtbot: QtBot) -> None:
    long = Bar("Heron D1 to D40, T1, L1 to L4: Sand filler level, scuff all at 150 and wipe",
               NOW + LATER, NOW + 2 * LATER, NOW)  # fmt: skip
    late = Bar("D2: Colour coat 2", None, NOW - LATER, NOW, late=True)
    view = shown(qtbot, [long, late], wide=340)
    last = QRect(view.width() - 3, HEAD + HANDS + 2, 3, 2 * LINE - 4)
    assert inked(view, last) == 0
    image = view.grab().toImage()
    colours = {image.pixelColor(x, round(HEAD + HANDS + 1.5 * LINE)).name() for x in range(340)}
    assert theme.color("stop").name() in colours, "LATE is written as such"


def test_before_anything_is_known_nothing_is_drawn(theme: Theme, qtbot: QtBot) -> None:
    view = RibbonView()
    qtbot.addWidget(view)
    view.resize(400, 100)
    assert inked(view, view.rect()) == 0
    view.show_ribbon(Ribbon(NOW, NOW + 12 * LATER, (), ()))
    assert view.accessibleDescription() == "No wait is running."
    assert inked(view, view.rect()) > 100
