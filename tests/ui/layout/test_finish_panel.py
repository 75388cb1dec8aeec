from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done
from partsbench.services.books import own_paths
from partsbench.services.shop import Shop
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.finish_panel import FinishPanel


@pytest.fixture
def panel(desk: Desk, qtbot: QtBot) -> FinishPanel:
    made = FinishPanel(desk)
    qtbot.addWidget(made)
    return made


def listed(panel: FinishPanel) -> list[str]:
    return [panel.paths.item(place).text() for place in range(panel.paths.count())]


def test_a_path_of_the_shops_own_is_listed_and_the_one_in_hand_stays_in_hand(
    panel: FinishPanel, desk: Desk, shop: Shop
) -> None:
    panel.take_path("stain")
    text = own_paths.copy_text(shop, "clear", "my_clear", "Our clear")
    assert isinstance(text, str)
    assert isinstance(own_paths.save(shop, text), Done)
    assert "Our clear" not in listed(panel)
    desk.load(desk.tag)
    assert "Our clear" in listed(panel)
    assert panel.path_key() == "stain"


def test_the_steps_are_counted_as_on_the_bench(desk: Desk, panel: FinishPanel) -> None:
    path = desk.shop.path("paint")
    due = [step for step in path.steps if not step.optional]
    panel.take_path("paint")
    assert panel.about.text().endswith(f"{len(due)} steps, 7 more if wanted.")
    assert len(due) + 7 == len(path.steps)
    panel.take_path("raw")
    assert "step" not in panel.about.text()
