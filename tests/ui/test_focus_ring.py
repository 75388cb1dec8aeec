"""Where the keyboard is can be seen on every kind of control, in light and in dark."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QColor, QStandardItem, QStandardItemModel
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QLineEdit,
    QListView,
    QPlainTextEdit,
    QPushButton,
    QRadioButton,
    QSlider,
    QSpinBox,
    QTabBar,
    QTableView,
    QToolButton,
    QWidget,
)
from pytestqt.qtbot import QtBot

from partsbench.services.shop import Shop
from partsbench.ui.focus_ring import FocusRing, Ring, show_focus
from partsbench.ui.main_button import MainButton
from partsbench.ui.main_window import MainWindow
from partsbench.ui.map.loose_tiles import LooseTile
from partsbench.ui.theme import Theme
from tests.support.shops import heron
from tests.ui.test_theme import contrast

ENOUGH = 200
"""So many px of a control of 220 by 34 differ by 3:1 or more: a line round it."""


def listed(view: QListView | QTableView) -> QWidget:
    model = QStandardItemModel(view)
    for row in range(3):
        model.appendRow([QStandardItem(f"D{row}"), QStandardItem("drawer")])
    view.setModel(model)
    return view


def tabs() -> QWidget:
    bar = QTabBar()
    bar.addTab("Faces")
    bar.addTab("Parts")
    return bar


def chosen(button: QPushButton | QToolButton) -> QWidget:
    button.setText("Words")
    button.setCheckable(True)
    button.setChecked(True)
    return button


MADE: dict[str, Callable[[], QWidget]] = {
    "push": lambda: QPushButton("Words"),
    "chosen": lambda: chosen(QPushButton()),
    "tool": QToolButton,
    "chosen tool": lambda: chosen(QToolButton()),
    "main": lambda: MainButton("Record", "record"),
    "check": lambda: QCheckBox("Words"),
    "radio": lambda: QRadioButton("Words"),
    "line": QLineEdit,
    "number": QSpinBox,
    "combo": QComboBox,
    "text": QPlainTextEdit,
    "list": lambda: listed(QListView()),
    "table": lambda: listed(QTableView()),
    "tabs": tabs,
    "slider": lambda: QSlider(Qt.Orientation.Horizontal),
    "tile": lambda: LooseTile("C1", QSize(220, 34), None),  # type: ignore[arg-type]
}


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
@pytest.mark.parametrize("kind", MADE)
def test_the_keyboard_can_be_seen(kind: str, theme: Theme, qtbot: QtBot) -> None:
    """W3C WCAG 2.2, success criteria 2.4.7 and 2.4.13: a change of 3:1 round the control."""
    around = QWidget()
    qtbot.addWidget(around)
    show_focus()
    control = MADE[kind]()
    control.setParent(around)
    control.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    control.setGeometry(10, 10, 220, 60 if kind in ("list", "table", "text") else 34)
    other = QPushButton("other", around)
    other.setGeometry(10, 120, 90, 30)
    around.resize(260, 170)
    around.show()
    around.activateWindow()
    qtbot.waitUntil(around.isActiveWindow)
    room = QRect(0, 0, 260, 90)
    other.setFocus()
    before = around.grab(room).toImage()
    control.setFocus(Qt.FocusReason.TabFocusReason)
    after = around.grab(room).toImage()
    differ = sum(
        contrast(QColor(before.pixel(x, y)), QColor(after.pixel(x, y))) >= 3
        for x in range(room.width())
        for y in range(room.height())
        if before.pixel(x, y) != after.pixel(x, y)
    )
    assert differ >= ENOUGH, differ


def test_one_ring_goes_along_and_follows_its_size(theme: Theme, qtbot: QtBot) -> None:
    around = QWidget()
    qtbot.addWidget(around)
    show_focus()
    first, second = QLineEdit(around), QLineEdit(around)
    second.move(0, 60)
    around.show()
    around.activateWindow()
    qtbot.waitUntil(around.isActiveWindow)
    first.setFocus()
    (ring,) = around.findChildren(Ring)
    first.resize(300, 44)
    assert ring.geometry() == first.rect()
    second.setFocus()
    assert [r.parent() for r in around.findChildren(Ring) if not r.isHidden()] == [second]
    around.setFocus()
    assert all(r.isHidden() for r in around.findChildren(Ring))


def test_a_control_may_go_away_while_it_has_the_keyboard(theme: Theme, qtbot: QtBot) -> None:
    around = QWidget()
    qtbot.addWidget(around)
    show_focus()
    gone, stays = QLineEdit(around), QLineEdit(around)
    around.show()
    around.activateWindow()
    qtbot.waitUntil(around.isActiveWindow)
    gone.setFocus()
    gone.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    stays.setFocus()
    assert [ring.parent() for ring in around.findChildren(Ring)] == [stays]


def test_the_ring_takes_no_click(theme: Theme, qtbot: QtBot) -> None:
    around = QWidget()
    qtbot.addWidget(around)
    show_focus()
    button = QPushButton("Words", around)
    around.show()
    around.activateWindow()
    qtbot.waitUntil(around.isActiveWindow)
    button.setFocus()
    with qtbot.waitSignal(button.clicked):
        QTest.mouseClick(around.childAt(button.geometry().center()), Qt.MouseButton.LeftButton)


def test_the_window_has_it(shop: Shop, window: MainWindow, qtbot: QtBot) -> None:
    window.show_page("bench", heron(shop).tag)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.answer_bar.field.setFocus()
    shown = [r.parent() for r in window.findChildren(Ring) if not r.isHidden()]
    assert shown == [window.answer_bar.field]
    assert len(QApplication.instance().findChildren(FocusRing)) == 1
