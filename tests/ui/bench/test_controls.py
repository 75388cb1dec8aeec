from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from partsbench.ui.bench.controls import Stage, scrolled, words
from partsbench.ui.theme import Theme

LONG = "Colour coat 1, thin must follow the sanding of the filler level within a day. " * 6


def test_words_that_wrap_are_never_drawn_over_what_stands_below(theme: Theme, qtbot: QtBot) -> None:
    page, content, block = QWidget(), QWidget(), QWidget()
    qtbot.addWidget(page)
    first, second = words(1), words(1)
    block.setFixedHeight(300)
    column = QVBoxLayout(content)
    across = QHBoxLayout()
    column.addLayout(across)
    for widget in (block, first, second):
        column.addWidget(widget)
    first.setText(LONG)
    second.setText(LONG)
    scroller = scrolled(content, page, (300, 200), across)
    page.resize(420, 320)
    page.show()
    qtbot.waitExposed(page)
    stage = scroller.widget()
    assert isinstance(stage, Stage)
    assert not stage.narrow
    assert block.geometry().bottom() < first.geometry().top()
    assert first.geometry().bottom() < second.geometry().top()
    for label in (first, second):
        assert label.height() >= label.heightForWidth(label.width())
