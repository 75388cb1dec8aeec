from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from partsbench.core.bench.events import Push
from partsbench.core.outcomes import Done, Outcome
from partsbench.services.acts.history import undo
from partsbench.services.acts.returning import bring_home
from partsbench.services.acts.teardown import take_out
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from partsbench.ui.pages.teardown_page import NO_BREAK, TeardownPage
from partsbench.ui.piece_view import Pattern
from partsbench.ui.theme import CAPITAL_SHARE, Theme
from tests.support.shops import code, heron, lay_out, made, quill, shop_at, tall_chest


@pytest.fixture
def page(shop: Shop, theme: Theme, qtbot: QtBot) -> TeardownPage:
    made = TeardownPage(shop)
    qtbot.addWidget(made)
    made.resize(1280, 590)
    made.show()
    qtbot.waitExposed(made)
    return made


def where(shop: Shop, tag: str, short: str) -> Where:
    piece = shop.piece(tag)
    assert piece is not None
    return piece_state(shop, piece).of(short).where


def pattern(page: TeardownPage, key: str) -> Pattern:
    tile = page.view.tile(key)
    assert tile is not None
    return tile.look.pattern


def test_the_next_to_pull_is_the_largest_thing_at_the_side(page: TeardownPage, shop: Shop) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    assert page.number.text() == "D1"
    assert page.stick.text() == "stick it on the back"
    assert "One drawer open at a time" in page.hint.text()
    counts = ("out 0 of 7", "legs 0 of 4", "others 0 of 8")
    together = [c.replace(" ", NO_BREAK) for c in counts]
    assert page.counts.text().split(", ") == together, "no count is torn apart"
    assert pattern(page, "H1") is Pattern.NEXT


@pytest.mark.parametrize("rows", ["2 2 3", "6 6 6 6 6 6 6 6 6 6"])
def test_in_a_small_window_the_number_of_the_next_is_first_and_largest(
    shop: Shop, theme: Theme, qtbot: QtBot, rows: str
) -> None:
    """640 × 360, as 1280 × 720 at 200 %, less menus, rail and the bar at the foot."""
    page = TeardownPage(shop)
    qtbot.addWidget(page)
    page.resize(518, 300)
    page.show_piece(made(lay_out(shop, "Larch", rows, legs=4)).tag)
    page.show()
    qtbot.waitExposed(page)
    top = page.number.mapTo(page, QPoint(0, 0)).y()
    assert top + page.number.height() <= page.height(), "seen without scrolling"
    assert top < page.view.mapTo(page, QPoint(0, 0)).y()
    fonts = [text.font.pixelSize() for tile in page.view.tiles() for text in tile.texts()]
    assert page.number.capitals() > 1.5 * CAPITAL_SHARE * max(fonts)
    assert page.out_button.mapTo(page, QPoint(0, 0)).y() < page.view.mapTo(page, QPoint(0, 0)).y()


def test_what_cannot_be_stuck_on_gets_its_label_on_a_tag(page: TeardownPage, shop: Shop) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    page.push(Push.CHOOSE, label="P1")
    page.refresh()
    assert page.stick.text() == "label: on a tie-on tag or in a bag"


def test_all_out_stands_on_one_line(page: TeardownPage, shop: Shop) -> None:
    piece = heron(shop)
    take_out(shop, piece.tag, [p.short for p in piece.present if p.short != "C1"])
    page.show_piece(piece.tag)
    assert page.number.lines() == ["All out"]


def test_a_scan_means_this_is_out(page: TeardownPage, shop: Shop, qtbot: QtBot) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    with qtbot.waitSignals([page.answered, page.changed]):
        page.scanned(code(piece, "D1"))
    assert where(shop, piece.tag, "D1") is Where.OUT
    assert pattern(page, "H1") is Pattern.HATCHED
    assert page.number.text() == "D2"


def test_out_of_order_is_fine(page: TeardownPage, shop: Shop) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    page.scanned(code(piece, "D6"))
    assert pattern(page, "H6") is Pattern.HATCHED
    assert page.number.text() == "D1"


