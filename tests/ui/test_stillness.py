"""Nothing on the screen moves by itself: no sliding, no fading, no running bar."""

from __future__ import annotations

from PySide6.QtCore import QAbstractAnimation, Qt
from PySide6.QtWidgets import QApplication, QProgressBar, QTreeView

from partsbench.services.shop import Shop
from partsbench.ui.actions import ACTIONS
from partsbench.ui.main_window import MainWindow
from partsbench.ui.page_table import PAGES
from partsbench.ui.pictures import settle
from tests.support.shops import heron


def moving(window: MainWindow) -> list[str]:
    """What runs now, and what would run for ever."""
    running = QAbstractAnimation.State.Running
    every = window.findChildren(QAbstractAnimation)
    found = [type(a).__name__ for a in every if a.state() is running]
    bars = [b for b in window.findChildren(QProgressBar) if b.maximum() == b.minimum() == 0]
    trees = [t for t in window.findChildren(QTreeView) if t.isAnimated()]
    return [*found, *(b.objectName() for b in bars), *(t.objectName() for t in trees)]


def test_no_page_and_no_dialog_moves_by_itself(window: MainWindow, shop: Shop) -> None:
    tag = heron(shop).tag
    for entry in PAGES:
        window.show_page(entry.key, tag)
        settle()
        assert moving(window) == [], entry.key
    window.show_page("layout", tag)
    for action in [e for e in ACTIONS if e.opens and e.key != "picture"]:
        window.actions_by_key[action.key].trigger()
        over = QApplication.activeModalWidget()
        assert over is not None
        assert moving(window) == [], action.key
        over.close()


def test_docks_menus_lists_and_tips_come_at_once(window: MainWindow) -> None:
    assert not window.isAnimated()
    effects = (
        Qt.UIEffect.UI_General, Qt.UIEffect.UI_AnimateMenu, Qt.UIEffect.UI_FadeMenu,
        Qt.UIEffect.UI_AnimateCombo, Qt.UIEffect.UI_AnimateTooltip, Qt.UIEffect.UI_FadeTooltip,
        Qt.UIEffect.UI_AnimateToolBox,
    )  # fmt: skip
    assert [e.name for e in effects if QApplication.isEffectEnabled(e)] == []
