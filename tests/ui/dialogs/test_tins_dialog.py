"""What is typed on a tin card is not lost by looking at another one."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from partsbench.core.finish.products import Ready, TinCard
from partsbench.core.outcomes import Done
from partsbench.services.known import tins
from partsbench.services.shop import Shop
from partsbench.ui.dialogs.tins_dialog import DRAFT, TinsDialog


@pytest.fixture
def dialog(shop: Shop, qtbot: QtBot) -> TinsDialog:
    for name in ("blue paint", "green paint"):
        assert isinstance(tins.put(shop, TinCard(name, "shellac"), ""), Done)
    made = TinsDialog(shop, "")
    qtbot.addWidget(made)
    return made


def pick(dialog: TinsDialog, name: str) -> None:
    names = [card.name for card in tins.cards(dialog.shop)]
    dialog.on_card_picked(names.index(name))
    assert dialog.name.text() == name


def recoat(dialog: TinsDialog) -> str:
    return dialog.waits[Ready.RECOAT][0].text()


def test_figures_typed_are_there_when_one_comes_back(dialog: TinsDialog) -> None:
    pick(dialog, "blue paint")
    dialog.waits[Ready.RECOAT][0].setText("5 h")
    dialog.least.setValue(12)
    dialog.product.setCurrentIndex(dialog.product.findData("primer"))
    pick(dialog, "green paint")
    assert (recoat(dialog), dialog.product.currentData()) == ("", "shellac")
    assert dialog.told.text() == ""
    pick(dialog, "blue paint")
    assert (recoat(dialog), dialog.least.value()) == ("5 h", 12)
    assert dialog.product.currentData() == "primer"
    assert dialog.told.text() == DRAFT


def test_a_new_card_half_written_comes_back_too(dialog: TinsDialog) -> None:
    dialog.name.setText("typed anew")
    dialog.pot.setText("4 h")
    pick(dialog, "blue paint")
    assert dialog.pot.text() == ""
    dialog.on_new_asked()
    assert (dialog.name.text(), dialog.pot.text()) == ("typed anew", "4 h")


def test_what_is_kept_is_no_draft(dialog: TinsDialog, shop: Shop) -> None:
    pick(dialog, "blue paint")
    dialog.waits[Ready.RECOAT][0].setText("5 h")
    dialog.on_save_asked()
    assert "recoat" in {c.name: c for c in tins.cards(shop)}["blue paint"].waits
    pick(dialog, "green paint")
    pick(dialog, "blue paint")
    assert recoat(dialog) == "5 h"
    assert dialog.told.text() != DRAFT
