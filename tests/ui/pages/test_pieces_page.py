from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.plan.asking import note_promise
from partsbench.services.shop import Shop
from partsbench.ui import asking
from partsbench.ui.pages.pieces_page import PiecesPage
from partsbench.ui.theme import Theme
from tests.support.clock import SetClock
from tests.support.shops import heron, lay_out, quill


@pytest.fixture
def pieces(shop: Shop, clock: SetClock) -> list[Piece]:
    made = []
    for name, rows, title in (
        ("Heron", "2 2 3", "dresser"),
        ("Larch", "1 1 1", "tall chest"),
        ("Quill", "3", "writing table"),
    ):
        piece = lay_out(shop, name, rows, title=title)
        assert isinstance(piece, Piece)
        made.append(piece)
        clock.pass_time(days=1)
    return made


@pytest.fixture
def page(qtbot: QtBot, shop: Shop, theme: Theme, pieces: list[Piece]) -> PiecesPage:
    made = PiecesPage(shop)
    qtbot.addWidget(made)
    made.show_piece("")
    made.show()
    return made


def shown(page: PiecesPage) -> list[str]:
    model = page.table.model()
    return [model.index(row, 0).data() for row in range(model.rowCount())]


def test_all_pieces_are_listed_the_newest_first(page: PiecesPage) -> None:
    assert shown(page) == ["Quill", "Larch", "Heron"]
    assert page.said.text().startswith("3 pieces")


def test_the_model_keeps_qts_rules_while_lines_come_and_go(
    page: PiecesPage, shop: Shop, qtmodeltester: ModelTester
) -> None:
    qtmodeltester.check(page.model)
    lay_out(shop, "Alder", "1")
    page.refresh()
    qtmodeltester.check(page.model)
    index = page.model.index(0, 0)
    assert index.data(Qt.ItemDataRole.AccessibleTextRole) == "Codename: Alder"


def test_any_word_finds_a_piece_and_enter_opens_it(page: PiecesPage, pieces: list[Piece]) -> None:
    asked: list[tuple[str, str]] = []
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    QTest.keyClicks(page.field, "tall")
    assert shown(page) == ["Larch"]
    QTest.keyClick(page.field, Qt.Key.Key_Return)
    assert asked == [("layout", pieces[1].tag)]
    page.field.setText(pieces[2].tag.lower())
    assert shown(page) == ["Quill"]


def test_nothing_found_opens_nothing(page: PiecesPage) -> None:
    asked: list[str] = []
    page.page_asked.connect(lambda key, tag: asked.append(key))
    QTest.keyClicks(page.field, "walrus")
    QTest.keyClick(page.field, Qt.Key.Key_Return)
    assert (shown(page), asked) == ([], [])


def test_a_scanned_label_opens_its_piece_on_the_bench(
    page: PiecesPage, pieces: list[Piece]
) -> None:
    asked: list[tuple[str, str]] = []
    answers: list[object] = []
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    page.answered.connect(answers.append)
    piece = pieces[0]
    page.scanned(str(piece.code(piece.parts[0])))
    assert asked == [("bench", piece.tag)]
    page.scanned("nonsense")
    assert isinstance(answers[-1], Outcome)


