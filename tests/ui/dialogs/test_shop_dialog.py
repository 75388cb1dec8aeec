from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.air_dialog import AirDialog
from partsbench.ui.dialogs.cups_dialog import CupsDialog
from partsbench.ui.dialogs.facts_dialog import FactsDialog
from partsbench.ui.dialogs.masks_dialog import MasksDialog
from partsbench.ui.dialogs.paths_dialog import PathsDialog
from partsbench.ui.dialogs.people_dialog import PeopleDialog
from partsbench.ui.dialogs.shop_dialog import ShopDialog
from partsbench.ui.dialogs.tins_dialog import TinsDialog
from partsbench.ui.theme import Theme
from tests.support.shops import lay_out

DIALOGS = (
    AirDialog, CupsDialog, FactsDialog, MasksDialog, PathsDialog, PeopleDialog,
    TinsDialog,
)  # fmt: skip


@pytest.fixture
def tag(shop: Shop) -> str:
    made = lay_out(shop, "Heron", "2 2 3", top=True, paths=[("paint", ["C1 rails"])])
    assert isinstance(made, Piece)
    return made.tag


def opened(dialog: ShopDialog, qtbot: QtBot) -> ShopDialog:
    qtbot.addWidget(dialog)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    dialog.show()
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)
    return dialog


@pytest.mark.parametrize("kind", DIALOGS)
def test_the_keyboard_begins_in_the_content_and_ends_at_close(
    kind: type[ShopDialog], shop: Shop, tag: str, theme: Theme, qtbot: QtBot
) -> None:
    dialog = opened(kind(shop, tag), qtbot)  # type: ignore[call-arg]
    begins = dialog.focusWidget()
    assert begins is not None and dialog.body.isAncestorOf(begins)
    (close,) = (b for b in dialog.findChildren(QPushButton) if b.text() == "Close")
    close.setFocus()
    QTest.keyClick(close, Qt.Key.Key_Tab)
    after = dialog.focusWidget()
    assert after is not None and dialog.body.isAncestorOf(after), "after Close it begins anew"


def test_a_space_typed_into_a_dialog_just_opened_does_not_close_it(
    shop: Shop, theme: Theme, qtbot: QtBot
) -> None:
    dialog = opened(CupsDialog(shop, ""), qtbot)
    assert isinstance(dialog, CupsDialog)
    begins = dialog.focusWidget()
    assert begins is not None
    QTest.keyClicks(begins, "deep blue")
    assert dialog.isVisible()
