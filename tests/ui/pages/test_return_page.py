from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from partsbench.core.outcomes import Answer, Done, Outcome, Tone
from partsbench.services.acts.history import history, undo
from partsbench.services.acts.returning import bring_home, missing
from partsbench.services.acts.teardown import take_out
from partsbench.services.known.state import Where, piece_state
from partsbench.services.shop import Shop
from partsbench.services.shown.proof import was_handed_out
from partsbench.ui.dialogs.print_dialog import PrintDialog
from partsbench.ui.pages.return_page import ReturnPage
from partsbench.ui.piece_view import Pattern
from partsbench.ui.theme import Theme
from tests.support.at_bench import insist
from tests.support.clock import SetClock
from tests.support.shops import code, heron, lay_out, made, quill, tall_chest

DRAWERS = [f"D{n}" for n in range(1, 8)]


@pytest.fixture
def page(shop: Shop, theme: Theme, qtbot: QtBot) -> ReturnPage:
    made = ReturnPage(shop)
    qtbot.addWidget(made)
    made.resize(1280, 590)
    made.show()
    qtbot.waitExposed(made)
    piece = heron(shop)
    take_out(shop, piece.tag, DRAWERS)
    made.show_piece(piece.tag)
    return made


@pytest.fixture
def heard(page: ReturnPage) -> list[object]:
    answers: list[object] = []
    page.answered.connect(answers.append)
    return answers


def where(page: ReturnPage, short: str) -> Where:
    piece = page.work.piece()
    assert piece is not None
    return piece_state(page.shop, piece).of(short).where


def pattern(page: ReturnPage, key: str) -> Pattern:
    tile = page.board.view.tile(key)
    assert tile is not None
    return tile.look.pattern


def label(page: ReturnPage, short: str) -> str:
    piece = page.work.piece()
    assert piece is not None
    return code(piece, short)


def test_the_empty_front_says_how_many_are_to_come(page: ReturnPage) -> None:
    assert page.board.number.text() == "7 to come"
    assert pattern(page, "H1") is Pattern.EMPTY
    assert "4 of 11 homes filled" in page.board.title.text()


def test_home_then_its_drawer_is_right_and_quiet(page: ReturnPage, heard: list[object]) -> None:
    page.scanned(label(page, "H2"))
    assert pattern(page, "H2") is Pattern.NEXT
    page.scanned(label(page, "D2"))
    assert where(page, "D2") is Where.HOME
    assert pattern(page, "H2") is Pattern.DONE
    last = heard[-1]
    assert isinstance(last, Outcome) and last.tone is Tone.QUIET


def test_drawer_then_home_is_as_good(page: ReturnPage) -> None:
    page.scanned("D2")
    page.scanned("H2")
    assert where(page, "D2") is Where.HOME


def test_a_wrong_one_shows_both_homes_with_an_arrow(page: ReturnPage) -> None:
    page.scanned("H1")
    page.scanned("D2")
    assert page.board.sentence.text() == "D2 lives in H2, row 1, right. H1 wants D1."
    assert (page.board.number.text(), page.board.shout.word) == ("D2", "NOT HERE")
    assert pattern(page, "H1") is Pattern.WRONG
    assert pattern(page, "H2") is Pattern.EMPTY
    assert "D2 sits in H1, lives in H2" in page.board.tray.text()


def test_a_drawer_alone_lights_its_home_and_records_nothing(page: ReturnPage) -> None:
    before = len(history(page.shop))
    page.scanned("D4")
    assert pattern(page, "H4") is Pattern.NEXT
    assert page.board.sentence.text() == "lives in H4, row 2, right"
    assert len(history(page.shop)) == before


@pytest.mark.parametrize("how", ["scan", "enter", "button"])
def test_the_second_scan_or_a_press_records_it(page: ReturnPage, qtbot: QtBot, how: str) -> None:
    page.scanned("D4")
    if how == "scan":
        page.scanned("D4")
    elif how == "enter":
        qtbot.keyClick(page, Qt.Key.Key_Return)
    else:
        qtbot.mouseClick(page.board.home_button, Qt.MouseButton.LeftButton)
    assert where(page, "D4") is Where.HOME


def test_another_drawer_in_between_lights_its_own_home(page: ReturnPage) -> None:
    page.scanned("D4")
    page.scanned("D5")
    page.scanned("D4")
    assert where(page, "D4") is where(page, "D5") is Where.OUT


