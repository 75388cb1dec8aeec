from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF
from pytestqt.qtbot import QtBot

from partsbench.ui.big_word import BigWord
from partsbench.ui.fit_text import fitted, fitted_block, line_height, wrapped
from partsbench.ui.theme import Theme, sized


@pytest.mark.parametrize("text", ["D5", "OTHER JOB", "W", "D359"])
@pytest.mark.parametrize(("width", "height"), [(300, 100), (60, 80), (900, 20)])
def test_a_line_fills_its_box_and_is_never_wider(
    theme: Theme, text: str, width: float, height: float
) -> None:
    font = fitted(text, width, height, 1000)
    assert font is not None
    metrics = QFontMetricsF(font)
    broad, high = metrics.horizontalAdvance(text), metrics.capHeight()
    assert broad <= width * 1.03
    assert high <= height + 1
    assert broad >= width * 0.9 or high >= height * 0.9


def test_what_nobody_could_read_is_not_drawn(theme: Theme) -> None:
    assert fitted("D5", 4, 40, 50) is None
    assert fitted("", 400, 40, 50) is None
    assert fitted_block("a very long sentence", QRectF(0, 0, 12, 8), 40) is None


def test_lines_break_between_words_and_lose_none(theme: Theme) -> None:
    sentence = "This is Larch D5, of another job. Its home there: row 3, left."
    lines = wrapped(sentence, sized(0), 160)
    assert lines is not None
    assert " ".join(lines) == sentence
    assert len(lines) > 2
    assert all(QFontMetricsF(sized(0)).horizontalAdvance(line) <= 160 for line in lines)
    assert wrapped("unbreakable", sized(0), 20) is None


def test_a_block_fills_the_box_and_stays_inside(theme: Theme) -> None:
    box = QRectF(0, 0, 400, 120)
    block = fitted_block("stain within six minutes", box, 1000)
    assert block is not None
    font, lines = block
    assert len(lines) * line_height(font) <= box.height()


def test_a_few_words_stay_on_one_line_where_that_costs_them_little(theme: Theme) -> None:
    box = QRectF(0, 0, 340, 400)
    broken = fitted_block("All out", box, 150, bold=True)
    whole = fitted_block("All out", box, 150, bold=True, whole=0.5)
    assert broken is not None and whole is not None
    assert (broken[1], whole[1]) == (["All", "out"], ["All out"])
    assert QFontMetricsF(whole[0]).horizontalAdvance("All out") <= box.width() * 1.03
    tall = fitted_block("All out", QRectF(0, 0, 100, 300), 150, bold=True, whole=0.9)
    assert tall is not None and tall[1] == ["All", "out"], "one line would be far smaller"


def test_a_big_word_is_read_out_as_it_is_shown(theme: Theme, qtbot: QtBot) -> None:
    word = BigWord("GO", "go")
    qtbot.addWidget(word)
    word.resize(300, 120)
    word.show_text("WAIT", "wait")
    assert (word.text(), word.accessibleName()) == ("WAIT", "WAIT")
    image = word.grab().toImage()
    inked = sum(
        image.pixelColor(x, y).name().upper() == theme.wait
        for x in range(0, 300, 2)
        for y in range(0, 120, 2)
    )
    assert inked > 300
