"""Everything can be reached with Tab and the arrows, and says its name to a screen reader."""

from __future__ import annotations

import gc
import weakref

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QDialog, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.actions import PAGES
from partsbench.ui.main_window import MainWindow
from partsbench.ui.piece_view.tile import Tile
from tests.support.shops import lay_out

MOST_STOPS = 200


@pytest.fixture
def heron(shop: Shop) -> Piece:
    piece = lay_out(shop, "Heron", "2 2 3", legs=4, pulls=1, top=True)
    assert isinstance(piece, Piece)
    return piece


def stops(window: MainWindow) -> list[QWidget]:
    """Where Tab leads, from the page once round."""
    window.activateWindow()
    window.page().setFocus()
    seen: list[QWidget] = []
    for _ in range(MOST_STOPS):
        QTest.keyClick(window.windowHandle(), Qt.Key.Key_Tab)
        here = QApplication.focusWidget()
        if here is None or here in seen:
            break
        seen.append(here)
    return seen


@pytest.mark.parametrize("key", [page.key for page in PAGES])
def test_tab_goes_round_the_whole_window(
    window: MainWindow, heron: Piece, qtbot: QtBot, key: str
) -> None:
    window.show_page(key, heron.tag)
    qtbot.waitUntil(window.isActiveWindow)
    reached = stops(window)
    assert window.answer_bar.field in reached
    assert any(window.rail.isAncestorOf(w) for w in reached)
    assert any(window.page().isAncestorOf(w) for w in reached)
    assert len(reached) < MOST_STOPS


@pytest.mark.parametrize("key", [page.key for page in PAGES])
def test_every_control_says_its_name(window: MainWindow, heron: Piece, key: str) -> None:
    window.show_page(key, heron.tag)
    nameless = []
    for kind in (QAbstractButton, QLineEdit):
        for widget in window.findChildren(kind):
            named = QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)
            inner = (widget.parent() and widget.parent().inherits("QAbstractSpinBox")) or (
                widget.objectName().startswith("qt_")
            )
            tool = widget.parent() is not None and widget.parent().inherits("QLineEdit")
            if widget.isVisible() and not named and not inner and not tool:
                nameless.append((type(widget).__name__, widget.objectName()))
    assert nameless == []


@pytest.mark.parametrize("key", [page.key for page in PAGES])
@pytest.mark.parametrize("goes", ["hidden", "off", "with what it lies in"])
def test_keys_never_land_in_the_code_field_when_a_control_goes_away(
    window: MainWindow, heron: Piece, qtbot: QtBot, key: str, goes: str
) -> None:
    window.show_page(key, heron.tag)
    qtbot.waitUntil(window.isActiveWindow)
    page = window.page()
    reached = [w for w in stops(window) if page.isAncestorOf(w)]
    control = reached[-1]
    control.setFocus()
    assert QApplication.focusWidget() is control
    if goes == "hidden":
        control.hide()
    elif goes == "off":
        control.setEnabled(False)
    else:
        within = control.parentWidget()
        assert within is not None
        within.setVisible(within is page)
        control.setEnabled(within is not page)
    for character in "12SN":
        QTest.keyClick(window.windowHandle(), character)
        _let_the_scanner_filter_decide(window)
    assert window.answer_bar.field.text() == ""


def test_the_keyboard_is_not_brought_to_what_is_hidden(
    window: MainWindow, heron: Piece, qtbot: QtBot
) -> None:
    """A page may hand the keyboard on to a field that goes away with the control that had it."""
    window.show_page("start", heron.tag)
    qtbot.waitUntil(window.isActiveWindow)
    field = window.page().focusProxy()
    assert field is not None
    field.setFocus()
    field.hide()
    here = QApplication.focusWidget()
    assert here is not None and here.isVisible()
    assert here is not window.answer_bar.field


@pytest.mark.parametrize("key", [page.key for page in PAGES])
def test_a_code_begun_on_one_page_takes_no_key_of_the_next(
    window: MainWindow, heron: Piece, qtbot: QtBot, key: str
) -> None:
    window.show_page("day" if key == "bench" else "bench", heron.tag)
    qtbot.waitUntil(window.isActiveWindow)
    window.on_scan_field_asked()
    window.page_actions[key].trigger()
    QTest.keyClick(window.windowHandle(), "2")
    _let_the_scanner_filter_decide(window)
    assert window.answer_bar.field.text() == ""


def test_a_piece_is_taken_in_without_a_mouse(window: MainWindow, qtbot: QtBot) -> None:
    qtbot.waitUntil(window.isActiveWindow)
    window.page().setFocus()
    handle = window.windowHandle()
    for character in "2 2":
        QTest.keyClick(handle, character)
        _let_the_scanner_filter_decide(window)
    QTest.keyClick(handle, Qt.Key.Key_Return)
    focus = QApplication.focusWidget()
    assert focus is not None
    assert focus.objectName() == "made-next"
    assert window.tag


class Strays(QObject):
    """Notes every window that comes up beside the main one, be it for a moment."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Show and isinstance(watched, QWidget):
            main = isinstance(watched, MainWindow) or watched.inherits("QTipLabel")
            if watched.isWindow() and not main:
                self.seen.append(f"{type(watched).__name__} {watched.objectName()}")
        return False


def test_no_page_comes_up_as_a_window_of_its_own_and_takes_the_keyboard(
    window: MainWindow, heron: Piece, qapp: QApplication, qtbot: QtBot
) -> None:
    strays = Strays()
    qapp.installEventFilter(strays)
    try:
        fresh = MainWindow(window.shop, window.settings)
        qtbot.addWidget(fresh)
        fresh.show()
        for page in PAGES:
            fresh.show_page(page.key, heron.tag)
            qapp.processEvents()
        fresh.close()
    finally:
        qapp.removeEventFilter(strays)
    assert strays.seen == []


def test_on_the_front_one_tab_stop_leads_to_every_tile_by_arrows(
    window: MainWindow, heron: Piece, qtbot: QtBot
) -> None:
    window.show_page("layout", heron.tag)
    qtbot.waitUntil(window.isActiveWindow)
    tiles = [w for w in stops(window) if isinstance(w, Tile)]
    assert len(tiles) == 1


@pytest.mark.parametrize("key", ["find", "keys"])
def test_a_dialog_is_gone_when_it_is_closed(
    window: MainWindow, heron: Piece, qtbot: QtBot, key: str
) -> None:
    window.show_page("pieces", heron.tag)
    gc.collect()
    gc.disable()
    try:
        window.actions_by_key[key].trigger()
        (dialog,) = window.findChildren(QDialog)
        gone = weakref.ref(dialog)
        dialog.close()
        del dialog
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        qtbot.waitUntil(lambda: gone() is None)
    finally:
        gc.enable()


def _let_the_scanner_filter_decide(window: MainWindow) -> None:
    window.listening.scans.on_time_was_up()
