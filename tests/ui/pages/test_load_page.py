from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from shutil import copy

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from partsbench.core.finish.cups import Poured
from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts import loads
from partsbench.services.acts.history import history
from partsbench.services.known import climate
from partsbench.services.known.state import piece_state
from partsbench.services.shop import Shop
from partsbench.services.sums import cups
from partsbench.ui.answer_bar import manner_of
from partsbench.ui.dialogs.print_dialog import PrintDialog
from partsbench.ui.pages.load_page import IT_IS_SO, LoadPage
from partsbench.ui.theme import Theme
from tests.support.clock import SetClock
from tests.support.finishing import do
from tests.support.shops import code, lay_out, made, shop_at

ELEVEN = [f"D{n}" for n in range(1, 12)]


@pytest.fixture(scope="module")
def sanded(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """A book, and in it eleven drawers sanded and waiting for their first colour."""
    path, clock = tmp_path_factory.mktemp("sanded") / "b.partsbench", SetClock()
    shop = shop_at(path, clock, "Wren")
    piece = made(lay_out(shop, "Heron", "4 4 3", paths=[("paint", ELEVEN)]))
    for short in ELEVEN:
        do(shop, piece, short, "wash", "rinse", at=clock.now - timedelta(days=1))
        do(shop, piece, short, "sand_150")
    shop.close()
    return path, piece.tag


@pytest.fixture
def shop(sanded: tuple[Path, str], tmp_path: Path, clock: SetClock) -> Iterator[Shop]:
    """A copy of that book for each test."""
    opened = shop_at(Path(copy(sanded[0], tmp_path)), clock, "Wren")
    yield opened
    opened.close()


@pytest.fixture
def heron(shop: Shop, sanded: tuple[Path, str]) -> Piece:
    piece = shop.piece(sanded[1])
    assert piece is not None
    return piece


@pytest.fixture
def page(shop: Shop, heron: Piece, theme: Theme, qtbot: QtBot) -> Iterator[LoadPage]:
    page = LoadPage(shop)
    qtbot.addWidget(page)
    page.resize(1180, 590)
    page.show_piece(heron.tag)
    page.show()
    qtbot.waitExposed(page)
    yield page


def coated(shop: Shop, tag: str) -> list[str]:
    piece = shop.piece(tag)
    assert piece is not None
    return [
        short
        for short, part in piece_state(shop, piece).parts.items()
        if any(m.step == "colour_1" for f in part.faces for m in f.marks)
    ]


def test_a_load_is_proposed_before_it_is_taken(page: LoadPage, shop: Shop) -> None:
    before = len(history(shop))
    assert page.title.text().startswith("Next: Colour coat 1")
    assert [line.short for line in page.model.lines][:3] == ["D1", "D2", "D3"]
    assert len(page.model.lines) == 11
    assert not page.strip.isEnabled()
    assert len(history(shop)) == before


def test_eleven_parts_all_but_two_in_a_few_keys(
    page: LoadPage, shop: Shop, heron: Piece, qtbot: QtBot
) -> None:
    """The tally strip from the booth is entered: two ticks off, one record."""
    QTest.keyClick(page, Qt.Key.Key_Return)
    assert page.number == 1
    assert loads.open_load(shop, heron.tag) == 1
    keys = 1
    for row in (3, 8):
        page.list.setFocus()
        page.list.setCurrentIndex(page.model.index(row))
        QTest.keyClick(page.list, Qt.Key.Key_Space)
        keys += 2
    assert page.left_out() == ["D4", "D9"]
    assert page.title.text() == "Load 1: 9 of 11 parts coated"
    assert coated(shop, heron.tag) == []
    QTest.keyClick(page, Qt.Key.Key_Return)
    assert page.ask.kind == "confirm" and coated(shop, heron.tag) == []
    assert "dust has settled" in page.ask.question
    page.ask.answered.emit("confirm", "what?")
    assert coated(shop, heron.tag) == []
    page.ask.answered.emit("confirm", IT_IS_SO)
    assert keys + 2 < 10
    assert set(ELEVEN) >= set(coated(shop, heron.tag))
    assert len(coated(shop, heron.tag)) == 9
    assert not {"D4", "D9"} & set(coated(shop, heron.tag))
    assert history(shop)[0].sentence.endswith("all except D4, D9")
    assert [line.short for line in page.model.lines] == ["D4", "D9"], "they come first now"


def test_what_was_coated_says_that_the_next_step_must_wait(page: LoadPage) -> None:
    heard: list[object] = []
    page.answered.connect(heard.append)
    for _ in range(2):
        QTest.keyClick(page, Qt.Key.Key_Return)
    page.ask.answered.emit("confirm", IT_IS_SO)
    said = heard[-1]
    assert isinstance(said, Outcome) and said.recorded
    assert manner_of(said).word == "DONE", "no GO over a step that must wait"
    assert ", WAIT 4 h, not before " in said.sentence


def test_a_scan_takes_a_tick_off_and_on_and_records_nothing(
    page: LoadPage, shop: Shop, heron: Piece
) -> None:
    page.on_main_pressed()
    before = len(history(shop))
    answers: list[object] = []
    page.answered.connect(answers.append)
    page.scanned(code(heron, "D7"))
    assert page.left_out() == ["D7"]
    page.scanned("d7")
    assert page.left_out() == []
    assert len(history(shop)) == before
    assert all(isinstance(a, Outcome) and "Nothing is recorded" in a.sentence for a in answers)


def test_the_stated_time_counts(page: LoadPage, shop: Shop, heron: Piece, clock: SetClock) -> None:
    page.on_main_pressed()
    clock.pass_time(hours=2)
    page.on_time_pressed()
    page.ask.answered.emit("time", "1 h ago")
    page.on_main_pressed()
    page.ask.answered.emit("confirm", IT_IS_SO)
    piece = shop.piece(heron.tag)
    assert piece is not None
    marks = piece_state(shop, piece).of("D1").faces[0].marks
    assert marks[-1].at == clock.now - timedelta(hours=1)


def test_a_time_to_come_is_refused(page: LoadPage) -> None:
    page.on_main_pressed()
    page.on_time_pressed()
    page.ask.answered.emit("time", "never")
    assert page.at is None
    assert page.ask.kind == "time"


def test_a_held_load_wants_a_reason(page: LoadPage, shop: Shop, heron: Piece) -> None:
    """Dew would form on the work: nothing is recorded until a reason is given."""
    page.on_main_pressed()
    assert isinstance(climate.note(shop, 20, 80, surface_c=17), Done)
    answers: list[object] = []
    page.answered.connect(answers.append)
    page.on_main_pressed()
    said = answers[-1]
    assert isinstance(said, Outcome) and said.held
    assert page.ask.kind == "insist"
    assert coated(shop, heron.tag) == []
    page.ask.answered.emit("insist", "")
    assert coated(shop, heron.tag) == []
    page.ask.answered.emit("insist", "tried, it is ready")
    page.ask.answered.emit("confirm", IT_IS_SO)
    assert len(coated(shop, heron.tag)) == 11
    assert "insisted" in history(shop)[0].sentence


def test_a_load_that_is_given_up_leaves_nothing(page: LoadPage, shop: Shop, heron: Piece) -> None:
    page.on_main_pressed()
    QTest.keyClick(page, Qt.Key.Key_G)
    assert page.number == 0
    assert loads.open_load(shop, heron.tag) == 0
    assert coated(shop, heron.tag) == []
    assert page.title.text().startswith("Next: Colour coat 1, ")
    assert history(shop)[0].sentence == "Heron: load 1 given up, nothing coated"


def test_cups_break_where_a_row_ends(page: LoadPage) -> None:
    page.cup_panel.spread.setValue(120)
    page.cup_panel.holds.setValue(60)
    assert "cups" in page.order.text()
    assert "Break 1 after" in page.order.text()


def test_the_strip_has_the_load_on_it(page: LoadPage, qtbot: QtBot) -> None:
    page.on_main_pressed()
    dialog = page.tally_dialog()
    qtbot.addWidget(dialog)
    assert dialog.what.currentText() == "Tally strip of load 1"
    qtbot.waitUntil(dialog.save.isEnabled, timeout=20_000)
    assert dialog.told.text() == "1 page."


def test_another_load_in_hand_is_found_again(page: LoadPage, shop: Shop, qtbot: QtBot) -> None:
    page.on_main_pressed()
    again = LoadPage(shop)
    qtbot.addWidget(again)
    again.show_piece(page.tag)
    assert again.number == page.number
    assert again.main.accessibleName() == "Record: all coated"


def test_without_a_piece_it_says_so(shop: Shop, qtbot: QtBot, theme: Theme) -> None:
    page = LoadPage(shop)
    qtbot.addWidget(page)
    page.show_piece("")
    page.show()
    qtbot.waitExposed(page)
    assert page.nothing.isVisible() and not page.content.isVisible()
    assert not page.main.isEnabled()


def test_that_no_coat_is_due_is_said_once(shop: Shop, qtbot: QtBot, theme: Theme) -> None:
    page = LoadPage(shop)
    qtbot.addWidget(page)
    page.show_piece(made(lay_out(shop, "Larch", "1")).tag)
    page.show()
    qtbot.waitExposed(page)
    said = [w.text() for w in (page.title, page.order, page.waiting) if w.text()]
    assert said == ["No coat is due."]
    assert not page.list.isVisible(), "an empty list only takes room from the piece"
    side = page.width() - page.cup_panel.mapTo(page, QPoint(0, 0)).x()
    assert page.view.width() > page.width() - side - 60


def test_a_cup_that_no_face_takes_is_told_before_the_load_is_taken(
    page: LoadPage, shop: Shop, heron: Piece
) -> None:
    cup = cups.make(shop, "clear", [Poured("clear", "", 1)], product="clear_water")
    assert not isinstance(cup, Refused)
    page.on_cup_chosen(cup.number)
    assert page.title.text() == "No coat may go on yet."
    assert "holds water-borne clear; Colour coat 1, thin takes water-borne paint" in (
        page.waiting.text()
    )
    page.on_main_pressed()
    assert page.number == 0 and loads.open_load(shop, heron.tag) == 0


def test_all_are_ticked_again_with_one_key(page: LoadPage, shop: Shop, heron: Piece) -> None:
    page.on_main_pressed()
    for short in ("D7", "D9"):
        page.scanned(code(heron, short))
    assert page.left_out() == ["D7", "D9"]
    QTest.keyClick(page, Qt.Key.Key_T)
    assert page.left_out() == []
    page.on_ticked("D3", True)
    assert page.left_out() == [], "it was ticked already"
    page.on_ticked("D3", False)
    assert page.left_out() == ["D3"]


def test_before_a_load_is_taken_its_keys_do_nothing(page: LoadPage, shop: Shop) -> None:
    before = shop.book.newest()
    answers: list[object] = []
    page.answered.connect(answers.append)
    for pressed in (page.on_drop_pressed, page.on_time_pressed, page.on_strip_pressed):
        pressed()
    QTest.keyClick(page, Qt.Key.Key_G)
    assert (answers, page.ask.kind, shop.book.newest()) == ([], "", before)
    assert page.findChild(PrintDialog) is None


def test_the_strip_of_the_load_is_opened_by_its_key(page: LoadPage, qtbot: QtBot) -> None:
    page.on_main_pressed()
    QTest.keyClick(page, Qt.Key.Key_P)
    dialog = page.findChild(PrintDialog)
    assert dialog is not None and dialog.isVisible()
    qtbot.waitUntil(dialog.save.isEnabled, timeout=20_000)
    dialog.close()


def test_a_label_of_another_job_takes_the_page_there_on_enter(
    page: LoadPage, shop: Shop, heron: Piece
) -> None:
    other = made(lay_out(shop, "Quill", "1"))
    asked: list[tuple[str, str]] = []
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    before = shop.book.newest()
    page.scanned(code(other, "D1"))
    assert asked == []
    QTest.keyClick(page, Qt.Key.Key_Return)
    assert asked == [("load", other.tag)]
    assert shop.book.newest() == before
