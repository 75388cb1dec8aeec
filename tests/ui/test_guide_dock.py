"""A first job in the real window, by clicks on labels that the screen shows: no scanner."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from partsbench.core.finish.old_finish import BARE
from partsbench.core.piece.piece import Piece
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown import labels
from partsbench.ui.dialogs.old_finish_dialog import OldFinishDialog
from partsbench.ui.dialogs.print_dialog import PrintDialog
from partsbench.ui.guide_dock import GuideDock, stand_by
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.layout_page import LayoutPage
from tests.support.shops import lay_out

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def dock(window: MainWindow, shop: Shop) -> Iterator[GuideDock]:
    window.page()
    made = stand_by(shop, window)
    yield made
    made.close()


def click(dock: GuideDock, qtbot: QtBot, *names: str) -> None:
    """Click the labels whose codes have these numbers: `D02`, `H01`."""
    for name in names:
        code = next(code for code in dock.labels if code[5:8] == name)
        qtbot.mouseClick(dock.labels[code], LEFT)
        dock.on_beat()


def key(dock: GuideDock) -> str:
    dock.on_beat()
    assert dock.step is not None
    return dock.step.key


@pytest.mark.long
def test_a_whole_job_with_no_scanner_and_no_printer(
    window: MainWindow, dock: GuideDock, shop: Shop, qtbot: QtBot, tmp_path: object
) -> None:
    assert key(dock) == "lay out"
    assert window.page_key() == "start"
    QTest.keyClicks(window.page().form.rows, "2 1")  # type: ignore[attr-defined]
    QTest.keyClick(window.page().form.rows, Qt.Key.Key_Return)  # type: ignore[attr-defined]
    assert key(dock) == "known"
    _say_bare(window, qtbot)
    assert key(dock) == "path"
    page = window.page()
    assert isinstance(page, LayoutPage)
    page.finish.take_path("clear")
    page.finish.onto_fronts.click()
    assert key(dock) == "labels"
    _save_labels(window, qtbot, tmp_path)
    assert key(dock) == "out"
    assert window.page_key() == "teardown"
    click(dock, qtbot, "D01", "D02", "D03")
    assert key(dock) == "step"
    assert window.page_key() == "bench"
    for _ in range(3):  # shown; recorded, or asked first and then recorded
        if key(dock) == "step":
            click(dock, qtbot, "D01")
    assert key(dock) == "swap"
    assert window.page_key() == "return"
    click(dock, qtbot, "H01", "D02")
    assert dock.step is not None
    piece = shop.piece(dock.step.tag)
    assert piece is not None
    assert piece_state(shop, piece).of("D2").where is Where.WRONG
    assert key(dock) == "home"
    click(dock, qtbot, "H01", "D01", "H02", "D02", "H03", "D03")
    assert key(dock) == "proof"
    assert dock.labels == {}
    assert dock.title.text() == "9 of 9:  Print the proof"
    window.page().board.proof_button.click()  # type: ignore[attr-defined]
    _save_pages(qtbot, tmp_path / "proof.pdf")  # type: ignore[operator]
    assert key(dock) == "done"
    assert dock.title.text() == "That is a whole job"


def _say_bare(window: MainWindow, qtbot: QtBot) -> None:
    window.page().made.next.click()  # type: ignore[attr-defined]
    over = QApplication.activeModalWidget()
    assert isinstance(over, OldFinishDialog)
    over.on_it.setCurrentIndex(over.on_it.findData(BARE))
    note = over.findChild(QPushButton, "old-save")
    assert note is not None and note.text() == "Write it down"
    note.click()
    over.close()


def _save_labels(window: MainWindow, qtbot: QtBot, folder: object) -> None:
    window.actions_by_key["labels"].trigger()
    _save_pages(qtbot, folder / "labels.pdf")  # type: ignore[operator]


def _save_pages(qtbot: QtBot, target: Path) -> None:
    over = QApplication.activeModalWidget()
    assert isinstance(over, PrintDialog)
    qtbot.waitUntil(over.save.isEnabled, timeout=20_000)
    over.save_to(target)
    assert target.read_bytes().startswith(b"%PDF")
    over.close()


def test_it_is_left_at_any_moment_and_found_again_where_it_was(
    window: MainWindow, dock: GuideDock, shop: Shop, qtbot: QtBot
) -> None:
    QTest.keyClicks(window.page().form.rows, "2 1")  # type: ignore[attr-defined]
    QTest.keyClick(window.page().form.rows, Qt.Key.Key_Return)  # type: ignore[attr-defined]
    dock.leave.click()
    assert not dock.isVisible()
    window.show_page("day")
    again = stand_by(shop, window)
    assert again.step is not None and again.step.key == "known"
    assert window.page_key() == "start"
    again.close()


def test_it_leads_back_when_one_has_strayed(window: MainWindow, dock: GuideDock) -> None:
    window.show_page("pieces")
    dock.there.click()
    assert window.page_key() == "start"


def test_the_sample_is_offered_to_an_empty_book_and_not_within_the_sample(
    window: MainWindow, shop: Shop
) -> None:
    page = window.page()
    assert page.form.sample.isVisible()  # type: ignore[attr-defined]
    dock = stand_by(shop, window)
    page.refresh()
    assert not page.form.sample.isVisible()  # type: ignore[attr-defined]
    dock.close()


def test_a_label_is_scanned_by_the_keyboard_too(
    window: MainWindow, dock: GuideDock, shop: Shop, qtbot: QtBot
) -> None:
    made = lay_out(shop, "Alder", "2 1", paths=[("clear", ["D1 front"])])
    assert isinstance(made, Piece)
    sheet = labels.make_sheet(shop, made.tag)
    assert isinstance(sheet, labels.Sheet)
    labels.hand_out(shop, sheet)
    assert key(dock) == "out"
    window.activateWindow()
    first = next(iter(dock.labels.values()))
    assert first.focusPolicy() & Qt.FocusPolicy.TabFocus
    assert first.accessibleName().startswith("Scan the label ")
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_Space)
    assert piece_state(shop, made).of("D1").where is Where.OUT
