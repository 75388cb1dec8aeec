from __future__ import annotations

import math
from itertools import product

import pytest
from PySide6.QtGui import QColor, QFontInfo, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QLineEdit,
    QListView,
    QPushButton,
    QSpinBox,
    QWidget,
)
from pytestqt.qtbot import QtBot

from partsbench.ui import theme as themes
from partsbench.ui.piece_view import Pattern, strokes
from partsbench.ui.theme import DARK, LIGHT, Theme

BOTH = pytest.mark.parametrize("each", [LIGHT, DARK], ids=["light", "dark"])


def luminance(colour: QColor) -> float:
    """Relative luminance, W3C WCAG 2.2, "relative luminance"."""

    def linear(share: float) -> float:
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(c) for c in (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(a: QColor, b: QColor) -> float:
    lighter, darker = sorted((luminance(a), luminance(b)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


@BOTH
def test_text_has_a_contrast_of_at_least_4_5(each: Theme) -> None:
    """W3C WCAG 2.2, success criterion 1.4.3: 4.5:1 for text."""
    words = ("ink", "quiet", "accent", "go", "wait", "stop", "foreign")
    for role, ground in product(words, ("ground", "raised")):
        assert contrast(each.color(role), each.color(ground)) >= 4.5, (role, ground)
    for ground in ("accent", "go", "wait", "stop", "foreign"):
        assert contrast(each.color("on_accent"), each.color(ground)) >= 4.5, ground
    for ground in ("paint", "stain", "clear", "recess"):
        assert contrast(each.color("ink"), each.color(ground)) >= 4.5, ground


@BOTH
def test_lines_that_carry_meaning_have_a_contrast_of_at_least_3(each: Theme) -> None:
    """W3C WCAG 2.2, success criterion 1.4.11: 3:1 for what must be seen of a control."""
    for role in ("line", "hatch", "accent", "stop"):
        assert contrast(each.color(role), each.color("raised")) >= 3.0, role


@BOTH
def test_a_widget_knows_the_theme_it_stands_in(
    each: Theme, qapp: QApplication, qtbot: QtBot
) -> None:
    themes.use(qapp, each)
    widget = QWidget()
    qtbot.addWidget(widget)
    assert themes.theme_of(widget) is each
    themes.use(qapp, LIGHT)


def test_the_font_is_our_own_and_not_what_the_machine_has(theme: Theme) -> None:
    assert QFontInfo(themes.sized(0)).family() == themes.FAMILY
    assert themes.sized(2).pointSizeF() == pytest.approx(11 * 1.44)


def test_a_word_for_two_and_a_half_metres_is_as_high_as_the_eye_needs() -> None:
    """20 minutes of arc at 2.5 m is 14.5 mm, by the tangent."""
    px = themes.words_at(2.5, dpi=25.4)
    assert px == pytest.approx(2500 * math.tan(math.radians(20 / 60)), rel=1e-3)
    assert themes.words_at(3) > themes.words_at(2)


def test_capitals_are_as_high_as_asked(theme: Theme) -> None:
    from PySide6.QtGui import QFontMetricsF

    assert QFontMetricsF(themes.in_pixels(60)).capHeight() == pytest.approx(60, abs=1.5)


@BOTH
@pytest.mark.parametrize("pattern", list(Pattern))
@pytest.mark.parametrize("fill", ["", "paint", "stain", "clear"])
def test_what_is_written_on_a_tile_can_be_read(each: Theme, pattern: Pattern, fill: str) -> None:
    """W3C WCAG 2.2, success criterion 1.4.3, for every pattern on every ground of a tile."""
    ground = strokes.ground_of(each, pattern, fill)
    assert contrast(strokes.ink_of(each, pattern, fill), ground) >= 4.5


@BOTH
@pytest.mark.parametrize("control", [QLineEdit, QCheckBox, QComboBox, QPushButton, QSpinBox])
def test_the_outline_of_a_control_can_be_seen(
    each: Theme, control: type[QWidget], qapp: QApplication, qtbot: QtBot
) -> None:
    """W3C WCAG 2.2, success criterion 1.4.11: somewhere on its left edge 3:1 to the ground."""
    themes.use(qapp, each)
    around = QWidget()
    qtbot.addWidget(around)
    widget = control(around)
    widget.setGeometry(10, 10, 160, 34)
    around.show()
    qtbot.waitExposed(around)
    picture = around.grab().toImage()
    edge = [picture.pixelColor(x, 27) for x in range(10, 30)]
    assert max(contrast(colour, each.color("ground")) for colour in edge) >= 3.0
    themes.use(qapp, LIGHT)


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_a_field_that_takes_nothing_is_told_by_its_ground(theme: Theme, qtbot: QtBot) -> None:
    field = QLineEdit()
    qtbot.addWidget(field)
    field.resize(120, 32)
    middle = (60, 16)
    assert field.grab().toImage().pixelColor(*middle) == theme.color("raised")
    field.setEnabled(False)
    assert field.grab().toImage().pixelColor(*middle) == theme.color("ground")


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_a_box_without_its_tick_can_be_seen_in_a_list(theme: Theme, qtbot: QtBot) -> None:
    """W3C WCAG 2.2, success criterion 1.4.11, as for controls that stand alone."""
    model = QStandardItemModel()
    item = QStandardItem("D1")
    item.setCheckable(True)
    model.appendRow(item)
    view = QListView()
    qtbot.addWidget(view)
    view.setModel(model)
    view.resize(200, 60)
    view.show()
    qtbot.waitExposed(view)
    row = view.visualRect(model.index(0, 0))
    picture = view.viewport().grab().toImage()
    line = [picture.pixelColor(x, row.center().y()) for x in range(row.left(), row.left() + 10)]
    assert max(contrast(colour, theme.color("raised")) for colour in line) >= 3.0