def test_a_namesake_of_another_job_is_refused_with_its_home(page: ReturnPage, shop: Shop) -> None:
    other = quill(shop)
    page.scanned("H4")
    page.scanned(code(other, "D4"))
    assert page.loud.isVisible()
    assert page.loud.word == "OTHER JOB"
    assert "row 2, right" in page.loud.line
    assert where(page, "D4") is Where.OUT
    page.scanned("D4")
    assert where(page, "D4") is Where.OUT, "the stranger took what waited out of the hand"
    page.scanned("D4")
    assert where(page, "D4") is Where.HOME


def test_what_comes_home_before_its_finish_is_done_is_told(page: ReturnPage, shop: Shop) -> None:
    page.scanned("H1")
    page.scanned("D1")
    assert (page.board.number.text(), page.board.shout.word) == ("D1", "HOME")
    assert page.board.sentence.text().endswith("Not finished: Wash comes next.")


def test_all_home_says_what_is_not_finished(
    shop: Shop, theme: Theme, qtbot: QtBot, clock: SetClock
) -> None:
    piece = made(lay_out(shop, "Larch", "1 1", paths=[("paint", ["D1"])]))
    page = ReturnPage(shop)
    qtbot.addWidget(page)
    take_out(shop, piece.tag, ["D1", "D2"])
    page.show_piece(piece.tag)
    for short in ("D1", "D2"):
        bring_home(shop, piece.tag, short)
    page.refresh()
    board = page.board
    assert board.number.text() == "All home"
    assert board.sentence.text() == "Every part is in its own home. Not finished: D1: Wash."
    while insist(shop, "D1", here=piece.tag).step:
        clock.pass_time(days=2)
    page.refresh()
    assert board.sentence.text() == "Every part is in its own home."


def test_a_fit_is_asked_for_after_a_drawer_and_may_be_left(page: ReturnPage, qtbot: QtBot) -> None:
    page.scanned("H1")
    page.scanned("D1")
    assert page.board.fit_title.text() == "How does D1 run?"
    qtbot.keyClick(page, Qt.Key.Key_3)
    tile = page.board.view.tile("H1")
    assert tile is not None and tile.look.words == "needs wax"
    assert "D1 needs wax" in page.board.tray.text()
    page.scanned("H2")
    page.scanned("D2")
    page.scanned("H3")
    assert not page.board.fit_title.isVisible()


def test_a_fit_key_without_a_question_does_nothing(page: ReturnPage, qtbot: QtBot) -> None:
    before = len(history(page.shop))
    qtbot.keyClick(page, Qt.Key.Key_1)
    assert len(history(page.shop)) == before


def test_swapped_drawers_get_the_fewest_moves(page: ReturnPage) -> None:
    for home, part in (("H1", "D2"), ("H2", "D3"), ("H3", "D1")):
        page.scanned(home)
        page.scanned(part)
    assert page.board.moves.isVisible()
    lines = page.board.moves.text().splitlines()
    assert len(lines) == 4
    assert lines[0].endswith("to the bench")
    page.on_escape_pressed()
    assert page.board.sentence.text() == f"Next move: {lines[0].removeprefix('1  ')}"


def test_following_the_list_ends_it(page: ReturnPage) -> None:
    for home, part in (("H1", "D2"), ("H2", "D1"), ("H2", "D2"), ("H1", "D1")):
        page.scanned(home)
        page.scanned(part)
    assert not page.board.moves.isVisible()
    assert pattern(page, "H1") is pattern(page, "H2") is Pattern.DONE


def test_pulls_keys_and_bags_are_listed_by_name(page: ReturnPage, shop: Shop) -> None:
    take_out(shop, page.tag, ["P3", "T1"])
    page.refresh()
    assert page.board.tray.text().splitlines() == ["Not yet back:  pull P3; top T1"]


def test_a_drawer_then_its_pull_brings_it_onto_the_drawer(page: ReturnPage, shop: Shop) -> None:
    take_out(shop, page.tag, ["P3"])
    page.scanned(label(page, "D3"))
    page.scanned(label(page, "P3"))
    assert where(page, "P3") is Where.HOME
    assert where(page, "D3") is Where.OUT
    assert (page.hand.host, page.lit) == (label(page, "D3"), "")


def test_a_pull_may_follow_its_drawer_that_was_just_brought_home(
    page: ReturnPage, shop: Shop
) -> None:
    take_out(shop, page.tag, ["P3"])
    for short in ("H3", "D3", "P3"):
        page.scanned(label(page, short))
    assert where(page, "D3") is where(page, "P3") is Where.HOME


