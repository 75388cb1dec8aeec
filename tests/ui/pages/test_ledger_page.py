"""The Ledger with a real book: the offer's answer changes as it is typed."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Done, Outcome, Refused
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.shop import Shop
from partsbench.services.sums import hours, money
from partsbench.services.sums.habits import habits, set_habit
from partsbench.ui import asking
from partsbench.ui.dialogs.paper_dialogs import CareDialog
from partsbench.ui.main_window import MainWindow
from partsbench.ui.pages.ledger_page import NO_PIECE, LedgerPage
from partsbench.ui.theme import Theme
from tests.support.at_bench import record
from tests.support.clock import SetClock
from tests.support.paper import text_of
from tests.support.shops import lay_out


@pytest.fixture
def piece(shop: Shop, clock: SetClock) -> Piece:
    """14.5 h of work, 217 of costs."""
    made = lay_out(shop, "Heron", "2 1", paths=[("paint", ["drawers"])])
    assert isinstance(made, Piece)
    hours.begin_work(shop, made.tag, "all of it")
    clock.pass_time(hours=14.5)
    hours.end_work(shop, made.tag)
    money.note_money(shop, made.tag, "bought", "217")
    set_habit(shop, "rate", "25")
    return made


@pytest.fixture
def page(qtbot: QtBot, shop: Shop, theme: Theme, piece: Piece) -> LedgerPage:
    made = LedgerPage(shop)
    qtbot.addWidget(made)
    made.resize(1180, 620)
    made.show_piece(piece.tag)
    made.show()
    return made


def test_the_answer_changes_as_an_offer_is_typed(page: LedgerPage, shop: Shop) -> None:
    before = history(shop)
    assert page.sentence.text() == "You have 14.5 h in it. Lowest for 25 an hour: 580."
    seen = []
    for letter in "640":
        QTest.keyClicks(page.offer, letter)
        seen.append(page.sentence.text())
    assert seen[0] == "You have 14.5 h in it; at 6 you lose 211."
    assert seen[2] == "You have 14.5 h in it; at 640 you earn 29 an hour."
    assert history(shop) == before


def test_nonsense_as_an_offer_is_told(page: LedgerPage) -> None:
    page.offer.setText("much")
    assert "cannot be read" in page.sentence.text()
    page.offer.clear()
    assert "Lowest for 25" in page.sentence.text()


def test_an_offer_is_noted_by_enter(page: LedgerPage, shop: Shop, qtbot: QtBot) -> None:
    page.offer.setText("640")
    with qtbot.waitSignal(page.changed):
        QTest.keyClick(page.offer, Qt.Key.Key_Return)
    assert page.offer.text() == ""
    assert page.sentence.text() == "You have 14.5 h in it; at 640 you earn 29 an hour."


def test_the_clock_is_started_and_stopped(
    page: LedgerPage, shop: Shop, clock: SetClock, piece: Piece
) -> None:
    page.step.setText("sanding")
    page.clock.click()
    assert page.clock.text() == "Stop the clock"
    clock.pass_time(minutes=30)
    page.clock.click()
    assert page.clock.text() == "Start the clock"
    found = hours.hours_in(shop, piece.tag)
    assert not isinstance(found, Refused) and found.by_step["sanding"] == pytest.approx(0.5)
    assert page.sentence.text().startswith("You have 15.0 h in it")


def test_money_and_terms_are_noted(page: LedgerPage, shop: Shop) -> None:
    forms = {form.entry.title: form for form in page.forms}
    forms["Money"].fields.fill({"what": "delivery", "amount": "38", "note": "van"})
    forms["Money"].button.click()
    assert ("cost", "delivery", "38.00") in page.figures.model._rows
    forms["Your terms"].fields.fill({"rate": "30"})
    forms["Your terms"].button.click()
    assert habits(shop).typed["rate"] == "30"
    assert page.floor.text() == "Lowest for 30 an hour: 690."


def test_hours_are_put_right(page: LedgerPage) -> None:
    (form,) = [f for f in page.forms if f.entry.title == "Hours put right"]
    form.fields.fill({"step": "all of it", "minutes": "600", "day": "2031-03-04"})
    form.button.click()
    assert page.sentence.text().startswith("You have 10.0 h in it")


def test_a_clock_left_running_is_told_and_put_right(
    page: LedgerPage, shop: Shop, clock: SetClock, piece: Piece
) -> None:
    page.step.setText("sanding")
    page.clock.click()
    clock.pass_time(hours=30)
    page.refresh()
    assert page.sentence.text().startswith("sanding: runs longer than 16 h")
    (form,) = [f for f in page.forms if f.entry.title == "Hours put right"]
    form.fields.fill({"step": "sanding", "minutes": "60"})
    form.button.click()
    assert page.sentence.text().startswith("You have 15.5 h in it")


def test_after_the_sale_the_page_speaks_of_the_sale(page: LedgerPage, shop: Shop) -> None:
    """An offer that was typed before it is not answered any more, nor is one that was noted."""
    page.offer.setText("700")
    forms = {form.entry.title: form for form in page.forms}
    forms["Money"].fields.fill({"what": "sold", "amount": "640", "note": ""})
    forms["Money"].button.click()
    sale = "Sold at 640: you kept 423, 29.2 an hour over 14.5 h."
    assert page.sentence.text() == sale
    assert not page.floor.isVisible()
    assert not page.offer.isEnabled() and not page.keep_offer.isEnabled()
    page.restore_state({"offer": "800"})
    assert page.sentence.text() == sale
    assert money.note_money(shop, page.tag, "sold", "") is not None
    page.refresh()
    assert page.offer.isEnabled()
    assert page.sentence.text().startswith("You have 14.5 h in it; at 800")


def test_estimated_hours_are_told_beside_an_offer(
    page: LedgerPage, shop: Shop, clock: SetClock
) -> None:
    clock.pass_time(hours=5)
    assert record(shop, "D1", here=page.tag).recorded
    page.refresh()
    assert page.sentence.text().startswith("You have 14.6 h in it, 0.1 of it estimated.")
    page.offer.setText("640")
    assert page.sentence.text() == (
        "You have 14.6 h in it, 0.1 of it estimated; at 640 you earn 29 an hour."
    )
    assert page.floor.text() == "Lowest for 25 an hour: 583, over 14.6 h, 0.1 of it estimated."
    assert ("hours", "Wash", "0.1 h, estimated") in page.figures.model._rows


def test_table_and_sheet_are_written(
    page: LedgerPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    file = tmp_path / "out"
    monkeypatch.setattr(asking, "ask_new_file", lambda *_: file)
    with qtbot.waitSignal(page.answered) as told:
        page.invoice.click()
    assert isinstance(told.args[0], Done)
    assert "all of it" in file.read_text(encoding="utf-8-sig")
    page.care_sheet.click()
    over = QApplication.activeModalWidget()
    assert isinstance(over, CareDialog)
    qtbot.waitUntil(over.save.isEnabled, timeout=20_000)
    over.save_to(file)
    over.close()
    assert "What to do, and what not" in text_of(file.read_bytes())
    monkeypatch.setattr(asking, "ask_new_file", lambda *_: tmp_path / "no" / "folder")
    with qtbot.waitSignal(page.answered) as told:
        page.invoice.click()
    assert isinstance(told.args[0], Refused)


def test_without_a_piece_nothing_is_noted(qtbot: QtBot, shop: Shop, theme: Theme) -> None:
    made = LedgerPage(shop)
    qtbot.addWidget(made)
    made.show_piece("")
    made.show()
    assert made.nothing.isVisible()
    assert not made.clock.isVisible()
    with qtbot.waitSignal(made.answered) as told:
        made.clock.click()
    assert isinstance(told.args[0], Refused)
    assert history(shop) == []


def test_a_scan_tells_the_last_coat(page: LedgerPage, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.answered) as told:
        page.scanned("D1")
    assert told.args[0] == "D1 has no coat on it yet."


def test_a_half_typed_offer_comes_back(page: LedgerPage, shop: Shop, qtbot: QtBot) -> None:
    page.offer.setText("64")
    again = LedgerPage(shop)
    qtbot.addWidget(again)
    again.restore_state(page.saved_state())
    assert again.offer.text() == "64"


@pytest.mark.parametrize("theme", ["light", "dark"], indirect=True)
def test_it_stands_in_the_window(window: MainWindow, piece: Piece, theme: Theme) -> None:
    window.show_page("ledger", piece.tag)
    assert isinstance(window.page(), LedgerPage)
    assert not window.grab().isNull()


def test_a_scan_that_is_no_label_is_told_as_such(page: LedgerPage, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.answered) as told:
        page.scanned("D99")
    assert isinstance(told.args[0], Outcome) and not told.args[0].recorded


def test_what_cannot_be_noted_stays_typed_and_changes_nothing(
    page: LedgerPage, shop: Shop, qtbot: QtBot
) -> None:
    answers: list[object] = []
    page.answered.connect(answers.append)
    before = history(shop)
    page.on_offer_kept()
    assert answers == [Refused("Type the offer first.")]
    page.offer.setText("much")
    QTest.keyClick(page.offer, Qt.Key.Key_Return)
    (money_form,) = [f for f in page.forms if f.entry.title == "Money"]
    money_form.fields.fill({"what": "delivery", "amount": "a lot", "note": "van"})
    money_form.button.click()
    assert len(answers) == 3 and all(isinstance(a, Refused) for a in answers)
    assert page.offer.text() == "much"
    assert money_form.fields.values()["amount"] == "a lot"
    assert history(shop) == before


def test_a_table_that_is_thought_better_of_is_not_written(
    page: LedgerPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers: list[object] = []
    page.answered.connect(answers.append)
    monkeypatch.setattr(asking, "ask_new_file", lambda *_: None)
    page.invoice.click()
    assert answers == []


def test_without_a_piece_neither_sheet_nor_table_nor_money_is_made(
    qtbot: QtBot, shop: Shop, theme: Theme
) -> None:
    made = LedgerPage(shop)
    qtbot.addWidget(made)
    made.show_piece("")
    answers: list[object] = []
    made.answered.connect(answers.append)
    made.invoice.click()
    made.care_sheet.click()
    (form,) = [f for f in made.forms if f.entry.title == "Money"]
    form.fields.fill({"what": "delivery", "amount": "38", "note": ""})
    form.button.click()
    assert answers == [NO_PIECE] * 3
    assert QApplication.activeModalWidget() is None and history(shop) == []
