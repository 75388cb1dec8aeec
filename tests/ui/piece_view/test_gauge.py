"""How far a part is, as it is drawn: told without colour, and readable."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from partsbench.ui.piece_view import Gauge, Rim, Sign
from partsbench.ui.piece_view.gauge import (
    clear_of_sign,
    draw_gauge,
    draw_sign,
    level_box,
    level_ground,
    sign_box,
)
from partsbench.ui.theme import DARK, LIGHT, Theme
from tests.ui.test_theme import contrast

BOTH = pytest.mark.parametrize("each", [LIGHT, DARK], ids=["light", "dark"])
BOX = QRectF(0, 0, 160, 60)


def drawn(gauge: Gauge, each: Theme = LIGHT) -> QImage:
    """A gauge in greys: what somebody sees who sees no colours."""
    image = QImage(160, 60, QImage.Format.Format_ARGB32)
    image.fill(QColor(each.ground))
    painter = QPainter(image)
    draw_gauge(painter, BOX, each, gauge)
    draw_sign(painter, BOX, each, gauge.sign)
    painter.end()
    return image.convertToFormat(QImage.Format.Format_Grayscale8)


def test_the_level_rises_along_the_longer_side() -> None:
    assert level_box(BOX, 0.25) == QRectF(0, 0, 40, 60)
    assert level_box(QRectF(0, 0, 20, 100), 0.25) == QRectF(0, 75, 20, 25)
    assert level_box(BOX, 2) == BOX
    assert level_box(BOX, -1).isEmpty()


@BOTH
def test_words_are_read_on_what_is_done(each: Theme) -> None:
    """W3C WCAG 2.2, success criterion 1.4.3."""
    assert contrast(each.color("ink"), level_ground(each)) >= 4.5


@BOTH
def test_the_end_of_the_level_can_be_seen(each: Theme) -> None:
    """W3C WCAG 2.2, success criterion 1.4.11: its edge has 3:1 to both sides."""
    for ground in (each.color("raised"), level_ground(each)):
        assert contrast(each.color("accent"), ground) >= 3.0 or ground == level_ground(each)
    assert contrast(each.color("accent"), each.color("raised")) >= 3.0


@BOTH
def test_every_level_sign_and_outline_differs_without_colour(each: Theme) -> None:
    looks = [
        *(Gauge(share) for share in (0.0, 0.3, 0.6, 1.0)),
        *(Gauge(0.3, sign) for sign in Sign if sign is not Sign.NONE),
        *(Gauge(0.3, rim=rim) for rim in Rim if rim is not Rim.THERE),
        Gauge(0.3, behind=True),
    ]
    pictures = [drawn(gauge, each) for gauge in looks]
    for place, one in enumerate(pictures):
        for other in pictures[place + 1 :]:
            # Grey by grey: enough px are plainly lighter or darker.
            differ = sum(
                abs(a - b) > 40
                for a, b in zip(bytes(one.constBits()), bytes(other.constBits()), strict=True)
            )
            assert differ > 60, (looks[place], differ)


def test_words_keep_clear_of_the_sign() -> None:
    room = clear_of_sign(BOX.adjusted(3, 3, -3, -3), BOX, Sign.GLASS)
    assert room.right() < sign_box(BOX).left()
    assert clear_of_sign(BOX, BOX, Sign.NONE) == BOX


@pytest.mark.parametrize("box", [BOX, QRectF(0, 0, 30, 12), QRectF(0, 0, 14, 60)])
def test_the_sign_lies_in_its_tile(box: QRectF) -> None:
    assert box.contains(sign_box(box))
