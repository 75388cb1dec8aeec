from __future__ import annotations

import pytest
from PySide6.QtCore import QRect
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.air_dialog import AirDialog
from partsbench.ui.dialogs.cups_dialog import CupsDialog
from partsbench.ui.dialogs.facts_dialog import FactsDialog
from partsbench.ui.dialogs.labels_dialog import LabelsDialog
from partsbench.ui.dialogs.masks_dialog import MasksDialog
from partsbench.ui.dialogs.paper_dialogs import DaySheetDialog, WallDialog
from partsbench.ui.dialogs.paths_dialog import PathsDialog
from partsbench.ui.dialogs.people_dialog import PeopleDialog
from partsbench.ui.dialogs.tins_dialog import TinsDialog
from partsbench.ui.fitting import FittingDialog
from partsbench.ui.theme import Theme
from tests.support.shops import lay_out

SMALL = QRect(0, 24, 640, 376)
"""A screen of 1280 × 800 at 200 %, less the bar of its desktop."""
DIALOGS = (
    AirDialog, CupsDialog, DaySheetDialog, FactsDialog, LabelsDialog, MasksDialog, PathsDialog,
    PeopleDialog, TinsDialog, WallDialog,
)  # fmt: skip


@pytest.fixture
def tag(shop: Shop) -> str:
    made = lay_out(shop, "Heron", "2 2 3", top=True)
    assert isinstance(made, Piece)
    return made.tag


@pytest.mark.parametrize("kind", DIALOGS)
def test_on_a_small_screen_every_button_stays_in_sight(
    kind: type[FittingDialog], shop: Shop, tag: str, theme: Theme, qtbot: QtBot
) -> None:
    dialog = kind(shop, tag)  # type: ignore[call-arg, arg-type]
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.fit_into(SMALL)
    assert SMALL.contains(dialog.frameGeometry())
    buttons = [b for b in dialog.findChildren(QPushButton) if b.parent() is dialog]
    assert "Close" in [b.text() for b in buttons]
    for button in buttons:
        assert dialog.rect().contains(button.geometry()), button.text()


def test_with_room_enough_a_dialog_keeps_its_size_and_nothing_scrolls(
    shop: Shop, tag: str, theme: Theme, qtbot: QtBot
) -> None:
    dialog = AirDialog(shop, tag)
    qtbot.addWidget(dialog)
    dialog.show()
    wide = dialog.wanted()
    dialog.fit_into(QRect(0, 0, 2000, 1400))
    assert dialog.size() == wide
    assert not dialog.body.verticalScrollBar().isVisible()
    assert not dialog.body.horizontalScrollBar().isVisible()


def test_a_dialog_is_as_high_as_its_words_need_when_they_are_broken(qtbot: QtBot) -> None:
    dialog = FittingDialog()
    qtbot.addWidget(dialog)
    words = QLabel("Kept apart from the parts, and never printed on a label. " * 6)
    words.setWordWrap(True)
    QVBoxLayout(dialog).addWidget(words)
    dialog.resize(300, 20)
    dialog.show()
    qtbot.waitExposed(dialog)
    assert words.height() >= words.heightForWidth(words.width())
    assert dialog.width() == 300
