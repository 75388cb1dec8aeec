"""On every page of the real window: where the keyboard is, and headings that can be read."""

from __future__ import annotations

from collections import Counter

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QHeaderView, QWidget
from pytestqt.qtbot import QtBot

from partsbench.services.shop import Shop
from partsbench.ui.focus_ring import CONTROLS, DRAWS_ITS_OWN, Ring
from partsbench.ui.main_window import MainWindow
from partsbench.ui.page_table import PAGES
from partsbench.ui.pages.page import Page
from tests.support.shops import heron
from tests.ui.test_theme import contrast

BOTH = pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
EACH = pytest.mark.parametrize("key", [page.key for page in PAGES])


def reached_by_tab(page: QWidget) -> list[QWidget]:
    """The controls of a page that Tab comes to; not the page, which is the place of its keys."""
    tab = Qt.FocusPolicy.TabFocus.value
    return [
        each
        for each in page.findChildren(QWidget)
        if each.focusPolicy().value & tab
        and each.focusProxy() is None
        and each.isVisibleTo(page)
        and each.isEnabled()
        and not isinstance(each, Page)
    ]


@EACH
def test_every_control_shows_that_it_has_the_keyboard(
    key: str, shop: Shop, window: MainWindow, qtbot: QtBot
) -> None:
    """W3C WCAG 2.2, success criterion 2.4.7."""
    window.show_page(key, heron(shop).tag)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    unseen = []
    for control in reached_by_tab(window.page()):
        control.setFocus(Qt.FocusReason.TabFocusReason)
        holder = QApplication.focusWidget()
        if holder is None or hasattr(holder, DRAWS_ITS_OWN):
            continue
        rings = [ring for ring in holder.findChildren(Ring) if not ring.isHidden()]
        if not (isinstance(holder, CONTROLS) and rings and rings[0].size() == holder.size()):
            unseen.append(f"{type(holder).__name__} {holder.objectName()}")
    assert unseen == []


def best_contrast(picture: QImage) -> float:
    """Of any pixel to the colour that most of them have."""
    pixels = Counter(picture.pixel(x, y) for x in range(picture.width())
                     for y in range(picture.height()))  # fmt: skip
    ground = QColor(pixels.most_common(1)[0][0])
    return max(contrast(QColor(each), ground) for each in pixels)


@BOTH
def test_the_headings_of_lists_can_be_read(shop: Shop, window: MainWindow, qtbot: QtBot) -> None:
    """W3C WCAG 2.2, success criterion 1.4.3: 4.5:1, as it is painted."""
    tag = heron(shop).tag
    seen = 0
    for page in PAGES:
        window.show_page(page.key, tag)
        for head in window.page().findChildren(QHeaderView):
            area = head.parentWidget()
            assert isinstance(area, QAbstractScrollArea)
            if (
                head.orientation() is Qt.Orientation.Horizontal
                and head.isVisible()
                and head.count()
            ):
                seen += 1
                assert best_contrast(head.viewport().grab().toImage()) >= 4.5, page.key
    assert seen >= 2, "some pages have lists with headings"
