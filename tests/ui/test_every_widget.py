"""Every control that the keyboard reaches, on every page: it has a name, and shows its focus."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QWidget
from pytestqt.qtbot import QtBot

from partsbench.services.shop import Shop
from partsbench.ui.main_window import MainWindow
from partsbench.ui.page_table import PAGES
from partsbench.ui.pages.page import Page
from partsbench.ui.pictures import settle
from tests.support.shops import heron

KEYS = [e.key for e in PAGES]
BOTH = pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
EVERY_PAGE = pytest.mark.parametrize("key", KEYS)


def reached(window: MainWindow) -> list[QWidget]:
    """What Tab leads to; what hands its focus on, like the line inside a spin box, is not it."""
    return [
        w
        for w in window.findChildren(QWidget)
        if w.isVisible()
        and w.isEnabled()
        and w.focusPolicy() & Qt.FocusPolicy.TabFocus
        and w.focusProxy() is None
    ]


def named(widget: QWidget) -> str:
    """The name that a screen reader would say."""
    interface = QAccessible.queryAccessibleInterface(widget)
    return interface.text(QAccessible.Text.Name) if interface else ""


def told(widget: QWidget) -> str:
    return f"{type(widget).__name__} {widget.objectName()}"


@EVERY_PAGE
def test_whatever_the_keyboard_reaches_has_a_name(window: MainWindow, shop: Shop, key: str) -> None:
    window.show_page(key, heron(shop).tag)
    controls = reached(window)
    assert len(controls) > 10
    assert [told(w) for w in controls if not named(w)] == []


@BOTH
@EVERY_PAGE
def test_whatever_tab_comes_to_looks_otherwise(
    window: MainWindow, shop: Shop, key: str, qtbot: QtBot
) -> None:
    window.show_page(key, heron(shop).tag)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    settle()
    field = window.answer_bar.field
    field.setFocus()
    controls = reached(window)
    plain = {w: w.grab().toImage() for w in controls if w is not field}
    seen, unseen = set(), []
    for _ in range(2 * len(controls)):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        now = QApplication.focusWidget()
        seen.add(now)
        # A page has the focus when none of its controls has; a table shows it by its chosen row.
        told_otherwise = isinstance(now, Page | QAbstractScrollArea)
        if now in plain and not told_otherwise and now.grab().toImage() == plain[now]:
            unseen.append(told(now))
    assert len(seen) > 5
    assert unseen == []