def test_another_jobs_label_stops_with_a_message_over_the_whole_width(
    page: TeardownPage, shop: Shop
) -> None:
    piece, other = heron(shop), quill(shop)
    page.show_piece(piece.tag)
    page.scanned(code(other, "D4"))
    assert page.loud.isVisible()
    assert page.loud.word == "OTHER JOB"
    assert "Quill D4" in page.loud.line
    assert page.loud.width() > page.width() * 0.95
    page.scanned(code(piece, "D1"))
    assert not page.loud.isVisible()


def test_enter_after_a_home_was_stopped_at_records_nothing_yet(
    page: TeardownPage, shop: Shop, qtbot: QtBot
) -> None:
    """The part that would be recorded lies under it, so that nobody can mean it."""
    piece = heron(shop)
    page.show_piece(piece.tag)
    page.scanned(code(piece, "H3"))
    assert page.loud.isVisible()
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert page.loud.isVisible() and "nothing is recorded" in page.loud.line
    assert where(shop, piece.tag, "D1") is not Where.OUT
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert where(shop, piece.tag, "D1") is Where.OUT
    page.scanned("nothing")
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert page.loud.isVisible() and "press Esc" in page.loud.line
    assert where(shop, piece.tag, "D2") is not Where.OUT


def test_an_answer_beside_a_stop_is_not_taken_for_it(page: TeardownPage, shop: Shop) -> None:
    """The foot of the window says what the page does not: an undo while a STOP still stands."""
    told: list[object] = []
    page.answered.connect(told.append)
    page.show_piece(heron(shop).tag)
    page.scanned("nothing")
    assert page.loud.isVisible() and page.shows(told[-1])
    assert not page.shows(Done("Undone: D1 taken out."))


def test_enter_says_the_next_one_is_out(page: TeardownPage, shop: Shop, qtbot: QtBot) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert where(shop, piece.tag, "D1") is Where.OUT


def test_another_tile_is_first_shown_then_taken(
    page: TeardownPage, shop: Shop, qtbot: QtBot
) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    tile = page.view.tile("H6")
    assert tile is not None
    qtbot.mouseClick(tile, Qt.MouseButton.LeftButton)
    assert where(shop, piece.tag, "D6") is Where.IN
    assert page.number.text() == "D6"
    qtbot.keyClick(tile, Qt.Key.Key_Return)
    assert where(shop, piece.tag, "D6") is Where.OUT


def test_the_tile_at_hand_is_taken_by_one_press(
    page: TeardownPage, shop: Shop, qtbot: QtBot
) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    tile = page.view.tile("H1")
    assert tile is not None
    qtbot.keyClick(tile, Qt.Key.Key_Space)
    assert where(shop, piece.tag, "D1") is Where.OUT


def test_stays_in_is_a_key(page: TeardownPage, shop: Shop, qtbot: QtBot) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    qtbot.keyClick(page, Qt.Key.Key_S)
    assert where(shop, piece.tag, "D1") is Where.HOME
    assert pattern(page, "H1") is Pattern.DONE


def test_a_note_and_an_old_mark_are_kept_on_the_part(
    page: TeardownPage, shop: Shop, qtbot: QtBot
) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    qtbot.keyClick(page, Qt.Key.Key_N)
    page.ask.answered.emit("note", "runs tight")
    qtbot.keyClick(page, Qt.Key.Key_O)
    page.ask.answered.emit("old mark", "3")
    now = shop.piece(piece.tag)
    part = now.part("D1") if now else None
    assert part is not None
    assert (part.note, part.old_mark) == ("runs tight", "3")
    assert page.marks.text() == "old mark 3; runs tight"


def test_what_was_just_pulled_gets_the_note_and_the_place(
    page: TeardownPage, shop: Shop, qtbot: QtBot
) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    page.scanned(code(piece, "D5"))
    assert page.number.text() == "D1"
    assert page.note_button.text() == "Note on D5  (N)"
    qtbot.keyClick(page, Qt.Key.Key_N)
    page.ask.answered.emit("note", "runs tight")
    qtbot.keyClick(page, Qt.Key.Key_P)
    page.ask.answered.emit("place", "rack 2")
    now = shop.piece(piece.tag)
    assert now is not None
    assert [p.short for p in now.present if p.note] == ["D5"]
    assert piece_state(shop, now).of("D5").place == "rack 2"


