from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done
from partsbench.core.piece.piece import Piece
from partsbench.core.said_often import no_piece
from partsbench.services.acts import history
from partsbench.services.books import clients
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.client_dialog import SURE, ClientDialog
from partsbench.ui.theme import Theme
from tests.support.shops import heron

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def piece(shop: Shop) -> Piece:
    return heron(shop)


def opened(shop: Shop, piece: Piece, qtbot: QtBot) -> ClientDialog:
    dialog = ClientDialog(shop, piece.tag)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.show()
    return dialog


def test_a_client_is_noted_and_shown_again(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot
) -> None:
    dialog = opened(shop, piece, qtbot)
    assert not dialog.forget.isEnabled()
    dialog.name.setText("A. Wren")
    dialog.address.setPlainText("Mill Lane 4")
    with qtbot.waitSignal(dialog.settled) as settled:
        dialog.accept()
    assert settled.args == [Done("Heron: client noted.", piece.tag)]
    again = opened(shop, piece, qtbot)
    assert (again.name.text(), again.address.toPlainText()) == ("A. Wren", "Mill Lane 4")


def test_client_data_is_deleted_only_on_the_second_press(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot
) -> None:
    clients.set_client(shop, piece.tag, name="A. Wren")
    dialog = opened(shop, piece, qtbot)
    qtbot.mouseClick(dialog.forget, LEFT)
    assert dialog.forget.text() == SURE
    assert clients.client_of(shop, "Heron")["name"] == "A. Wren"
    with qtbot.waitSignal(dialog.settled):
        qtbot.mouseClick(dialog.forget, LEFT)
    assert clients.client_of(shop, "Heron") == {}
    assert not any("Wren" in entry.sentence for entry in history.history(shop))
    assert shop.piece(piece.tag) == piece


def test_a_client_of_a_piece_that_another_window_took_back_stays_typed(
    shop: Shop, piece: Piece, theme: Theme, qtbot: QtBot
) -> None:
    dialog = opened(shop, piece, qtbot)
    dialog.name.setText("A. Wren")
    history.undo(shop)
    dialog.accept()
    assert dialog.isVisible() and dialog.told.text() == no_piece(piece.tag)
    assert dialog.name.text() == "A. Wren"
