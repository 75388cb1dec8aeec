from __future__ import annotations

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QComboBox
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done
from partsbench.services.books import own_paths
from partsbench.services.shop import Shop
from partsbench.ui import theme as themes
from partsbench.ui.layout.desk import Desk
from partsbench.ui.layout.finish_panel import SWATCH, FinishPanel
from partsbench.ui.theme import Theme
from tests.ui.layout.conftest import Heard


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


def test_a_path_is_given_to_the_chosen_parts_by_button_and_by_enter(
    panel: FinishPanel, desk: Desk, qtbot: QtBot, heard: Heard
) -> None:
    panel.take_path("stain")
    desk.shown.emit()
    before = desk.piece
    assert not panel.onto_chosen.isEnabled()
    panel.paths.itemActivated.emit(panel.paths.currentItem())
    assert heard.refusal() == "Choose the parts first, in the front or in the list."
    assert desk.piece is before
    desk.choose(["H4", "H5"])
    panel.onto_chosen.click()
    assert heard.done().startswith("D4, D5: ")
    desk.choose(["H6"])
    panel.paths.itemActivated.emit(panel.paths.currentItem())
    assert heard.done().startswith("D6: ")
    given = {s: p.face("front").path for s in ("D4", "D5", "D6") if (p := desk.piece.part(s))}
    assert given == {"D4": "stain", "D5": "stain", "D6": "stain"}


def test_one_face_is_given_a_path_of_its_own_and_the_same_again_is_no_change(
    panel: FinishPanel, desk: Desk, shop: Shop, heard: Heard
) -> None:
    desk.choose(["H1"])
    box = panel.findChild(QComboBox, "face-front")
    assert box is not None and box.currentData() == "paint"
    before = shop.book.newest()
    box.activated.emit(box.currentIndex())
    assert (heard.answers, shop.book.newest()) == ([], before)
    box.setCurrentIndex(box.findData("clear"))
    box.activated.emit(box.currentIndex())
    assert heard.done().startswith("D1 front: ")
    part = desk.piece.part("D1")
    assert part.face("front").path == "clear" and part.face("top edge").path == "paint"


def test_the_swatches_follow_the_theme(
    panel: FinishPanel, qtbot: QtBot, qapp: QApplication, theme: Theme
) -> None:
    panel.show()
    qtbot.waitExposed(panel)

    def shown() -> list[QImage]:
        icons = [panel.paths.item(place).icon() for place in range(panel.paths.count())]
        return [icon.pixmap(SWATCH).toImage() for icon in icons]

    light = shown()
    themes.use(qapp, themes.THEMES["dark"])
    qtbot.waitUntil(lambda: all(now != before for now, before in zip(shown(), light, strict=True)))
    themes.use(qapp, theme)
    qtbot.waitUntil(lambda: shown() == light)
