from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from partsbench.core.finish.hands import Hands
from partsbench.core.outcomes import Done, Outcome
from partsbench.core.piece.piece import Piece
from partsbench.services.acts.history import history
from partsbench.services.plan.asking import note_promise
from partsbench.services.plan.evening import tonight
from partsbench.services.shop import Shop
from partsbench.services.shown.day import day
from partsbench.ui.day.choices import CHECK
from partsbench.ui.pages.day_page import DayPage
from partsbench.ui.theme import Theme
from tests.support.clock import SetClock
from tests.support.finishing import do, two_finishes
from tests.support.shops import code, lay_out


@pytest.fixture
def heron(shop: Shop) -> Piece:
    return two_finishes(shop)


@pytest.fixture
def page(shop: Shop, heron: Piece, theme: Theme, qtbot: QtBot) -> Iterator[DayPage]:
    made = DayPage(shop)
    qtbot.addWidget(made)
    made.resize(1180, 590)
    do(shop, heron, "D1", "wash")
    made.show_piece(heron.tag)
    made.show()
    qtbot.waitExposed(made)
    yield made


def cells(page: DayPage, column: int) -> list[str]:
    return [page.model.index(row, column).data() for row in range(page.model.rowCount())]


def test_what_was_begun_is_the_sentence_and_has_a_key(page: DayPage, shop: Shop) -> None:
    assert page.sentence.text() == "Heron D1: washed but not rinsed."
    said = page.loops.findChild(QLabel, "loop-0")
    assert said is not None
    assert re.fullmatch(r".*washed but not rinsed, since \w{3} \d\d:\d\d\.", said.text())
    (button,) = page.loops.buttons()
    assert button.text() == "Rinsed"
    answers: list[object] = []
    page.answered.connect(answers.append)
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert isinstance(answers[0], Done)
    assert page.loops.buttons() == [] or not page.loops.buttons()[0].isVisible()
    assert "not rinsed" not in page.sentence.text()


def test_a_scan_shows_the_clocks_of_its_part_and_records_nothing(
    page: DayPage, heron: Piece, shop: Shop
) -> None:
    before = len(history(shop))
    answers: list[object] = []
    page.answered.connect(answers.append)
    page.scanned(code(heron, "D3"))
    page.scanned(code(heron, "D3"))
    assert len(history(shop)) == before
    assert isinstance(answers[-1], Outcome) and answers[-1].part == "D3"
    assert set(filter(None, cells(page, 3))) == {
        "D3 front", "D3 top edge", "D3 bottom edge", "D3 left edge", "D3 right edge",
    }  # fmt: skip
    assert cells(page, 2).count("ready to recoat") == 5
    QTest.keyClick(page, Qt.Key.Key_Escape)
    assert "Heron D2–D4" in cells(page, 3)


def test_hands_and_minutes_leave_out_what_does_not_fit(page: DayPage, shop: Shop) -> None:
    assert page.choices.hands is Hands.CLEAN
    everything = cells(page, 3)
    QTest.keyClick(page, Qt.Key.Key_2)
    assert page.choices.hands is Hands.DUSTY
    assert "GO" not in cells(page, 0), "nothing is to be sanded yet"
    QTest.keyClick(page, Qt.Key.Key_1)
    assert cells(page, 3) == everything
    QTest.keyClick(page, Qt.Key.Key_3, Qt.KeyboardModifier.KeypadModifier)
    assert page.choices.hands is Hands.GLOVES, "the number pad counts as well"
    QTest.keyClick(page, Qt.Key.Key_1)
    assert any("Wash" in what for what in cells(page, 2))
    page.choices.time.setValue(1)
    assert not any("Wash" in what for what in cells(page, 2))


