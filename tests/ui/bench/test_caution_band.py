"""The band of what to mind: a caution that has no room is seen whole by the key that it names."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from partsbench.services.shop import Shop
from partsbench.ui.bench.caution_band import MORE, CautionBand
from partsbench.ui.main_window import MainWindow
from partsbench.ui.theme import Theme
from tests.support.shops import heron

LONG = " ".join(f"Mind {n} before the coat." for n in range(40))
SHORT = "One drawer open at a time: a chest can tip."


@pytest.fixture
def band(qapp: QApplication, theme: Theme) -> Iterator[CautionBand]:
    page = QWidget()
    page.resize(700, 600)
    column = QVBoxLayout(page)
    made = CautionBand()
    column.addWidget(made)
    column.addStretch(1)
    page.show()
    yield made
    page.close()
    page.deleteLater()


def over(page: QWidget) -> CautionBand | None:
    """What lies over a page with the whole of a caution."""
    found = [w for w in page.findChildren(CautionBand, "cautions-all") if w.isVisible()]
    assert len(found) <= 1
    return found[0] if found else None


def test_a_caution_without_room_is_shown_whole_and_nothing_moves(band: CautionBand) -> None:
    page, before = band.parentWidget(), band.geometry()
    band.show_text(LONG)
    assert band.lines()[-1].endswith(MORE)
    band.on_all_pressed()
    whole = over(page)
    assert whole is not None
    assert " ".join(whole.lines()) == LONG
    assert page.rect().contains(whole.geometry())
    assert band.geometry() == before
    band.on_all_pressed()
    assert over(page) is None


def test_a_press_shows_it_and_a_press_on_it_lets_it_go(band: CautionBand) -> None:
    band.show_text(LONG)
    QTest.mouseClick(band, Qt.MouseButton.LeftButton, pos=QPoint(40, 20))
    whole = over(band.parentWidget())
    assert whole is not None
    QTest.mouseClick(whole, Qt.MouseButton.LeftButton, pos=QPoint(40, 20))
    assert over(band.parentWidget()) is None


def test_the_next_words_take_it_away(band: CautionBand) -> None:
    band.show_text(LONG)
    band.show_all(True)
    band.show_text(SHORT)
    assert over(band.parentWidget()) is None


@pytest.mark.parametrize("words", ["", SHORT])
def test_what_has_room_stays_where_it_is(band: CautionBand, words: str) -> None:
    band.show_text(words)
    assert not band.is_cut
    band.on_all_pressed()
    assert over(band.parentWidget()) is None


@pytest.mark.parametrize("page", ["bench", "teardown", "load", "return"])
def test_m_shows_it_on_every_page_with_such_a_band(
    window: MainWindow, shop: Shop, page: str
) -> None:
    window.show_page(page, heron(shop).tag)
    shown = window.page()
    band = next(b for b in shown.findChildren(CautionBand) if b.isVisible())
    band.show_text(LONG)
    QTest.keyClick(shown, Qt.Key.Key_M)
    whole = over(shown)
    assert whole is not None and " ".join(whole.lines()) == LONG
    QTest.keyClick(shown, Qt.Key.Key_M)
    assert over(shown) is None
