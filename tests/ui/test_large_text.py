"""The system's own text made larger: the window's words grow with it, and nothing is cut."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QFont, QFontDatabase, QFontInfo, QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui import theme as themes
from partsbench.ui.bench.caution_band import LETTERS_PX, CautionBand
from partsbench.ui.main_window import MainWindow
from partsbench.ui.settings import Settings
from tests.support.shops import lay_out

LOW = QSize(1280, 720)
SLACK = 2
"""So many px less than a hint are no cut: margins are in it."""


@pytest.fixture(params=[1.5, 2.0])
def larger(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Iterator[float]:
    """The system's text so many times as large as usual."""
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    with monkeypatch.context() as patch:
        patch.setattr(themes, "growth", lambda: request.param)
        themes.use(app, themes.LIGHT)
        yield request.param
    themes.use(app, themes.LIGHT)


@pytest.mark.parametrize(
    ("platform", "points", "times"),
    [
        ("win32", 9.0, 1.0),
        ("win32", 13.5, 1.5),
        ("darwin", 13.0, 1.0),
        ("linux", 9.0, 1.0),
        ("linux", 16.5, 1.5),
        ("linux", 40.0, 2.0),
        ("linux", -1.0, 1.0),
    ],
)
def test_words_grow_as_the_systems_own_and_never_shrink(
    qapp: QApplication, monkeypatch: pytest.MonkeyPatch, platform: str, points: float, times: float
) -> None:
    font = QFont()
    if points > 0:
        font.setPointSizeF(points)
    else:
        font.setPixelSize(12)  # then a system names no points
    monkeypatch.setattr(QFontDatabase, "systemFont", lambda _: font)
    monkeypatch.setattr(themes.sys, "platform", platform)
    assert themes.growth.__wrapped__() == times


def test_the_letters_of_a_caution_grow_and_never_fall_below_20_px(
    theme: themes.Theme, larger: float
) -> None:
    band = CautionBand()
    grown = QFontInfo(band._font()).pixelSize()
    assert grown >= LETTERS_PX == 20
    assert grown >= QFontInfo(themes.sized(0)).pixelSize()
    assert band.height() >= 4 * QFontMetrics(band._font()).lineSpacing()
    band.deleteLater()


def test_every_page_keeps_a_low_window_and_cuts_no_words(
    shop: Shop, tmp_path: object, theme: themes.Theme, larger: float, qtbot: QtBot
) -> None:
    made = lay_out(shop, "Heron", "2 2 3", title="dresser", legs=4, paths=[("paint", ["D1 front"])])
    assert isinstance(made, Piece)
    window = MainWindow(shop, Settings(tmp_path / "w.ini"))  # type: ignore[operator]
    qtbot.addWidget(window)
    window.resize(LOW)
    window.show()
    qtbot.waitExposed(window)
    cut = []
    for key in window.page_actions:
        window.show_page(key, made.tag)
        QApplication.processEvents()
        assert window.size() == LOW, key
        cut += [f"{key}: {said}" for said in _cut(window.page()) + _cut(window.answer_bar)]
    window.close()
    assert cut == []


def _cut(whole: QWidget) -> list[str]:
    """Words on labels and buttons that have less room than they need."""
    found = []
    for each in (*whole.findChildren(QLabel), *whole.findChildren(QAbstractButton)):
        if each.isVisible() and each.text():
            wide, high = each.minimumSizeHint().width(), each.sizeHint().height()
            if isinstance(each, QLabel) and each.wordWrap():
                high = each.heightForWidth(each.width())
            if each.width() < wide - SLACK or each.height() < high - SLACK:
                found.append(f"{each.objectName()} {each.text()[:30]}: {each.size().toTuple()}")
    return found