def test_a_note_is_about_the_next_one_again_when_the_pulled_one_is_undone(
    page: TeardownPage, shop: Shop
) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    page.scanned(code(piece, "D5"))
    undo(shop)
    page.refresh()
    assert page.subject_at_hand == "D1"


def test_put_at_a_place_asks_until_it_gets_one(
    page: TeardownPage, shop: Shop, qtbot: QtBot
) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    qtbot.keyClick(page, Qt.Key.Key_P)
    page.ask.answered.emit("place", "")
    assert page.ask.kind == "place"
    page.ask.answered.emit("place", "rack 2")
    assert page.ask.kind == ""
    tile = page.view.tile("H1")
    assert tile is not None and tile.look.words == "rack 2"


def test_hidden_drawers_show_once_their_door_is_out(
    page: TeardownPage, shop: Shop, tmp_path: Path
) -> None:
    piece = tall_chest(shop, tmp_path)
    page.show_piece(piece.tag)
    assert not page.view.show_hidden
    for short in ("D1", "D2", "D3", "G1"):
        page.scanned(short)
    assert page.view.show_hidden
    assert page.number.text() == "D4"


def test_the_rest_may_stay_on_in_one_go_and_the_bench_is_next(
    page: TeardownPage, shop: Shop, qtbot: QtBot
) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    assert not page.rest_button.isVisible()
    for short in [f"D{n}" for n in range(1, 8)] + [f"L{n}" for n in range(1, 5)]:
        page.scanned(short)
    assert page.rest_button.isVisible()
    qtbot.keyClick(page, Qt.Key.Key_A)
    assert page.number.text() == "All out"
    with qtbot.waitSignal(page.page_asked) as asked:
        qtbot.keyClick(page, Qt.Key.Key_Return)
    assert asked.args == ["bench", piece.tag]


def test_a_piece_that_is_together_again_says_so(page: TeardownPage, shop: Shop) -> None:
    piece = heron(shop)
    parts = [p.short for p in piece.present if p.short != "C1"]
    take_out(shop, piece.tag, parts)
    page.show_piece(piece.tag)
    assert page.number.text() == "All out"
    for short in parts[:-1]:
        bring_home(shop, piece.tag, short)
    page.refresh()
    assert page.number.text() == "All out"
    bring_home(shop, piece.tag, parts[-1])
    page.refresh()
    assert page.number.text() == "All home"
    assert page.where.text() == "Every part is home again or stays in."


def test_undo_and_another_window_show_at_the_next_refresh(
    page: TeardownPage, shop: Shop, tmp_path: Path
) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    second = shop_at(tmp_path / "b.partsbench")
    page.scanned("D1")
    second.who = shop.who
    undo(second)
    page.refresh()
    assert page.number.text() == "D1"
    second.close()


def test_without_a_piece_nothing_can_be_pressed(page: TeardownPage) -> None:
    page.show_piece("")
    page.scanned("D1")
    assert not page.buttons.isEnabled()
    assert "No piece" in page.title.text()


def test_a_half_made_note_comes_back(page: TeardownPage, shop: Shop, qtbot: QtBot) -> None:
    piece = heron(shop)
    page.show_piece(piece.tag)
    qtbot.keyClick(page, Qt.Key.Key_N)
    page.ask.put_text("runs ti")
    state = page.saved_state()
    again = TeardownPage(shop)
    qtbot.addWidget(again)
    again.show_piece(piece.tag)
    again.restore_state(state)
    assert (again.ask.kind, again.ask.text, again.questions.subject) == ("note", "runs ti", "D1")


def test_every_button_has_a_name_and_its_key(page: TeardownPage, shop: Shop) -> None:
    page.show_piece(heron(shop).tag)
    for button in (page.out_button, page.stays_button, page.note_button, page.place_button):
        assert button.accessibleName()
        assert button.text().endswith(")")


def test_answers_are_passed_on_as_they_are(page: TeardownPage, shop: Shop) -> None:
    heard: list[object] = []
    page.answered.connect(heard.append)
    piece = heron(shop)
    page.show_piece(piece.tag)
    page.scanned("D1")
    page.about.ask_note("D1")
    page.ask.answered.emit("note", "broken")
    assert isinstance(heard[0], Outcome) and heard[0].recorded
    assert heard[1] == Done("D1: broken.", piece.tag)