def test_what_is_late_stands_above_what_has_time(
    page: DayPage, shop: Shop, heron: Piece, clock: SetClock
) -> None:
    """Only a window that still can be met stands higher."""
    do(shop, heron, "D4", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, heron, "D4", "sand_150", "sand_220", "condition")
    clock.pass_time(minutes=8)
    page.refresh()
    first = cells(page, 0)[0], cells(page, 3)[0]
    assert first == ("GO", "Heron D4")
    assert cells(page, 1)[0].startswith("by ")
    clock.pass_time(hours=3)
    page.refresh()
    words = cells(page, 0)
    assert (words[0], cells(page, 3)[0]) == ("LATE", "Heron D4")
    assert "GO" in words[1:]


def test_ribbon_and_table_say_the_same(page: DayPage, shop: Shop, heron: Piece) -> None:
    do(shop, heron, "D1", "rinse")
    page.refresh()
    told = page.ribbon.accessibleDescription()
    assert "Heron D1: Sand filler level, scuff all at 150: may be done from" in told
    row = cells(page, 0).index("WAIT")
    assert cells(page, 3)[row] == "Heron D1"
    assert cells(page, 1)[row].startswith("from ")
    index = page.model.index(row, 4)
    assert index.data(Qt.ItemDataRole.AccessibleTextRole).startswith("Why, and whose figure: ")


def test_the_ribbon_draws_a_wait_from_now_to_its_end(
    page: DayPage, shop: Shop, heron: Piece, clock: SetClock
) -> None:
    do(shop, heron, "D4", "wash", "rinse", at=clock.now - timedelta(days=1))
    do(shop, heron, "D4", "sand_150", "sand_220", "condition")
    page.refresh()
    start, soon = page.ribbon.x_of(clock.now), page.ribbon.x_of(clock.now + timedelta(minutes=10))
    assert start < soon < page.ribbon.x_of(clock.now + timedelta(hours=30))
    picture = page.ribbon.grab().toImage()
    colours = {picture.pixelColor(round(soon), y).name() for y in range(picture.height())}
    assert page.palette().window().color().name() in colours
    assert len(colours) > 1, "the cliff stands where the window closes"


def test_tonight_comes_from_the_plan_and_is_what_the_service_says(
    page: DayPage, shop: Shop, heron: Piece, clock: SetClock, qtbot: QtBot
) -> None:
    do(shop, heron, "D1", "rinse")
    clock.pass_time(hours=11)
    page.planner.seconds = 0.2
    page.refresh()
    qtbot.waitUntil(lambda: not page.planner.busy, timeout=20_000)
    expected = tonight(shop, seconds=0.2)
    assert expected is not None
    assert page.tonight.text() == expected.sentence
    assert page.tonight.isVisible()


def test_what_is_to_be_done_is_what_the_plan_begins_with(
    page: DayPage, shop: Shop, heron: Piece, qtbot: QtBot
) -> None:
    """By its own end Heron comes first; as Larch is promised, the plan begins with that."""
    do(shop, heron, "D1", "rinse")
    larch = lay_out(shop, "Larch", "1", paths=[("stain", ["D1"])])
    assert isinstance(larch, Piece)
    assert day(shop).tasks[0].group.tag == heron.tag
    note_promise(shop, larch.tag, shop.clock() + timedelta(days=4), worth=1000)
    page.planner.seconds = 0.2
    page.refresh()
    qtbot.waitUntil(lambda: not page.planner.busy, timeout=20_000)
    found = page.planner.last
    assert found is not None
    first = min(found.shown.best.plan.placed, key=lambda p: (p.start, p.end))
    assert page.today is not None
    task = page.today.tasks[0].group
    assert first.stint.split("|")[::2] == [task.tag, task.step.key] == [larch.tag, "wash"]
    assert page.sentence.text() == page.today.tasks[0].sentence


def test_the_filter_outlives_a_crash(page: DayPage, shop: Shop, qtbot: QtBot) -> None:
    page.choices.choose(Hands.GLOVES)
    page.choices.time.setValue(25)
    again = DayPage(shop)
    qtbot.addWidget(again)
    again.restore_state(page.saved_state())
    assert again.choices.hands is Hands.GLOVES
    assert again.choices.minutes == 25


