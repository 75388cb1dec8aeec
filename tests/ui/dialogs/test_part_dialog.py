from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from partsbench.core.piece.codes import Family
from partsbench.core.piece.parts import HomeKind
from partsbench.services.books import pieces
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.part_dialog import KINDS, PartDialog, homes_for
from partsbench.ui.layout.desk import Desk
from partsbench.ui.theme import Theme
from tests.support.shops import heron, tall_chest


@pytest.fixture
def desk(shop: Shop, theme: Theme) -> Desk:
    made = Desk(shop)
    made.load(heron(shop).tag)
    return made


def opened(desk: Desk, qtbot: QtBot, family: Family) -> PartDialog:
    dialog = PartDialog(desk)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.kind.setCurrentIndex(dialog.kind.findData(family))
    return dialog


def test_a_bag_with_contents_is_added_and_chosen(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot, Family.BAG)
    dialog.name.setText("screws of the top")
    dialog.contents.setText("8 screws")
    dialog.accept()
    bag = desk.shop.piece(desk.tag).part("B1")
    assert (bag.name, bag.contents, bag.home.kind) == (
        "screws of the top",
        "8 screws",
        HomeKind.ON_PIECE,
    )
    assert desk.part == "B1"
    assert not dialog.isVisible()


def test_a_key_belongs_to_the_chosen_drawer_by_default(desk: Desk, qtbot: QtBot) -> None:
    desk.choose(["H5"])
    dialog = opened(desk, qtbot, Family.LOCK)
    assert dialog.belongs.currentText().startswith("D5, drawer")
    assert not dialog.contents.isEnabled()
    dialog.name.setText("key")
    dialog.spot.setText("in the lock")
    dialog.accept()
    key = desk.shop.piece(desk.tag).part("K1")
    assert (key.parent, key.home.spot) == ("D5", "in the lock")


def test_there_is_no_drawer_without_an_opening_for_it(desk: Desk, qtbot: QtBot) -> None:
    dialog = opened(desk, qtbot, Family.DRAWER)
    dialog.accept()
    assert dialog.told.isVisible()
    assert "no place for one" in dialog.told.text()
    assert desk.shop.piece(desk.tag).count()[Family.DRAWER] == 7


@pytest.mark.parametrize("family", [family for family, _ in KINDS])
def test_every_home_that_is_offered_can_be_had(shop: Shop, tmp_path: Path, family: Family) -> None:
    piece = tall_chest(shop, tmp_path)
    offered = homes_for(piece, family)
    assert offered or family in (Family.DRAWER, Family.DOOR, Family.LEG)
    for words, home, parent in offered:
        added = pieces.add_part(shop, piece.tag, family, home, parent=parent)
        assert added.parts[-1].home == home, words
