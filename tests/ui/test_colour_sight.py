"""Whatever colours an eye lacks, what the screen says is still told apart and read."""

from __future__ import annotations

from itertools import combinations, product

import numpy as np
import pytest
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Answer
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.answer_bar import ASKING, CLOSING, DONE, MANNERS, REFUSED, AnswerDress
from partsbench.ui.piece_view import Pattern, PieceView, TileLook
from partsbench.ui.theme import DARK, LIGHT, Theme
from tests.support.colour_sight import SIGHTS, Picture, luminance, seen
from tests.support.shops import lay_out

EYES = pytest.mark.parametrize("sight", [*SIGHTS, "grey"])
THEMES = pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
WORDS = ("ink", "quiet", "accent", "go", "wait", "stop", "foreign")


def pixel(colour: QColor) -> Picture:
    return np.array([[[colour.redF(), colour.greenF(), colour.blueF()]]])


def picture_of(image: QImage) -> Picture:
    rgb = image.convertToFormat(QImage.Format.Format_RGB888)
    data = np.frombuffer(rgb.constBits(), np.uint8).reshape(rgb.height(), rgb.bytesPerLine())
    return data[:, : rgb.width() * 3].reshape(rgb.height(), rgb.width(), 3) / 255


@pytest.mark.parametrize("sight", SIGHTS)
def test_white_and_black_look_alike_to_every_eye(sight: str) -> None:
    """Each row of a matrix adds up to 1, so grey stays grey."""
    assert np.allclose(np.array(SIGHTS[sight]).sum(axis=1), 1, atol=1e-4)
    for shade in (0.0, 0.5, 1.0):
        grey = np.full((1, 1, 3), shade)
        assert np.allclose(seen(grey, sight), grey, atol=1e-3)


def test_red_and_green_come_closer_to_eyes_that_lack_a_cone() -> None:
    """The simulation does what it is for: else nothing below would show anything."""
    red, green = pixel(QColor("#A01F1A")), pixel(QColor("#256029"))
    plain = np.abs(red - green).max()
    for sight in ("protan", "deutan"):
        assert np.abs(seen(red, sight) - seen(green, sight)).max() < 0.75 * plain


@EYES
@pytest.mark.parametrize("each", [LIGHT, DARK], ids=["light", "dark"])
def test_every_word_keeps_its_contrast(each: Theme, sight: str) -> None:
    """W3C WCAG 2.2, 1.4.3: 4.5:1; to eyes that lack a cone at least the 3:1 of large text."""
    for role, ground in product(WORDS, ("ground", "raised")):
        a = luminance(seen(pixel(each.color(role)), sight)).item()
        b = luminance(seen(pixel(each.color(ground)), sight)).item()
        assert (max(a, b) + 0.05) / (min(a, b) + 0.05) >= 3.0, (role, ground)


def test_no_answer_is_told_by_its_colour_alone() -> None:
    worn: list[AnswerDress] = [*MANNERS.values(), REFUSED, CLOSING, ASKING]
    assert set(MANNERS) == set(Answer)
    assert len({manner.word for manner in worn}) == len(worn)
    assert DONE.word not in {manner.word for manner in worn}
    for a, b in combinations(worn, 2):
        assert a.word != b.word or a.mark != b.mark


@EYES
@THEMES
def test_every_pattern_of_a_tile_is_told_from_the_others(
    shop: Shop, theme: Theme, qtbot: QtBot, sight: str
) -> None:
    piece = lay_out(shop, "Heron", "1", title="box")
    assert isinstance(piece, Piece)
    view = PieceView()
    qtbot.addWidget(view)
    view.resize(360, 260)
    view.show()
    pictures: dict[Pattern, np.ndarray] = {}
    for pattern in Pattern:
        view.show_piece(piece, {"H1": TileLook(number="D1", pattern=pattern)})
        tile = view.tile("H1")
        assert tile is not None
        pictures[pattern] = luminance(seen(picture_of(tile.grab().toImage()), sight))
    for a, b in combinations(Pattern, 2):
        unlike = np.abs(pictures[a] - pictures[b]) > 0.04
        assert unlike.mean() > 0.005, (a, b, unlike.mean())
