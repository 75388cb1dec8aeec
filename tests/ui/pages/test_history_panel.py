from __future__ import annotations

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from partsbench.services.acts.places import put
from partsbench.services.acts.teardown import take_out
from partsbench.services.shop import Shop
from partsbench.ui.pages.history_panel import AT_ONCE, HistoryPanel, JournalModel
from partsbench.ui.theme import Theme
from tests.support.at_bench import record
from tests.support.shops import heron, quill

TOP = QModelIndex()


@pytest.fixture
def panel(shop: Shop, theme: Theme, qtbot: QtBot) -> HistoryPanel:
    made = HistoryPanel(shop)
    qtbot.addWidget(made)
    return made


def lines(model: JournalModel, role: Qt.ItemDataRole = Qt.ItemDataRole.DisplayRole) -> list[str]:
    return [str(model.data(model.index(row), role)) for row in range(model.rowCount())]


def test_older_changes_are_read_as_one_scrolls_down(shop: Shop, qapp: object) -> None:
    model = JournalModel(shop)
    model.read(long_journal(shop))
    assert model.rowCount() == AT_ONCE
    assert model.canFetchMore(TOP)
    model.fetchMore(TOP)
    assert model.rowCount() == AT_ONCE + 21
    assert not model.canFetchMore(TOP)
    assert "Took in Heron" in lines(model)[-1]


def test_the_model_keeps_qts_rules(shop: Shop, qapp: object) -> None:
    model = JournalModel(shop)
    tag = long_journal(shop)
    model.read(tag)
    # Makes itself heard as a Qt warning, which fails the test; it fetches what there is.
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Warning)
    assert tester.model() is model
    assert model.rowCount() == AT_ONCE + 21


def long_journal(shop: Shop) -> str:
    """A piece with more changes than are read at once; its tag."""
    piece = heron(shop)
    for number in range(AT_ONCE + 20):
        put(shop, f"rack {number % 7}", ["D1"], here=piece.tag)
    return piece.tag


def test_a_line_tells_when_who_and_what(panel: HistoryPanel, shop: Shop) -> None:
    piece = heron(shop)
    record(shop, "D1", here=piece.tag)
    panel.show_piece(piece.tag)
    first = lines(panel.model)[0]
    assert "Wren" in first
    assert first.endswith("Heron D1 washed (5 faces)")
    spoken = lines(panel.model, Qt.ItemDataRole.AccessibleTextRole)[0]
    assert "(front, top edge, bottom edge, left edge, right edge)" in spoken


def test_this_piece_or_all(panel: HistoryPanel, shop: Shop) -> None:
    piece, other = heron(shop), quill(shop)
    take_out(shop, other.tag, ["D1"])
    panel.show_piece(piece.tag)
    assert len(lines(panel.model)) == 1
    assert panel.title.text() == f"History of Heron {piece.tag}"
    panel.all_box.setChecked(True)
    assert len(lines(panel.model)) == 3
    assert panel.title.text() == "History"


def test_undo_and_redo_stay_visible(panel: HistoryPanel, shop: Shop, qtbot: QtBot) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, ["D1"])
    panel.show_piece(piece.tag)
    assert panel.next_undo.text() == "Undo takes back: Heron D1 taken out."
    with qtbot.waitSignals([panel.answered, panel.changed]):
        qtbot.mouseClick(panel.undo_button, Qt.MouseButton.LeftButton)
    assert lines(panel.model)[0].endswith("Undone: Heron D1 taken out")
    assert panel.redo_button.isEnabled()
    qtbot.mouseClick(panel.redo_button, Qt.MouseButton.LeftButton)
    assert lines(panel.model)[0].endswith("Done again: Heron D1 taken out")


def test_an_empty_book_has_nothing_to_take_back(panel: HistoryPanel) -> None:
    panel.show_piece("")
    assert not panel.undo_button.isEnabled()
    assert panel.next_undo.text() == "Nothing to undo."