def test_a_file_is_taken_in_and_a_bad_one_is_refused_by_name(
    page: PiecesPage, shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text('codename = "Finch"\nrows = "2 1"\n')
    bad.write_text("codename =")
    answers: list[object] = []
    page.answered.connect(answers.append)
    for file in (good, bad):
        with monkeypatch.context() as patch:
            patch.setattr(asking, "ask_pieces", lambda parent, file=file: [file])
            page.on_take_in_clicked()
    assert isinstance(answers[0], Done), answers
    assert isinstance(answers[1], Refused)
    assert str(bad) in answers[1].sentence
    page.refresh()
    assert shown(page)[0] == "Finch"


def test_a_list_without_pieces_says_which_way_on(qtbot: QtBot, shop: Shop, theme: Theme) -> None:
    page = PiecesPage(shop)
    qtbot.addWidget(page)
    page.show_piece("")
    page.show()
    assert page.hint.isVisible()
    assert page.hint.text().startswith("No piece is in this book yet.")
    assert page.said.text() == ""


def test_a_search_that_nothing_fits_says_so(page: PiecesPage) -> None:
    assert not page.hint.isVisible()
    page.field.setText("zzz")
    assert page.hint.isVisible()
    assert page.hint.text().startswith("No piece has that")
    page.field.clear()
    assert not page.hint.isVisible()


def planned(page: PiecesPage, qtbot: QtBot) -> None:
    """The plan of the board is made and every front is drawn."""
    done = lambda: not page.planner.busy and not page.board._beat.isActive()  # noqa: E731
    qtbot.waitUntil(done, timeout=20_000)


def test_the_board_tells_of_each_piece_what_is_next_and_when_it_is_done(
    qtbot: QtBot, shop: Shop, theme: Theme
) -> None:
    piece, other = heron(shop), quill(shop)
    note_promise(shop, piece.tag, shop.clock() + timedelta(hours=3))
    page = PiecesPage(shop)
    qtbot.addWidget(page)
    page.show_piece("")
    page.show()
    planned(page, qtbot)
    card = page.board.cards[piece.tag]
    assert card.accessibleName() == f"Heron {piece.tag}"
    assert "Heron D" in card.next.text()
    assert card.day.text().startswith("Heron cannot be done by ")
    assert card.stands.text() == "4 ready."
    assert all(label.text() in card.accessibleDescription() for label in (card.next, card.day))
    assert page.board.cards[other.tag].next.text() == "Nothing is left to plan."
    asked: list[tuple[str, str]] = []
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    card.setFocus()
    QTest.keyClick(card, Qt.Key.Key_Return)
    assert asked == [("layout", piece.tag)]


def test_a_piece_is_put_away_and_found_again(page: PiecesPage, pieces: list[Piece]) -> None:
    page.board.cards[pieces[1].tag].chosen.emit(pieces[1].tag)
    assert page.chosen() == pieces[1].tag
    page.put_by.click()
    assert shown(page) == ["Quill", "Heron"]
    assert list(page.board.cards) == [pieces[2].tag, pieces[0].tag]
    assert page.said.text().endswith("1 put away.")
    QTest.keyClicks(page.field, "larch")
    assert shown(page) == ["Larch"]
    page.table.selectRow(0)
    assert page.put_by.text().startswith("Take out again")
    page.put_by.click()
    page.field.clear()
    assert shown(page) == ["Quill", "Larch", "Heron"]
    assert pieces[1].tag in page.board.cards
    page.with_away.setChecked(True)
    assert shown(page) == ["Quill", "Larch", "Heron"]


def test_a_line_is_opened_by_enter_and_by_a_double_click_and_a_new_piece_is_begun(
    page: PiecesPage, pieces: list[Piece]
) -> None:
    asked: list[tuple[str, str]] = []
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    QTest.keyClick(page.table, Qt.Key.Key_Down)
    page.table.setCurrentIndex(page.table.model().index(1, 0))
    QTest.keyClick(page.table, Qt.Key.Key_Return)
    line = page.table.visualRect(page.table.model().index(2, 0)).center()
    for click in (QTest.mouseClick, QTest.mouseDClick):
        click(page.table.viewport(), Qt.MouseButton.LeftButton, pos=line)
    by_name = {p.codename: p.tag for p in pieces}
    assert [tag for _, tag in asked] == [by_name["Larch"], by_name["Heron"]]
    page.on_new_clicked()
    assert asked[-1] == ("start", "")


def test_what_was_searched_for_is_there_after_a_restart(
    page: PiecesPage, qtbot: QtBot, shop: Shop
) -> None:
    page.field.setText("tall")
    again = PiecesPage(shop)
    qtbot.addWidget(again)
    again.show_piece("")
    again.restore_state(page.saved_state())
    assert shown(again) == ["Larch"]
    again.restore_state({})
    assert len(shown(again)) == 3


def test_with_no_line_chosen_nothing_is_put_away(page: PiecesPage, shop: Shop) -> None:
    before = shop.book.newest()
    page.field.setText("zzz")
    answers: list[object] = []
    page.answered.connect(answers.append)
    page.on_put_away_clicked()
    assert (answers, shop.book.newest()) == ([], before)


def test_a_card_is_taken_by_a_press_and_opened_by_a_double_click(
    page: PiecesPage, pieces: list[Piece], qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: len(page.board.cards) == 3, timeout=20_000)
    opened: list[str] = []
    card = page.board.cards[pieces[0].tag]
    card.opened.connect(opened.append)
    page.activateWindow()
    QTest.mouseClick(card, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(card.hasFocus)
    QTest.keyClick(card, Qt.Key.Key_A)
    assert opened == []
    QTest.mouseDClick(card, Qt.MouseButton.LeftButton)
    assert opened == [pieces[0].tag]
