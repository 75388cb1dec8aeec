"""The whole window on a real book: pages, scans, undo, other windows, and back after a crash."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, QSize, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.qtbot import QtBot

from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.books.watching import all_pieces
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop, open_shop
from partsbench.ui import theme as themes
from partsbench.ui.find_dialog import FindDialog
from partsbench.ui.main_window import MainWindow, first_size
from partsbench.ui.settings import Settings
from partsbench.ui.theme import Theme
from tests.support.keyboard import Keyboard
from tests.support.labels import label_picture
from tests.support.shops import lay_out


@pytest.fixture
def heron(shop: Shop) -> Piece:
    piece = lay_out(shop, "Heron", "2 2 3", title="dresser", legs=4, pulls=1)
    assert isinstance(piece, Piece)
    return piece


@pytest.fixture
def larch(shop: Shop) -> Piece:
    piece = lay_out(shop, "Larch", "2 2 3", title="tall chest")
    assert isinstance(piece, Piece)
    return piece


def code_of(piece: Piece, short: str) -> str:
    part = piece.part(short)
    assert part is not None
    return str(piece.code(part))


def is_out(shop: Shop, tag: str, short: str) -> bool:
    piece = shop.piece(tag)
    assert piece is not None
    return piece_state(shop, piece).of(short).where is Where.OUT


def test_an_empty_book_opens_on_the_one_question(window: MainWindow) -> None:
    assert window.page_key() == "start"
    assert window.page().isVisible()
    assert not window.actions_by_key["undo"].isEnabled()
    assert not window.actions_by_key["redo"].isEnabled()


def test_a_dresser_from_the_question_to_its_drawers_scanned_out(
    window: MainWindow, shop: Shop, qtbot: QtBot
) -> None:
    """Typed, taken in, and taken apart by scanner with the keyboard in a text field."""
    window.page()
    keyboard = Keyboard(window)
    QTest.keyClicks(window.page().form.rows, "2 2 3")
    QTest.keyClick(window.page().form.rows, Qt.Key.Key_Return)
    (listed,) = all_pieces(shop)
    assert window.tag == listed.tag
    assert listed.tag in window.chooser.currentText()
    piece = shop.piece(listed.tag)
    assert piece is not None
    window.page_actions["teardown"].trigger()
    assert window.page_key() == "teardown"
    window.answer_bar.field.setFocus()
    for short in ("D1", "D2", "D3"):
        keyboard.scan(code_of(piece, short))
        assert is_out(shop, piece.tag, short)
    assert window.answer_bar.field.text() == ""
    assert "D3" in window.answer_bar.showing()


@pytest.mark.parametrize("scanned_by", ["take_code", "on_code_scanned"])
def test_with_no_piece_at_work_a_label_brings_its_own(
    window: MainWindow, shop: Shop, heron: Piece, larch: Piece, scanned_by: str
) -> None:
    window.show_page("teardown")
    assert window.tag == ""
    getattr(window, scanned_by)(code_of(larch, "D2"))
    assert window.tag == larch.tag
    assert is_out(shop, larch.tag, "D2")
    window.tag = ""
    window.show_page("return")
    window.page().show_piece("")
    getattr(window, scanned_by)(code_of(larch, "D3"))
    assert (window.page().tag, window.page().lit) == (larch.tag, "D3")  # type: ignore[attr-defined]


def test_the_same_label_twice_in_a_moment_counts_once(
    window: MainWindow, shop: Shop, heron: Piece
) -> None:
    window.show_page("bench", heron.tag)
    keyboard = Keyboard(window)
    before = len(history(shop))
    for _ in range(3):
        keyboard.scan(code_of(heron, "D1"))
    assert len(history(shop)) == before


def test_a_namesake_of_another_job_is_told_and_nothing_is_recorded(
    window: MainWindow, shop: Shop, heron: Piece, larch: Piece
) -> None:
    window.show_page("teardown", heron.tag)
    before = len(history(shop))
    Keyboard(window).scan(code_of(larch, "D5"))
    assert window.answer_bar.showing().startswith("OTHER JOB")
    assert "Larch D5" in window.answer_bar.showing()
    assert len(history(shop)) == before


def test_nothing_is_recorded_behind_a_dialog(
    window: MainWindow, shop: Shop, heron: Piece, qtbot: QtBot
) -> None:
    window.show_page("teardown", heron.tag)
    window.actions_by_key["labels"].trigger()
    qtbot.waitUntil(lambda: QApplication.activeModalWidget() is not None)
    Keyboard(window).scan(code_of(heron, "D1"))
    assert not is_out(shop, heron.tag, "D1")
    assert window.answer_bar.showing().startswith("NOT DONE")
    modal = QApplication.activeModalWidget()
    assert isinstance(modal, QDialog)
    modal.reject()


def test_a_scan_while_finding_is_what_is_looked_for(
    window: MainWindow, heron: Piece, qtbot: QtBot
) -> None:
    window.show_page("bench", heron.tag)
    window.actions_by_key["find"].trigger()
    dialog = window.findChild(FindDialog)
    assert dialog is not None
    window.take_code(code_of(heron, "D6"))
    assert "D6" in dialog.list.model().index(0, 0).data()
    dialog.reject()


def test_undo_and_redo_reach_back_over_restarts(
    window: MainWindow, shop: Shop, heron: Piece, tmp_path: Path, qtbot: QtBot
) -> None:
    window.show_page("teardown", heron.tag)
    window.take_code(code_of(heron, "D1"))
    assert is_out(shop, heron.tag, "D1")
    window.close()
    again = MainWindow(shop, Settings(tmp_path / "window.ini"))
    qtbot.addWidget(again)
    assert again.page_key() == "teardown"
    again.page()
    again.actions_by_key["undo"].trigger()
    assert not is_out(shop, heron.tag, "D1")
    again.actions_by_key["redo"].trigger()
    assert is_out(shop, heron.tag, "D1")
    again.close()


def test_after_a_crash_page_piece_and_half_made_entry_are_back(
    shop: Shop, heron: Piece, tmp_path: Path, theme: Theme, qtbot: QtBot
) -> None:
    """The window is never closed: what a second one finds is what was on the disk."""
    first = MainWindow(shop, Settings(tmp_path / "w.ini"))
    qtbot.addWidget(first)
    first.page()
    first.show_page("start", heron.tag)
    QTest.keyClicks(first.page().form.rows, "3 3 2")
    first.page().form.title.setText("nightstand")
    first._keeper.on_beat()
    second = MainWindow(shop, Settings(tmp_path / "w.ini"))
    qtbot.addWidget(second)
    assert second.page_key() == "start"
    assert second.tag == heron.tag
    assert second.page().form.rows.text() == "3 3 2"
    assert second.page().form.title.text() == "nightstand"


def test_the_keeper_beats_by_itself(window: MainWindow, tmp_path: Path, qtbot: QtBot) -> None:
    window.show_page("start")
    QTest.keyClicks(window.page().form.rows, "4 4")

    def kept() -> bool:
        return Settings(tmp_path / "window.ini").entry("start").get("rows") == "4 4"

    qtbot.waitUntil(kept, timeout=4000)


def test_a_change_by_another_window_shows_up(
    window: MainWindow, shop: Shop, heron: Piece, qtbot: QtBot
) -> None:
    window.show_page("pieces", heron.tag)
    other = open_shop(shop.book.path)
    assert isinstance(other, Shop)
    lay_out(other, "Quill", "1")
    other.close()
    page = window.page()
    qtbot.waitUntil(lambda: page.model.rowCount() == 2, timeout=4000)
    names = [window.chooser.itemText(i) for i in range(window.chooser.count())]
    assert any("Quill" in name for name in names)


def test_every_page_opens_by_its_key_and_takes_the_piece(
    window: MainWindow, heron: Piece, qtbot: QtBot
) -> None:
    window.show_page("pieces", heron.tag)
    for key, action in window.page_actions.items():
        action.trigger()
        assert window.page_key() == key
        assert window.page().isVisible()
        if key != "start":
            assert window.page().tag == heron.tag


def test_a_code_typed_into_the_field_is_a_scan(window: MainWindow, heron: Piece) -> None:
    window.show_page("bench", heron.tag)
    window.actions_by_key["scan"].trigger()
    QTest.keyClicks(window.answer_bar.field, "d5")
    QTest.keyClick(window.answer_bar.field, Qt.Key.Key_Return)
    assert "D5" in window.answer_bar.showing()
    assert window.answer_bar.field.text() == ""


def test_a_dropped_picture_of_a_label_is_a_scan(
    window: MainWindow, heron: Piece, tmp_path: Path, qtbot: QtBot
) -> None:
    from PIL import Image

    window.show_page("bench", heron.tag)
    file = tmp_path / "label.png"
    Image.fromarray(label_picture(code_of(heron, "D6"), 2)).save(file)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(file))])
    place = QPointF(600, 300)
    arguments = (Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton)
    none = Qt.KeyboardModifier.NoModifier
    entering = QDragEnterEvent(place.toPoint(), *arguments, none)
    window.dragEnterEvent(entering)
    assert entering.isAccepted()
    window.dropEvent(QDropEvent(place, *arguments, none))
    qtbot.waitUntil(lambda: "D6" in window.answer_bar.showing(), timeout=10_000)


def test_a_copied_code_is_a_scan(window: MainWindow, heron: Piece) -> None:
    window.show_page("bench", heron.tag)
    QGuiApplication.clipboard().setText(f" {code_of(heron, 'D7')}\n")
    window.actions_by_key["paste"].trigger()
    assert "D7" in window.answer_bar.showing()


def test_a_description_dropped_on_the_window_is_taken_in(
    window: MainWindow, shop: Shop, tmp_path: Path
) -> None:
    window.page()
    file = tmp_path / "finch.toml"
    file.write_text('codename = "Finch"\nrows = "2 1"\n')
    window.listening.intake.take_files([file])
    assert [p.codename for p in all_pieces(shop)] == ["Finch"]
    assert window.answer_bar.showing().startswith("DONE Finch")
    assert window.page_key() == "layout"


def test_find_leads_to_the_part_on_the_bench_and_records_nothing(
    window: MainWindow, shop: Shop, heron: Piece
) -> None:
    window.show_page("pieces", heron.tag)
    before = len(history(shop))
    window.on_part_found(heron.tag, "D6")
    assert window.page_key() == "bench"
    assert "D6" in window.answer_bar.showing()
    assert len(history(shop)) == before


def test_labels_without_a_piece_are_refused_in_words(window: MainWindow) -> None:
    window.page()
    window.actions_by_key["labels"].trigger()
    assert window.answer_bar.showing().startswith("NOT DONE No piece is at work")


def test_dark_is_worn_at_once_and_remembered(
    window: MainWindow, tmp_path: Path, qapp: QApplication, qtbot: QtBot
) -> None:
    window.page()
    window.actions_by_key["dark"].trigger()
    qtbot.waitUntil(lambda: themes.theme_of(window) is themes.DARK)
    assert themes.first(qapp, Settings(tmp_path / "window.ini").text("view/theme")) is themes.DARK
    window.actions_by_key["dark"].trigger()
    qtbot.waitUntil(lambda: themes.theme_of(window) is themes.LIGHT)


def test_the_front_is_painted_before_any_page_is_loaded(
    shop: Shop, heron: Piece, tmp_path: Path, theme: Theme, qtbot: QtBot
) -> None:
    settings = Settings(tmp_path / "w.ini")
    settings.put("at/page", "teardown")
    settings.put("at/tag", heron.tag)
    window = MainWindow(shop, settings)
    qtbot.addWidget(window)
    assert window.pages == {}
    window.show()
    qtbot.waitUntil(lambda: "teardown" in window.pages)
    assert window.page().tag == heron.tag
    window.close()


def test_a_window_of_640_by_360_still_scrolls_to_everything(
    window: MainWindow, heron: Piece
) -> None:
    window.show_page("pieces", heron.tag)
    window.resize(640, 360)
    assert (window.width(), window.height()) == (640, 360)
    for key in window.page_actions:
        window.show_page(key)
        assert (window.width(), window.height()) == (640, 360), key


@pytest.mark.parametrize(
    ("room", "size"),
    [
        (QSize(1920, 1040), QSize(1280, 760)),
        (QSize(1280, 720), QSize(1280, 688)),
        (QSize(1024, 600), QSize(1024, 568)),
        (QSize(320, 240), QSize(480, 320)),
    ],
)
def test_the_first_window_is_no_bigger_than_the_screen(room: QSize, size: QSize) -> None:
    assert first_size(room) == size


def test_the_first_window_fits_this_screen(
    shop: Shop, tmp_path: Path, theme: Theme, qtbot: QtBot
) -> None:
    made = MainWindow(shop, Settings(tmp_path / "w.ini"))
    qtbot.addWidget(made)
    room = made.screen().availableSize()
    assert made.size() == first_size(room)
    assert made.height() <= room.height() and made.width() <= room.width()
