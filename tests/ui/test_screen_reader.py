"""The whole tree that a screen reader walks, on every page and dialog; and what it is told."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication

from partsbench.services.acts import teardown
from partsbench.services.shop import Shop
from partsbench.ui.actions import ACTIONS
from partsbench.ui.main_window import MainWindow
from partsbench.ui.page_table import PAGES
from partsbench.ui.pictures import settle
from tests.support.screen_reader import listening, walked
from tests.support.shops import heron

DIALOGS = [e.key for e in ACTIONS if e.opens and e.key != "picture"]


@pytest.mark.parametrize("key", [e.key for e in PAGES])
@pytest.mark.parametrize("empty", [False, True], ids=["with a piece", "empty book"])
def test_on_every_page_whatever_is_used_has_a_name(
    window: MainWindow, shop: Shop, key: str, empty: bool
) -> None:
    window.show_page(key, "" if empty else heron(shop).tag)
    settle()
    nodes = walked(window)
    used = [node for node in nodes if node.used]
    assert len(used) > (20 if empty else 26), "the walk came down to the controls"
    assert [str(node) for node in used if not node.name.strip()] == []


@pytest.mark.parametrize("key", DIALOGS)
def test_in_every_dialog_whatever_is_used_has_a_name(
    window: MainWindow, shop: Shop, key: str
) -> None:
    window.show_page("layout", heron(shop).tag)
    window.actions_by_key[key].trigger()
    settle()
    over = QApplication.activeModalWidget()
    assert over is not None
    used = [node for node in walked(over) if node.used]
    assert used
    assert [str(node) for node in used if not node.name.strip()] == []
    over.close()


def test_names_on_a_page_tell_its_controls_apart(window: MainWindow, shop: Shop) -> None:
    """Two buttons of one name in one place would be one for who does not see them."""
    tag = heron(shop).tag
    for entry in PAGES:
        window.show_page(entry.key, tag)
        settle()
        buttons = [
            n for n in walked(window) if n.used and n.role.startswith(("Button", "CheckBox"))
        ]
        told = [(n.where, n.name, n.description) for n in buttons]
        twice = {t for t in told if told.count(t) > 1}
        assert twice == set(), entry.key


def test_a_whole_return_is_told_word_by_word(window: MainWindow, shop: Shop) -> None:
    """Each scan is answered once, aloud, with the word and the sentence on the screen."""
    piece = heron(shop)
    teardown.take_out(shop, piece.tag, [p.short for p in piece.present if p.short[0] in "DTL"])
    window.show_page("return", piece.tag)
    drawers = [p for p in piece.present if p.short[0] == "D"]
    with listening() as heard:
        for part in drawers:
            window.take_code(str(piece.home_code_of(part)))
            before = len(heard.said)
            window.take_code(str(piece.code(part)))
            assert len(heard.said) == before + 1
            assert heard.said[-1] == window.answer_bar.showing()
            assert part.short in heard.said[-1]
        assert all(said.strip() for said in heard.said)
        window.take_code("K7Q4-D05AA")
        assert heard.said[-1].startswith(("STOP", "NOT DONE"))
