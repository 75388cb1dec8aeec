"""F1 opens the page of where one stands, and any word is found."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from partsbench import help as helps
from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.actions import ACTIONS, PAGES
from partsbench.ui.dialogs.help_dialog import HelpDialog
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.main_window import MainWindow
from tests.support.shops import lay_out


@pytest.fixture
def heron(shop: Shop) -> Piece:
    piece = lay_out(shop, "Heron", "2 2 3", title="dresser", legs=4, pulls=1)
    assert isinstance(piece, Piece)
    return piece


@pytest.fixture
def dialog(qtbot: QtBot) -> HelpDialog:
    made = HelpDialog(None, "", None, "bench")
    qtbot.addWidget(made)
    made.show()
    return made


def opened() -> HelpDialog:
    found = QApplication.activeModalWidget()
    assert isinstance(found, HelpDialog)
    return found


def test_f1_opens_the_page_of_each_page(window: MainWindow, heron: Piece, qtbot: QtBot) -> None:
    for entry in PAGES:
        window.show_page(entry.key, heron.tag)
        QTest.keyClick(window, Qt.Key.Key_F1)
        dialog = opened()
        page = helps.page(entry.key)
        assert page is not None
        assert dialog.text.toPlainText().startswith(f"{page.title}\n{page.about}")
        dialog.close()


def test_f1_in_a_dialog_opens_the_page_of_that_dialog(
    window: MainWindow, heron: Piece, qtbot: QtBot
) -> None:
    window.show_page("layout", heron.tag)
    for entry in [e for e in ACTIONS if e.opens and e.key not in ("help", "picture")]:
        window.actions_by_key[entry.key].trigger()
        over = QApplication.activeModalWidget()
        assert isinstance(over, FittingDialog), entry.key
        QTest.keyClick(over, Qt.Key.Key_F1)
        page = helps.page(over.helped_by)
        assert page is not None, entry.key
        assert opened().text.toPlainText().startswith(page.title), entry.key
        opened().close()
        over.close()


def test_typing_lists_the_places_and_the_first_is_shown(dialog: HelpDialog, qtbot: QtBot) -> None:
    QTest.keyClicks(dialog.field, "send-back")
    assert dialog.list.lines()[0] == "Bench: send-back"
    assert dialog.text.textCursor().selectedText().strip().startswith("send-back CODE STEP returns")
    assert dialog.said.text() == "1 place"
    QTest.keyClick(dialog.field, Qt.Key.Key_Down)
    assert dialog.list.hasFocus()
    dialog.field.setText("label")
    assert dialog.said.text() == f"{len(dialog.list.lines())} places"
    assert len(dialog.list.lines()) > 5


def test_nothing_found_is_said_and_an_empty_field_lists_every_page(dialog: HelpDialog) -> None:
    dialog.field.setText("marmalade")
    assert dialog.list.lines() == []
    assert dialog.said.text() == "0 places"
    assert dialog.text.toPlainText() == ""
    dialog.field.clear()
    assert dialog.list.lines() == [p.title for p in helps.pages()]


def test_f1_in_the_help_opens_no_second_one(dialog: HelpDialog) -> None:
    QTest.keyClick(dialog, Qt.Key.Key_F1)
    assert dialog.findChildren(HelpDialog) == []
