from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Outcome
from partsbench.core.piece.codes import Family
from partsbench.services.books.watching import all_pieces
from partsbench.services.known import old_finish
from partsbench.services.known.old_finish import Saying
from partsbench.services.shop import Shop
from partsbench.services.shown.first_things import count_good
from partsbench.ui.pages.start_page import FIRST_WORDS, StartPage
from partsbench.ui.theme import Theme
from tests.support.shops import code, lay_out, made


@pytest.fixture
def page(qtbot: QtBot, shop: Shop, theme: Theme) -> StartPage:
    made = StartPage(shop)
    qtbot.addWidget(made)
    made.resize(1100, 600)
    made.show()
    qtbot.waitExposed(made)
    return made


def test_typing_the_rows_draws_the_piece_at_once_and_records_nothing(
    page: StartPage, shop: Shop
) -> None:
    QTest.keyClicks(page.form.rows, "2 2 3")
    assert page.view.piece is not None
    assert page.view.keys()[:7] == [f"H{n}" for n in range(1, 8)]
    assert page.form.said.text() == "7 drawers"
    assert all_pieces(shop) == []


def test_enter_takes_the_piece_in_and_offers_its_labels(
    page: StartPage, shop: Shop, qtbot: QtBot
) -> None:
    answers: list[object] = []
    asked: list[tuple[str, str]] = []
    page.answered.connect(answers.append)
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    QTest.keyClicks(page.form.rows, "2 2 3")
    page.form.legs.setValue(4)
    page.form.pulls.setValue(2)
    page.form.top.setChecked(True)
    with qtbot.waitSignal(page.changed):
        QTest.keyClick(page.form.rows, Qt.Key.Key_Return)
    (made,) = all_pieces(shop)
    piece = shop.piece(made.tag)
    assert piece is not None
    assert page.tag == made.tag
    assert isinstance(answers[-1], Done)
    assert len(piece.corners) == 4
    assert sum(p.short.startswith("P") for p in piece.parts) == 14
    page.made.labels.click()
    assert asked == [("labels", made.tag)]


@pytest.mark.parametrize("field", ["rows", "height_field", "legs", "pulls", "top", "equal"])
def test_enter_takes_it_in_once_from_whichever_field(
    page: StartPage, shop: Shop, field: str
) -> None:
    QTest.keyClicks(page.form.rows, "2 2 3")
    page.form.legs.setValue(4)
    QTest.keyClick(getattr(page.form, field), Qt.Key.Key_Return)
    (row,) = all_pieces(shop)
    piece = shop.piece(row.tag)
    assert piece is not None
    assert sum(part.family is Family.LEG for part in piece.present) == 4


def test_enter_before_the_rows_says_what_is_wanted(page: StartPage, shop: Shop) -> None:
    QTest.keyClick(page.form.codename, Qt.Key.Key_Return)
    assert page.form.said.text() != FIRST_WORDS
    assert all_pieces(shop) == []


def test_the_codename_offered_is_free_and_what_a_person_wrote_stays(
    page: StartPage, shop: Shop
) -> None:
    offered = page.form.codename.text()
    assert offered
    lay_out(shop, offered, "1")
    page.refresh()
    assert page.form.codename.text() not in ("", offered)
    page.form.codename.setText("Heron")
    page.refresh()
    assert page.form.codename.text() == "Heron"


def test_sizes_are_read_in_mm_and_in_inches_with_fractions(page: StartPage, shop: Shop) -> None:
    QTest.keyClicks(page.form.rows, "2 1")
    page.form.width_field.setText('34 1/2"')
    page.form.height_field.setText("60 cm")
    QTest.keyClick(page.form.rows, Qt.Key.Key_Return)
    piece = shop.piece(page.tag)
    assert piece is not None
    assert piece.front.width == pytest.approx(34.5 * 25.4, abs=0.2)
    assert piece.front.height == pytest.approx(600)


