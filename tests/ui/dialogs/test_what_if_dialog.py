"""What if: the dates beside each other, and nothing noted."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from pytestqt.qtbot import QtBot

from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from partsbench.store import promises as rows
from partsbench.ui.dialogs.what_if_dialog import WhatIfDialog
from partsbench.ui.theme import Theme
from tests.support.clock import SetClock
from tests.support.finishing import two_finishes


@pytest.fixture
def clock() -> SetClock:
    return SetClock(datetime(2031, 3, 4, 9, 20, tzinfo=UTC))


@pytest.fixture
def dialog(shop: Shop, theme: Theme, qtbot: QtBot) -> WhatIfDialog:
    two_finishes(shop)
    made = WhatIfDialog(shop)
    made.show()
    return made


def cells(dialog: WhatIfDialog) -> list[str]:
    return [dialog.table.item(0, n).text() for n in range(4)]  # type: ignore[union-attr]


def test_a_day_off_shows_the_later_date_beside_and_notes_nothing(
    shop: Shop, dialog: WhatIfDialog, qtbot: QtBot
) -> None:
    before = history(shop)
    dialog.field.setCurrentText("off today")
    dialog.ask.click()
    qtbot.waitUntil(lambda: dialog.table.rowCount() == 1, timeout=20_000)
    name, now, then, change = cells(dialog)
    assert name == "Heron" and now != then and change.endswith(" later")
    assert dialog.sentence.text().startswith("With today off: Everything is done ")
    assert history(shop) == before and rows.shown(shop.book) is None
    dialog.close()


def test_what_cannot_be_asked_is_said(dialog: WhatIfDialog) -> None:
    dialog.field.setCurrentText("rain")
    dialog.ask.click()
    assert "“rain” cannot be asked" in dialog.told.text()
    assert dialog.table.rowCount() == 0
    dialog.close()
