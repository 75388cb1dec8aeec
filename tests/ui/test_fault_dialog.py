from __future__ import annotations

import sys
from types import TracebackType

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from partsbench.services.acts.history import history
from partsbench.services.books.exchange import damage_behind
from partsbench.services.books.pieces import lay_out
from partsbench.services.shop import Shop
from partsbench.ui import fault_dialog
from partsbench.ui.fault_dialog import FaultDialog, details_of
from partsbench.ui.fault_teller import FaultTeller
from partsbench.ui.theme import Theme


def fault() -> BaseException:
    try:
        raise LookupError("the drawer is not in the book")
    except LookupError as error:
        return error


def test_the_details_name_the_fault_and_can_be_copied(qtbot: QtBot, theme: Theme) -> None:
    dialog = FaultDialog(details_of(fault()))
    qtbot.addWidget(dialog)
    copy = dialog.findChild(QPushButton, "copy-details")
    assert copy is not None
    copy.click()
    copied = QGuiApplication.clipboard().text()
    assert "the drawer is not in the book" in copied
    assert "test_fault_dialog.py" in copied
    assert f"Python {sys.version.split()[0]}" in copied


def test_a_fault_is_told_once_on_screen_and_on_the_console_and_the_book_is_left_alone(
    qtbot: QtBot, theme: Theme, shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    console: list[BaseException] = []
    shown: list[str] = []

    def before(
        kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        console.append(error)

    teller = FaultTeller(over, before)

    def show(dialog: FaultDialog) -> int:
        shown.append(dialog.details.toPlainText())
        # A fault while the first is on screen must not stack a second dialog on it.
        teller(LookupError, fault(), None)
        return 0

    with monkeypatch.context() as patch:
        patch.setattr(fault_dialog.FaultDialog, "exec", show)
        teller(LookupError, fault(), None)
    assert len(shown) == 1
    assert len(console) == 2
    assert history(shop) == []


def test_a_fault_of_the_book_is_told_as_that(
    qtbot: QtBot, theme: Theme, shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    lay_out(shop, "Heron", "2")
    shop.book.connection.execute("UPDATE piece SET numbering = 'by moonlight'")
    over = QWidget()
    qtbot.addWidget(over)
    shown: list[str] = []

    def show(dialog: FaultDialog) -> int:
        said = dialog.findChild(QLabel, "fault-said")
        assert said is not None
        shown.append(said.text())
        return 0

    monkeypatch.setattr(fault_dialog.FaultDialog, "exec", show)
    teller = FaultTeller(over, lambda *_: None, lambda: damage_behind(shop))
    teller(LookupError, fault(), None)
    assert "is damaged" in shown[0]
    assert "by moonlight" in shown[0]