@pytest.mark.parametrize(
    ("rows", "width", "said"),
    [("2 x 3", "", "“x”"), ("0", "", "0 drawers"), ("2 2", "wide", "Width"), ("99", "", "99")],
)
def test_what_cannot_be_is_said_below_the_field_and_nothing_is_taken_in(
    page: StartPage, shop: Shop, rows: str, width: str, said: str
) -> None:
    page.form.width_field.setText(width)
    QTest.keyClicks(page.form.rows, rows)
    assert said in page.form.said.text()
    assert not page.form.take.isEnabled()
    QTest.keyClick(page.form.rows, Qt.Key.Key_Return)
    assert all_pieces(shop) == []


def test_a_half_made_entry_can_be_given_back(page: StartPage, shop: Shop, qtbot: QtBot) -> None:
    QTest.keyClicks(page.form.rows, "3 3")
    page.form.title.setText("nightstand")
    page.form.legs.setValue(4)
    page.form.top.setChecked(True)
    kept = page.saved_state()
    other = StartPage(shop)
    qtbot.addWidget(other)
    other.restore_state(kept)
    assert other.form.draft() == page.form.draft()


def test_nothing_typed_is_nothing_to_keep(page: StartPage) -> None:
    assert page.saved_state() == {}


def test_after_a_piece_the_next_one_begins_empty(page: StartPage) -> None:
    QTest.keyClicks(page.form.rows, "2")
    QTest.keyClick(page.form.rows, Qt.Key.Key_Return)
    first = page.made.name.text()
    page.made.another.click()
    assert page.form.rows.text() == ""
    assert page.form.codename.text() not in ("", first.split()[0])


def test_intake_leads_from_one_question_to_the_next_and_last_to_the_labels(
    page: StartPage, shop: Shop
) -> None:
    asked: list[tuple[str, str]] = []
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    QTest.keyClicks(page.form.rows, "2 1")
    page.form.pulls.setValue(1)
    QTest.keyClick(page.form.rows, Qt.Key.Key_Return)
    tag = page.tag
    assert page.made.next.text() == "Next: old finish and its test"
    assert "nothing is sanded or scraped dry" in page.made.words.text()
    page.made.next.click()
    assert asked == [("old-finish", tag)]
    old_finish.say(shop, tag, Saying(old="paint"))
    page.refresh()
    assert page.made.next.text() == "Next: the wood"
    page.made.later.click()
    assert page.made.next.text() == "Next: pulls, knobs and plates"
    count_good(shop, tag, {("D1", "pull"): 1})
    page.refresh()
    assert page.made.next.text() == "Print its labels"
    assert not page.made.later.isVisible()
    page.made.next.click()
    assert asked[-1] == ("labels", tag)
    wood = page.findChild(QPushButton, "first-wood")
    assert wood is not None and wood.isVisible(), "what was passed over can still be said"
    wood.click()
    assert asked[-1] == ("wood", tag)


def test_the_next_piece_is_asked_anew(page: StartPage, shop: Shop) -> None:
    QTest.keyClicks(page.form.rows, "2 1")
    QTest.keyClick(page.form.rows, Qt.Key.Key_Return)
    page.made.later.click()
    page.made.another.click()
    QTest.keyClicks(page.form.rows, "1 1")
    QTest.keyClick(page.form.rows, Qt.Key.Key_Return)
    assert page.made.next.text() == "Next: old finish and its test"
    hardware = page.findChild(QPushButton, "first-hardware")
    assert hardware is None or not hardware.isVisible()


def test_a_scan_shows_its_part_and_the_sample_is_a_press_away(
    page: StartPage, shop: Shop, qtbot: QtBot
) -> None:
    piece = made(lay_out(shop, "Heron", "2"))
    answers: list[object] = []
    asked: list[tuple[str, str]] = []
    page.answered.connect(answers.append)
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    before = shop.book.newest()
    page.scanned(code(piece, "D1"))
    assert isinstance(answers[-1], Outcome) and answers[-1].part == "D1"
    page.on_sample_clicked()
    assert asked == [("sample", "")]
    assert shop.book.newest() == before


def test_what_was_half_typed_comes_back_without_what_cannot_be_read(page: StartPage) -> None:
    page.restore_state({"rows": "2 3", "legs": "many", "pulls": "2"})
    assert (page.form.rows.text(), page.form.pulls.value()) == ("2 3", 2)
    assert page.form.legs.value() == StartPage(page.shop).form.legs.value()