@pytest.mark.parametrize("scans", [("T1", "C1"), ("C1", "T1")])
def test_the_top_and_the_carcase_bring_the_top_home(
    page: ReturnPage, shop: Shop, scans: tuple[str, str]
) -> None:
    take_out(shop, page.tag, ["T1"])
    for short in scans:
        page.scanned(label(page, short))
    assert where(page, "T1") is Where.HOME


def test_the_carcase_stays_where_it_stands(page: ReturnPage) -> None:
    page.scanned(label(page, "C1"))
    assert page.board.sentence.text() == "stays where it stands"
    assert isinstance(page.last, Outcome)
    assert page.last.sentence == "C1 stays where it stands."


@pytest.mark.parametrize("scans", [("D7", "P3"), ("P3", "D7"), ("H7", "D7", "P3")])
def test_a_pull_with_another_drawer_is_refused_in_a_large_word(
    page: ReturnPage, shop: Shop, scans: tuple[str, ...], qtbot: QtBot
) -> None:
    take_out(shop, page.tag, ["P3"])
    for short in scans:
        page.scanned(label(page, short))
    assert (page.loud.isVisible(), page.loud.word) == (True, "STOP")
    assert page.loud.line == "P3 does not belong on D7; it lives on D3, middle."
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert page.loud.isVisible(), "Enter says nothing new of it"
    assert where(page, "P3") is Where.OUT
    page.scanned(label(page, "P3"))
    assert (page.loud.isVisible(), page.lit) == (False, "P3")
    assert where(page, "P3") is Where.OUT


def test_enter_leaves_the_answer_to_the_last_scan_and_the_moves(
    page: ReturnPage, qtbot: QtBot, heard: list[object]
) -> None:
    for short in ("H1", "D2", "H2", "D1"):
        page.scanned(label(page, short))
    said, moves = page.board.sentence.text(), page.board.moves.text()
    assert (page.board.shout.word, len(moves.splitlines())) == ("NOT HERE", 3)
    qtbot.keyClick(page, Qt.Key.Key_Return)
    last = heard[-1]
    assert isinstance(last, Outcome) and last.sentence == "Scan a part first."
    assert not page.shows(last), "it is told at the foot"
    page.refresh()
    assert not page.loud.isVisible()
    assert (page.board.sentence.text(), page.board.moves.text()) == (said, moves)
    assert page.board.shout.word == "NOT HERE"


def test_a_pull_is_brought_onto_its_drawer(page: ReturnPage, shop: Shop) -> None:
    take_out(shop, page.tag, ["P3"])
    page.scanned("P3")
    page.scanned("D3")
    assert where(page, "P3") is Where.HOME
    assert where(page, "D3") is Where.OUT


def test_elimination_says_what_it_does_and_marks_it(page: ReturnPage, qtbot: QtBot) -> None:
    assert "could go nowhere else" in page.board.elimination_button.toolTip()
    for number in range(2, 8):
        page.scanned(f"H{number}")
        page.scanned(f"D{number}")
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    qtbot.keyClick(page, Qt.Key.Key_E)
    tile = page.board.view.tile("H1")
    assert tile is not None and tile.look.words == "by elimination"
    assert page.complete()


def test_what_the_board_has_no_words_for_is_told_at_the_foot(
    page: ReturnPage, qtbot: QtBot
) -> None:
    at_foot: list[tuple[str, bool]] = []
    page.answered.connect(lambda a: at_foot.append((a.sentence, not page.shows(a))))
    for number in range(1, 7):
        page.scanned(label(page, f"H{number}"))
        page.scanned(label(page, f"D{number}"))
    assert at_foot[-1][1] is False
    qtbot.keyClick(page, Qt.Key.Key_2)
    assert at_foot[-1] == ("D6 tight.", True)
    qtbot.keyClick(page, Qt.Key.Key_E)
    assert at_foot[-1] == ("D7 home by elimination.", True)


def test_equal_legs_go_to_any_corner(shop: Shop, page: ReturnPage, qtbot: QtBot) -> None:
    piece = heron(shop, equal_legs=True)
    take_out(shop, piece.tag, ["L1", "L2", "L3", "L4"])
    page.show_piece(piece.tag)
    for home, leg in (("H9", "L1"), ("H8", "L2"), ("H11", "L3"), ("H10", "L4")):
        page.scanned(home)
        page.scanned(leg)
    assert page.complete()
    tile = page.board.view.tile("H9")
    assert tile is not None and tile.look.number == "L1"