def test_the_day_sheet_and_the_load_are_a_button_away(page: DayPage, heron: Piece) -> None:
    asked: list[tuple[str, str]] = []

    def on_page_asked(key: str, tag: str) -> None:
        asked.append((key, tag))

    page.page_asked.connect(on_page_asked)
    page.sheet.click()
    page.load.click()
    assert asked == [("day-sheet", heron.tag), ("load", heron.tag)]
    assert isinstance(page.findChild(QPushButton, "to-load"), QPushButton)


def test_the_whole_day_is_seen_on_a_small_screen(page: DayPage) -> None:
    """A screen of 1366 × 768 at 150 %, less the rail and a scroll bar."""
    assert page.minimumSizeHint().width() <= 911 - 98 - 14
    page.resize(page.minimumSizeHint().width(), 460)
    for hands, button in page.choices.buttons.items():
        words = button.fontMetrics().horizontalAdvance(button.text())
        assert button.width() >= words + 2 * CHECK, hands


@pytest.mark.parametrize("wide", [780, 1180])
def test_why_it_is_so_gets_the_most_room(page: DayPage, qtbot: QtBot, wide: int) -> None:
    page.resize(wide, 620)
    table = page.table
    qtbot.waitUntil(lambda: table.width() > wide - 60)
    widths = [table.columnWidth(c) for c in range(page.model.columnCount())]
    assert max(widths) == widths[-1] > 0.3 * table.viewport().width()
    assert sum(widths) == table.viewport().width()


def test_today_stands_first(page: DayPage, shop: Shop, heron: Piece, clock: SetClock) -> None:
    """The table is above the ribbon; in it what is held and what waits for days come last."""
    assert page.table.geometry().bottom() < page.ribbon.geometry().top()
    do(shop, heron, "D3", "wash", "rinse")
    do(shop, heron, "D4", "wash", "rinse", at=clock.now - timedelta(days=3))
    do(shop, heron, "D4", "sand_150", "sand_220")
    page.refresh()
    now = clock.now.astimezone().date()
    waits = [g for g in page.today.clocks if g.said.answer.value == "WAIT"] if page.today else []
    days = [g.said.until.astimezone().date() != now for g in waits if g.said.until]
    assert days, "something waits"
    words = cells(page, 0)
    assert words == sorted(words, key=["LATE", "GO", "WAIT", "STOP"].index)


def test_a_line_of_the_table_shows_the_clocks_of_its_part_alone(
    page: DayPage, heron: Piece
) -> None:
    one = next(n for n, line in enumerate(page.model.lines) if line.short)
    short = page.model.lines[one].short
    page.on_line_activated(page.model.index(one, 0))
    faces = set(filter(None, cells(page, 3)))
    assert faces and all(face.startswith(f"{short} ") for face in faces)
    before = page.model.lines
    page.on_line_activated(page.model.index(0, 0))
    assert page.model.lines == before, "it is of that part already"


def test_the_day_is_looked_at_anew_each_minute_while_it_is_seen(
    page: DayPage, clock: SetClock
) -> None:
    before = page.today
    clock.pass_time(hours=13)
    page.hide()
    page.on_minute_passed()
    assert page.today is before
    page.show()
    page.on_minute_passed()
    assert page.today is not None and page.today.at == clock.now


def test_seams_are_a_button_away_and_an_unknown_label_is_told(page: DayPage, heron: Piece) -> None:
    asked: list[tuple[str, str]] = []
    answers: list[object] = []
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    page.answered.connect(answers.append)
    page.on_masks_asked()
    assert asked == [("masks", heron.tag)]
    rows = page.model.rowCount()
    page.scanned("D99")
    assert isinstance(answers[-1], Outcome) and page.model.rowCount() == rows


def test_a_state_that_cannot_be_read_leaves_the_day_as_it_was(page: DayPage) -> None:
    kept = page.saved_state()
    page.restore_state({"hands": "three", "minutes": "many"})
    assert page.saved_state() == kept