def test_at_zero_missing_the_proof_sheet_is_the_biggest_thing(
    page: ReturnPage, qtbot: QtBot, heard: list[object], tmp_path: Path
) -> None:
    assert not page.board.proof_button.isVisible()
    for short in DRAWERS:
        page.scanned(short)
        page.scanned(short)
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert page.board.number.text() == "All home"
    assert page.board.proof_button.height() > 100
    qtbot.keyClick(page, Qt.Key.Key_Return)
    over = QApplication.activeModalWidget()
    assert isinstance(over, PrintDialog)
    assert over.pane().key == "proof"
    qtbot.waitUntil(over.save.isEnabled, timeout=20_000)
    over.save_to(tmp_path / "proof.pdf")
    assert (tmp_path / "proof.pdf").read_bytes().startswith(b"%PDF")
    piece = page.work.piece()
    assert piece is not None and was_handed_out(page.shop, piece)
    assert heard[-1] == Done("Saved as proof.pdf.", page.tag)
    over.close()
    assert page.board.number.text() == "All home"


def test_thinking_better_of_the_proof_notes_nothing(page: ReturnPage, heard: list[object]) -> None:
    page.on_proof_pressed()
    over = QApplication.activeModalWidget()
    assert isinstance(over, PrintDialog)
    over.close()
    piece = page.work.piece()
    assert piece is not None and not was_handed_out(page.shop, piece)
    assert not [a for a in heard if isinstance(a, Done)]


def test_a_press_on_a_home_is_as_good_as_its_label(page: ReturnPage) -> None:
    page.board.view.pressed.emit("H2")
    page.scanned("D2")
    assert where(page, "D2") is Where.HOME


def test_what_a_door_hides_is_shown_until_it_is_back(
    page: ReturnPage, shop: Shop, tmp_path: Path
) -> None:
    piece = tall_chest(shop, tmp_path)
    take_out(shop, piece.tag, ["G1", "D4", "D5"])
    page.show_piece(piece.tag)
    assert page.board.view.show_hidden
    for short in ("D4", "D5", "G1", "D1", "D2", "D3"):
        page.scanned(short)
        page.scanned(short)
    assert not page.board.view.show_hidden
    assert not missing(piece_state(shop, piece))


def test_undo_takes_the_answer_away(page: ReturnPage, shop: Shop) -> None:
    page.scanned("D1")
    page.scanned("D1")
    undo(shop)
    page.refresh()
    assert page.board.number.text() == "7 to come"
    assert not page.board.fit_title.isVisible()


def test_a_home_that_was_waiting_comes_back_after_a_crash(
    page: ReturnPage, shop: Shop, qtbot: QtBot
) -> None:
    page.scanned("H2")
    again = ReturnPage(shop)
    qtbot.addWidget(again)
    again.show_piece(page.tag)
    again.restore_state(page.saved_state())
    again.scanned("D2")
    assert where(again, "D2") is Where.HOME


def test_nothing_said_about_a_light_is_recorded(page: ReturnPage, heard: list[object]) -> None:
    page.scanned("H2")
    page.scanned(label(page, "H3"))
    said = [a for a in heard if isinstance(a, Outcome)]
    assert [a.answer for a in said] == [Answer.GO, Answer.GO]
    assert not any(a.recorded for a in said)
    assert page.waiting == 3


def test_after_a_crash_the_part_in_hand_is_shown_again_and_is_not_home(
    page: ReturnPage, shop: Shop, qtbot: QtBot
) -> None:
    page.scanned(label(page, "D3"))
    again = ReturnPage(shop)
    qtbot.addWidget(again)
    again.show_piece(page.tag)
    again.restore_state(page.saved_state())
    assert again.lit == "D3" and where(again, "D3") is Where.OUT


def test_a_label_of_another_job_takes_the_page_there_on_enter(
    page: ReturnPage, shop: Shop, qtbot: QtBot
) -> None:
    other = quill(shop)
    asked: list[tuple[str, str]] = []
    page.page_asked.connect(lambda key, tag: asked.append((key, tag)))
    page.scanned(code(other, "D1"))
    assert asked == []
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert asked == [("return", other.tag)]


def test_the_carcase_is_no_home_and_without_a_piece_nothing_is_printed(
    page: ReturnPage, shop: Shop, qtbot: QtBot, heard: list[object]
) -> None:
    before = shop.book.newest()
    page.on_tile_pressed("C1")
    page.on_tile_pressed("")
    assert heard == [] and page.waiting == 0
    page.show_piece("")
    page.scanned("D1")
    page.on_proof_pressed()
    assert heard == [] and page.findChild(PrintDialog) is None
    assert shop.book.newest() == before
